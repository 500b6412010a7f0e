"""A window on the desk: the saw with the stock going over it, to be turned, fed and played."""

from __future__ import annotations

import math
import signal
from collections.abc import Callable
from functools import partial

import pyvista as pv
from pyvista.plotting.render_window_interactor import RenderWindowInteractor
from vtkmodules.vtkCommonCore import vtkCommand
from vtkmodules.vtkInteractionWidgets import vtkSliderWidget
from vtkmodules.vtkRenderingCore import vtkRenderWindow

from sweep.cut.stages import travel_range
from sweep.show.draw.colours import ALARM, ARROW, FAINT, STEEL, TIP, cut_colours, made_colours
from sweep.show.say.cautions import SENTENCE
from sweep.show.say.flags import in_a_line
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.solids import saw as machine_model
from sweep.show.solids.moments import PITCH_A_FRAME
from sweep.show.solids.views import viewpoints
from sweep.show.vtk import canvas
from sweep.show.vtk.over_the_saw import Saw
from sweep.show.window.flat_parts import add_row, drawn, row_of_passes, word
from sweep.show.window.setups_shown import SetupShown, setups_of

SIZE = (1280, 800)
"""Pixels, across and down, at first."""

_HEAD, _FOOT = 96, 116
"""Pixels: heights of the words above the saw and of the sliders below it."""

_LEFT, _FACTS, _FEED_END, _PASS_START, _RIGHT = 0.02, 0.24, 0.60, 0.66, 0.98
"""Shares of the width: both rims and the columns between them."""

_FACTS_BESIDE_NAME = 0.53
"""The column of the facts where a set-up's name stands before the pass."""

_MOST_FLAGS = 7
"""So many fit in a line of a window 900 pixels wide."""

_TICK, _TICKS_A_PASS = 40, 150
"""ms from picture to picture while it plays, and how many of them a pass takes."""

_CHORD = 0.01
"""mm, of the drawn rim: a section is seen from near by."""

_SLAB = 12.0
"""mm. Least that is left of the stock where it is sawn through."""


class DeskWindow:
    """The window, its two sliders and its keys.

    Parameters
    ----------
    report : Report or SetupsReport
        Of several set-ups the passes are counted on through all of them.
    size : (int, int), pixels
    off_screen : bool
        Whether it is drawn without being seen.
    """

    def __init__(self, report: Report | SetupsReport, size: tuple[int, int] = SIZE, off_screen: bool = False) -> None:
        self._title = title_of(report.scene)
        self._setups = setups_of(report)
        counts = [len(setup.report.job.passes) for setup in self._setups]
        self._count = sum(counts)
        self._colours = cut_colours(self._count) if len(counts) == 1 else made_colours(counts)
        self.number, self.share, self.playing, self._ticks = 1, 0.5, False, 0
        self._key = "1"
        self.plotter = pv.Plotter(
            shape=(3, 1), off_screen=off_screen, window_size=list(size), lighting="none", border=False
        )
        self.plotter.enable_anti_aliasing("msaa", multi_samples=4)
        self._head, self.view, self._foot = self.plotter.renderers
        for renderer in self.plotter.renderers:
            canvas.prepare(renderer)
        self._set_up()
        self._add_words()
        self._row = add_row(self._foot)
        self._add_sliders()
        self._listen()
        self._lay_out()
        self.show()

    def _set_up(self) -> None:
        """Put the saw of the set-up of the pass under way in the place of the one before."""
        self._setup = self._setup_of(self.number)
        self.view.RemoveAllViewProps()
        scene = self._setup.report.scene
        window = machine_model.window_of(scene)
        places = [place for place in viewpoints(scene, window) if not place.on_bench]
        self._viewpoints = {str(key): place for key, place in enumerate(places, start=1)}
        table, fence = machine_model.whole_table(scene), machine_model.whole_fence(scene)
        self.saw = Saw(self.view, scene, window, table, fence, self._colours, _CHORD)

    def _setup_of(self, number: int) -> SetupShown:
        """Return the set-up of a pass that is counted on through all of them."""
        return next(setup for setup in reversed(self._setups) if setup.before < number)

    @property
    def _own(self) -> int:
        """The number of the pass within its set-up."""
        return self.number - self._setup.before

    @property
    def travel(self) -> float:
        """How far the pass has gone, mm."""
        start, end = travel_range(self._setup.report.scene, self._own)
        return start + self.share * (end - start)

    def open(self) -> None:
        """Show the window until it is closed, there or with Ctrl+C where it was called from."""
        hands = self._hands
        hands.create_timer(_TICK)
        before = signal.signal(signal.SIGINT, lambda *_: hands.terminate_app())
        try:
            self.plotter.show(title=f"sweep: {self._title}")
        finally:
            signal.signal(signal.SIGINT, before)

    @property
    def _hands(self) -> RenderWindowInteractor:
        """What hears keys, mouse and clock."""
        hands = self.plotter.iren
        assert hands is not None  # until the window is closed
        return hands

    @property
    def _frame(self) -> vtkRenderWindow:
        """The window on the screen."""
        frame: vtkRenderWindow | None = self.plotter.render_window
        assert frame is not None  # until it is closed
        return frame

    def close(self) -> None:
        """Let the window go."""
        self.plotter.close()

    def feed_to(self, share: float) -> None:
        """Move the stock to some share of the pass, 0 to 1."""
        self.share = share
        self.show()

    def go_to_pass(self, number: float) -> None:
        """Show another pass, gone as far as this one."""
        self.number = round(number)
        self.show()

    def look_from(self, key: str) -> None:
        """Put the camera in the place of a key."""
        self._key = key
        self._aim()
        self.show()

    def play_or_pause(self) -> None:
        """Start or stop the feed; from the end of the last pass it starts with the first."""
        if self.share == 1.0 and self.number == self._count:
            self.number, self.share = 1, 0.0
        self.playing = not self.playing

    def tick(self) -> None:
        """Go on by one picture, if it plays."""
        if not self.playing:
            return
        self._ticks += 1
        if self.share < 1.0:
            self.share = min(self.share + 1 / _TICKS_A_PASS, 1.0)
        elif self.number < self._count:
            self.number, self.share = self.number + 1, 0.0
        else:
            self.playing = False
        self.show()

    def show(self) -> None:
        """Draw the moment at which the sliders stand."""
        if self._setup_of(self.number) is not self._setup:
            self._set_up()
            self._aim()
        scene, viewpoint = self._setup.report.scene, self._viewpoints[self._key]
        length = scene.stock.length
        done_to = self.travel + travel_range(self._setup.report.scene, self._own)[0]  # where the blade leaves the stock
        last = min(max(done_to, _SLAB), length) if viewpoint.sawn else length
        self.saw.show(self._own, self.travel, 0.0, last)
        turned = self._ticks * PITCH_A_FRAME * 2 * math.pi / scene.blade.teeth
        self.saw.set_blade(self._setup.report.job.passes[self._own - 1].height, turned)
        for slider, value in zip(self.sliders, (self.share, self.number), strict=False):
            drawn(slider).SetValue(value)
        self._row.SetInputData(
            row_of_passes(self._colours[1:], self.number, (_PASS_START, _RIGHT), (38 / _FOOT, 45 / _FOOT, 52 / _FOOT))
        )
        self._say()
        self.view.ResetCameraClippingRange()
        self.plotter.render()

    def _say(self) -> None:
        report, number = self._setup.report, self._own
        job, units = report.job, report.units
        one, area = job.passes[number - 1], units.area(job.sections[number - 1].area)
        self.title.input = f"{self._setup.name}{'p' if self._setup.name else 'P'}ass {number} of {len(job.passes)}"
        self.facts.input = f"height {units.length(one.height)}    rise {units.as_read(one.rise)}    area {area}"
        for line, where, flagged in ((self.of_pass, "this pass", number), (self.of_job, self._setup.whole, None)):
            flags = report.flags_of(flagged)
            mild = tuple(flag for flag in report.outcome.may_exceed if flag.number == flagged)
            line.input = f"{where}: {in_a_line(flags, mild, _MOST_FLAGS)}"
            line.prop.color = ALARM if flags else FAINT
        side = "past" if self.travel >= 0 else "short of"
        self.gone.input = f"Feed: leading end {units.tape(abs(self.travel))} {side} the blade's centre"

    def _add_words(self) -> None:
        self.title = word(self._head, _LEFT, 62 / _HEAD, 22, bold=True)
        self.facts = word(self._head, _FACTS if len(self._setups) == 1 else _FACTS_BESIDE_NAME, 62 / _HEAD, 16)
        self.of_pass = word(self._head, _LEFT, 36 / _HEAD, 14)
        self.of_job = word(self._head, _LEFT, 14 / _HEAD, 14)
        self.gone = word(self._foot, _LEFT, 92 / _FOOT, 14)
        word(self._foot, _PASS_START, 92 / _FOOT, 14, "Pass")
        keys = "   ".join(f"{key} {viewpoint.words}" for key, viewpoint in self._viewpoints.items())
        word(self._foot, _LEFT, 37 / _FOOT, 12, f"{keys}   space plays   q closes")
        word(self._foot, _LEFT, 11 / _FOOT, 13, f"{SENTENCE} Blade slowed.")

    def _add_sliders(self) -> None:
        self.plotter.subplot(2, 0)
        self.sliders = [self._slider(self.feed_to, (0.0, 1.0), (_LEFT, _FEED_END))]
        if self._count > 1:
            half = (_RIGHT - _PASS_START) / self._count / 2  # of a cell in the row of passes
            ends = _PASS_START + half, _RIGHT - half
            self.sliders.append(self._slider(self.go_to_pass, (1.0, float(self._count)), ends))

    def _slider(
        self, moved: Callable[[float], None], limits: tuple[float, float], ends: tuple[float, float]
    ) -> vtkSliderWidget:
        """Add a slider that reaches from one share of the width to another."""
        slider: vtkSliderWidget = self.plotter.add_slider_widget(  # its types lose that it is a method
            None,  # type: ignore[arg-type]
            limits,
            color=STEEL,
        )
        look = drawn(slider)
        for end, place in zip(ends, (look.GetPoint1Coordinate(), look.GetPoint2Coordinate()), strict=True):
            place.SetCoordinateSystemToNormalizedViewport()
            place.SetValue(end, 72 / _FOOT)
        look.ShowSliderLabelOff()
        look.GetSliderProperty().SetColor(TIP)
        look.GetSelectedProperty().SetColor(ARROW)
        look.SetSliderLength(0.012)  # of the window's width; heights are shares of the foot's
        look.SetSliderWidth(20 / _FOOT)
        look.SetTubeWidth(4 / _FOOT)
        look.SetEndCapLength(0)
        slider.SetAnimationModeToJump()
        slider.AddObserver(vtkCommand.InteractionEvent, lambda *_: moved(look.GetValue()))
        return slider

    def _listen(self) -> None:
        hands = self._hands
        hands.clear_key_event_callbacks()
        style = hands.style
        assert style is not None
        style.AddObserver("CharEvent", lambda *_: None)  # the library's own keys would hide surfaces
        for key in self._viewpoints:
            hands.add_key_event(key, partial(self.look_from, key))
        hands.add_key_event("space", self.play_or_pause)
        hands.add_key_event("q", hands.terminate_app)
        hands.add_observer("TimerEvent", lambda *_: self.tick())
        self._frame.AddObserver(vtkCommand.WindowResizeEvent, lambda *_: self._lay_out())
        self.view.AddObserver("StartEvent", lambda *_: self.saw.face())

    def _lay_out(self) -> None:
        """Give head and foot their heights and the saw the rest."""
        _, rows = self._size()
        foot, head = _FOOT / rows, 1 - _HEAD / rows
        self._head.viewport, self._foot.viewport = (0, head, 1, 1), (0, 0, 1, foot)
        self.view.viewport = (0, foot, 1, head)
        self._aim()

    def _size(self) -> tuple[int, int]:
        """Return the pixels across and down, or the least that head and foot leave room in."""
        wide, tall = self._frame.GetSize()
        return max(wide, 100), max(tall, 2 * (_HEAD + _FOOT))

    def _aim(self) -> None:
        """Let the camera see all that its place is for; a section is of solid wood, elsewhere one sees through."""
        viewpoint = self._viewpoints[self._key]
        self.saw.let_through(*((1.0, 1.0) if viewpoint.sawn else (0.6, 0.36)))
        wide, tall = self._size()
        aspect = wide / (tall - _HEAD - _FOOT)
        canvas.look(self.view, viewpoint.view(aspect))
        self.view.camera_set = True
        self.view.camera.focal_point = tuple(viewpoint.about)  # the mouse turns it about the blade
