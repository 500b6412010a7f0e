"""A window on the desk: the saw with the stock going over it, to be turned, fed and played."""

from __future__ import annotations

import math
import signal
from collections.abc import Callable
from functools import partial

import numpy as np
import pyvista as pv
from pyvista.plotting.render_window_interactor import RenderWindowInteractor
from vtkmodules.vtkCommonCore import vtkCommand
from vtkmodules.vtkInteractionWidgets import vtkSliderRepresentation2D, vtkSliderWidget
from vtkmodules.vtkRenderingCore import vtkActor2D, vtkCoordinate, vtkPolyDataMapper2D, vtkRenderWindow

from sweep.cut.stages import travel_range
from sweep.show.draw.colours import ALARM, ARROW, FAINT, INK, RGB, STEEL, TIP, cut_colours
from sweep.show.draw.fonts import font_file
from sweep.show.say.cautions import SENTENCE
from sweep.show.say.flags import in_a_line
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.solids import saw as machine_model
from sweep.show.solids.moments import PITCH_A_FRAME
from sweep.show.solids.views import viewpoints
from sweep.show.vtk import canvas
from sweep.show.vtk.over_the_saw import Saw

SIZE = (1280, 800)
"""Pixels, across and down, at first."""

_HEAD, _FOOT = 96, 116
"""Pixels: heights of the words above the saw and of the sliders below it."""

_LEFT, _FACTS, _FEED_END, _PASS_START, _RIGHT = 0.02, 0.24, 0.60, 0.66, 0.98
"""Shares of the width: both rims and the columns between them."""

_MOST_FLAGS = 7
"""So many fit in a line of a window 900 pixels wide."""

_TICK, _TICKS_A_PASS = 40, 150
"""ms from picture to picture while it plays, and how many of them a pass takes."""

_CHORD = 0.01
"""mm, of the drawn rim: a section is seen from near by."""

_SLAB = 12.0
"""mm. Least that is left of the stock where it is sawn through."""

_TO_COME: RGB = (0.89, 0.89, 0.89)
"""The colour of a pass still to come, in the row of theirs."""


class DeskWindow:
    """The window, its two sliders and its keys.

    Parameters
    ----------
    report : Report
    size : (int, int), pixels
    off_screen : bool
        Whether it is drawn without being seen.
    """

    def __init__(self, report: Report, size: tuple[int, int] = SIZE, off_screen: bool = False) -> None:
        self._report = report
        self._scene = scene = report.scene
        self._count = len(report.job.passes)
        self.number, self.share, self.playing, self._ticks = 1, 0.5, False, 0
        window = machine_model.window_of(scene)
        places = [place for place in viewpoints(scene, window) if not place.on_bench]
        self._viewpoints = {str(key): place for key, place in enumerate(places, start=1)}
        self._viewpoint = self._viewpoints["1"]
        self.plotter = pv.Plotter(
            shape=(3, 1), off_screen=off_screen, window_size=list(size), lighting="none", border=False
        )
        self.plotter.enable_anti_aliasing("msaa", multi_samples=4)
        self._head, self.view, self._foot = self.plotter.renderers
        for renderer in self.plotter.renderers:
            canvas.prepare(renderer)
        table, fence = machine_model.whole_table(scene), machine_model.whole_fence(scene)
        self.saw = Saw(self.view, scene, window, table, fence, cut_colours(self._count), _CHORD)
        self._add_words()
        self._row = _add_row(self._foot)
        self._add_sliders()
        self._listen()
        self._lay_out()
        self.show()

    @property
    def travel(self) -> float:
        """How far the pass has gone, mm."""
        start, end = travel_range(self._scene, self.number)
        return start + self.share * (end - start)

    def open(self) -> None:
        """Show the window until it is closed, there or with Ctrl+C where it was called from."""
        hands = self._hands
        hands.create_timer(_TICK)
        before = signal.signal(signal.SIGINT, lambda *_: hands.terminate_app())
        try:
            self.plotter.show(title=f"sweep: {title_of(self._scene)}")
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
        self._viewpoint = self._viewpoints[key]
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
        length = self._scene.stock.length
        done_to = self.travel + travel_range(self._scene, self.number)[0]  # where the blade leaves the stock
        last = min(max(done_to, _SLAB), length) if self._viewpoint.sawn else length
        self.saw.show(self.number, self.travel, 0.0, last)
        turned = self._ticks * PITCH_A_FRAME * 2 * math.pi / self._scene.blade.teeth
        self.saw.set_blade(self._report.job.passes[self.number - 1].height, turned)
        for slider, value in zip(self.sliders, (self.share, self.number), strict=False):
            _drawn(slider).SetValue(value)
        self._row.SetInputData(_row_of_passes(self._count, self.number))
        self._say()
        self.view.ResetCameraClippingRange()
        self.plotter.render()

    def _say(self) -> None:
        job, units = self._report.job, self._report.units
        one, area = job.passes[self.number - 1], units.area(job.sections[self.number - 1].area)
        self.title.input = f"Pass {self.number} of {self._count}"
        self.facts.input = f"height {units.length(one.height)}    rise {units.as_read(one.rise)}    area {area}"
        for line, where, number in ((self.of_pass, "this pass", self.number), (self.of_job, "whole job", None)):
            flags = self._report.flags_of(number)
            mild = tuple(flag for flag in self._report.outcome.may_exceed if flag.number == number)
            line.input = f"{where}: {in_a_line(flags, mild, _MOST_FLAGS)}"
            line.prop.color = ALARM if flags else FAINT
        side = "past" if self.travel >= 0 else "short of"
        self.gone.input = f"Feed: leading end {units.tape(abs(self.travel))} {side} the blade's centre"

    def _add_words(self) -> None:
        self.title = _word(self._head, _LEFT, 62 / _HEAD, 22, bold=True)
        self.facts = _word(self._head, _FACTS, 62 / _HEAD, 16)
        self.of_pass = _word(self._head, _LEFT, 36 / _HEAD, 14)
        self.of_job = _word(self._head, _LEFT, 14 / _HEAD, 14)
        self.gone = _word(self._foot, _LEFT, 92 / _FOOT, 14)
        _word(self._foot, _PASS_START, 92 / _FOOT, 14, "Pass")
        keys = "   ".join(f"{key} {viewpoint.words}" for key, viewpoint in self._viewpoints.items())
        _word(self._foot, _LEFT, 37 / _FOOT, 12, f"{keys}   space plays   q closes")
        _word(self._foot, _LEFT, 11 / _FOOT, 13, f"{SENTENCE} Blade slowed.")

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
        drawn = _drawn(slider)
        for end, place in zip(ends, (drawn.GetPoint1Coordinate(), drawn.GetPoint2Coordinate()), strict=True):
            place.SetCoordinateSystemToNormalizedViewport()
            place.SetValue(end, 72 / _FOOT)
        drawn.ShowSliderLabelOff()
        drawn.GetSliderProperty().SetColor(TIP)
        drawn.GetSelectedProperty().SetColor(ARROW)
        drawn.SetSliderLength(0.012)  # of the window's width; heights are shares of the foot's
        drawn.SetSliderWidth(20 / _FOOT)
        drawn.SetTubeWidth(4 / _FOOT)
        drawn.SetEndCapLength(0)
        slider.SetAnimationModeToJump()
        slider.AddObserver(vtkCommand.InteractionEvent, lambda *_: moved(drawn.GetValue()))
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
        viewpoint = self._viewpoint
        self.saw.let_through(*((1.0, 1.0) if viewpoint.sawn else (0.6, 0.36)))
        wide, tall = self._size()
        aspect = wide / (tall - _HEAD - _FOOT)
        canvas.look(self.view, viewpoint.view(aspect))
        self.view.camera_set = True
        self.view.camera.focal_point = tuple(viewpoint.about)  # the mouse turns it about the blade


def _drawn(slider: vtkSliderWidget) -> vtkSliderRepresentation2D:
    """Return how a slider is drawn and where it stands."""
    drawn = slider.GetRepresentation()
    assert isinstance(drawn, vtkSliderRepresentation2D)
    return drawn


def _word(renderer: pv.Renderer, x: float, y: float, size: int, words: str = "", bold: bool = False) -> pv.Text:
    """Write words whose foot begins at shares of a view's width and height."""
    text = pv.Text(words)
    text.prop.set_font_file(font_file(bold))
    text.prop.font_size, text.prop.color = size, INK
    text.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
    text.position = (x, y)
    renderer.AddViewProp(text)
    return text


def _add_row(renderer: pv.Renderer) -> vtkPolyDataMapper2D:
    """Make room for coloured flat shapes, laid out in shares of a view's width and height."""
    place = vtkCoordinate()
    place.SetCoordinateSystemToNormalizedViewport()
    mapper = vtkPolyDataMapper2D()
    mapper.SetTransformCoordinate(place)
    mapper.SetColorModeToDirectScalars()
    actor = vtkActor2D()
    actor.SetMapper(mapper)
    renderer.AddViewProp(actor)
    return mapper


def _row_of_passes(count: int, number: int) -> pv.PolyData:
    """Return a cell for each pass, those so far in their colours, the one under way taller."""
    step = (_RIGHT - _PASS_START) / count
    left = _PASS_START + step * np.arange(count)
    top = np.full(count, 45 / _FOOT)
    top[number - 1] = 52 / _FOOT
    low, right, flat = np.full(count, 38 / _FOOT), left + 0.9 * step, np.zeros(count)
    corners = np.array([[left, low, flat], [right, low, flat], [right, top, flat], [left, top, flat]])
    colours = cut_colours(count)[1:]
    colours[number:] = _TO_COME
    four = 4 * np.arange(count)[:, None]
    faces = np.column_stack([np.full(2 * count, 3), (four + [0, 1, 2, 0, 2, 3]).reshape(-1, 3)])
    row = pv.PolyData(corners.transpose(2, 0, 1).reshape(-1, 3), faces.ravel())
    row.point_data["rgb"] = np.round(255 * np.repeat(colours, 4, axis=0)).astype(np.uint8)
    row.set_active_scalars("rgb")
    return row
