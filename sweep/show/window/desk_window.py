"""A window on the desk: the saw with the stock going over it, to be turned, fed and played."""

from __future__ import annotations

import math
import signal
import time
from functools import partial

import pyvista as pv
from pyvista.plotting.render_window_interactor import RenderWindowInteractor
from vtkmodules.vtkCommonCore import vtkCommand
from vtkmodules.vtkRenderingCore import vtkRenderWindow

from sweep.cut.stages import stage, travel_range
from sweep.scene.keys import Stock
from sweep.show.draw.colours import cut_colours, made_colours
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.solids import saw as machine_model
from sweep.show.solids.light import WOOD_IN_LIGHT
from sweep.show.solids.moments import PITCH_A_FRAME
from sweep.show.solids.views import Viewpoint, end_on, viewpoints
from sweep.show.vtk import canvas
from sweep.show.vtk.grain import grain_texture
from sweep.show.vtk.over_the_saw import DrawnSaw
from sweep.show.vtk.turned_over import TurnedStock
from sweep.show.window.flat_parts import add_row, add_slider, drawn, row_of_passes
from sweep.show.window.setups_shown import SetupShown, finished, planed, setups_of
from sweep.show.window.told import FEED_END, FOOT, HEAD, LEFT, PASS_START, RIGHT, MomentWords

SIZE = (1280, 800)
"""Pixels, across and down, at first."""

_TICK, PASS_SECONDS = 40, 6.0
"""ms from picture to picture while it plays, and how long a pass takes."""

_PITCHES = 150 * PITCH_A_FRAME
"""From one tooth to the next: by so many the blade is drawn to turn in a pass."""

_STEP = 1 / 40
"""Share of a pass by which a key feeds the stock."""

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
        self._finished = finished(report)
        after = 0 if self._finished is None else int(self._finished.cut_by.max(initial=0)) - self._count
        self._last = self._count + (self._finished is not None)
        self._colours = cut_colours(self._count, after) if len(counts) == 1 else made_colours(counts, after)
        self.number, self.share, self.playing, self._turned = 1, 0.5, False, 0.0
        self._key, self._planed, self._before = "1", planed(report), 0.0
        self.plotter = pv.Plotter(
            shape=(3, 1), off_screen=off_screen, window_size=list(size), lighting="none", border=False
        )
        self.plotter.enable_anti_aliasing("msaa", multi_samples=4)
        self.clock = time.monotonic
        self._head, self.view, self._foot = self.plotter.renderers
        self._grain = grain_texture()
        for renderer in self.plotter.renderers:
            canvas.prepare(renderer)
        self._set_up()
        views = [place.words for place in self._viewpoints.values()]
        self.told = MomentWords(self._head, self._foot, views, several=len(counts) > 1)
        self._row, self._in_row = add_row(self._foot), 0  # the pass that stands out in it, none yet
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
        self._viewpoints = {str(key): place for key, place in enumerate(viewpoints(scene, window), start=1)}
        table, fence = machine_model.whole_table(scene), machine_model.whole_fence(scene)
        self.saw = DrawnSaw(
            self.view, scene, window, table, fence, self._colours, _CHORD, machine_model.mitre_slots(scene)
        )
        self.bench = self._on_bench(scene.stock)
        self.made = self._on_bench(self._planed)

    def _on_bench(self, stock: Stock) -> TurnedStock:
        """Return room for stock that lies on the bench, not yet seen."""
        turned = TurnedStock(self.view, stock, end_on(stock).view(1.0), self._grain, 1.5, WOOD_IN_LIGHT)
        turned.seen(False)
        return turned

    def _setup_of(self, number: int) -> SetupShown:
        """Return the set-up of a pass that is counted on through all of them; of the finished moulding the last."""
        return next(setup for setup in reversed(self._setups) if setup.before < number)

    @property
    def _own(self) -> int:
        """The number of the pass within its set-up; of the finished moulding that of the last."""
        return min(self.number, self._count) - self._setup.before

    @property
    def is_finished(self) -> bool:
        """Whether the finished moulding is shown: it lies on the bench, not on the running saw."""
        return self.number > self._count

    @property
    def viewpoint(self) -> Viewpoint:
        """Where the camera stands."""
        return end_on(self._planed) if self.is_finished else self._viewpoints[self._key]

    @property
    def travel(self) -> float:
        """How far the pass has gone, mm."""
        start, end = travel_range(self._setup.report.scene, self._own)
        return start + (1.0 if self.is_finished else self.share) * (end - start)

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
        self.share = min(max(share, 0.0), 1.0)
        self.show()

    def go_to_pass(self, number: float) -> None:
        """Show another pass, gone as far as this one, or beyond the last one the finished moulding."""
        bench = self.is_finished
        self.number = min(max(round(number), 1), self._last)
        if self.is_finished != bench:
            self._aim()
        self.show()

    def look_from(self, key: str) -> None:
        """Put the camera in the place of a key; the finished moulding is left for the end of the last pass."""
        if self.is_finished and not self._viewpoints[key].on_bench:
            self.number, self.share = self._count, 1.0
        self._key = key
        self._aim()
        self.show()

    def play_or_pause(self) -> None:
        """Start or stop the feed; from the end of the last pass it starts with the first."""
        if self.is_finished or (self.share == 1.0 and self.number == self._count):
            self.go_to_pass(1)
            self.share = 0.0
        self.playing, self._before = not self.playing, self.clock()

    def tick(self) -> None:
        """Go on by the time that has passed, if it plays."""
        if not self.playing:
            return
        now = self.clock()
        gone, self._before = (now - self._before) / PASS_SECONDS, now
        self._turned += gone
        if self.share < 1.0:
            self.share = min(self.share + gone, 1.0)
        elif self.number < self._last:
            self.share = 0.0
            return self.go_to_pass(self.number + 1)
        if self.number == self._last and (self.share == 1.0 or self.is_finished):
            self.playing = False
        self.show()

    def show(self) -> None:
        """Draw the moment at which the sliders stand."""
        if self._setup_of(self.number) is not self._setup:
            self._set_up()
            self._aim()
        scene, bench = self._setup.report.scene, self.viewpoint.on_bench
        self.saw.seen(not bench)
        self.bench.seen(bench and not self.is_finished)
        self.made.seen(self.is_finished)
        if self._finished is not None and self.is_finished:
            self.made.show(self._finished, self._colours[self._finished.cut_by])
        elif bench:
            mesh = stage(scene, self._own, self.travel, _CHORD).mesh
            self.bench.show(mesh, self._colours[mesh.cut_by])
        else:
            length = scene.stock.length
            done_to = self.travel + travel_range(scene, self._own)[0]  # where the blade leaves the stock
            last = min(max(done_to, _SLAB), length) if self.viewpoint.sawn else length
            self.saw.show(self._own, self.travel, 0.0, last)
            turned = self._turned * _PITCHES * 2 * math.pi / scene.blade.teeth
            self.saw.set_blade(self._setup.report.job.passes[self._own - 1].height, turned)
        for slider, value in zip(self.sliders, (self.share, self.number), strict=False):
            drawn(slider).SetValue(value)
        if self._in_row != self.number:
            self._in_row, colours = self.number, self._colours[1 : self._last + 1]
            levels = 38 / FOOT, 45 / FOOT, 52 / FOOT
            self._row.SetInputData(row_of_passes(colours, self.number, (PASS_START, RIGHT), levels))
        self.told.say(self._setup, self._own, self.travel, self.is_finished)
        self.view.ResetCameraClippingRange()
        self.plotter.render()

    def _add_sliders(self) -> None:
        self.plotter.subplot(2, 0)
        self.sliders = [add_slider(self.plotter, self.feed_to, (0.0, 1.0), (LEFT, FEED_END), FOOT)]
        if self._last > 1:
            half = (RIGHT - PASS_START) / self._last / 2  # of a cell in the row of passes
            ends = PASS_START + half, RIGHT - half
            self.sliders.append(add_slider(self.plotter, self.go_to_pass, (1.0, float(self._last)), ends, FOOT))

    def _listen(self) -> None:
        hands = self._hands
        hands.clear_key_event_callbacks()
        style = hands.style
        assert style is not None
        style.AddObserver("CharEvent", lambda *_: None)  # the library's own keys would hide surfaces
        for key in self._viewpoints:
            hands.add_key_event(key, partial(self.look_from, key))
        for key, way in (("Left", -1), ("Right", 1)):
            hands.add_key_event(key, lambda way=way: self.feed_to(self.share + way * _STEP))
        for key, way in (("Next", -1), ("Prior", 1)):  # page down and up, as on the page
            hands.add_key_event(key, lambda way=way: self.go_to_pass(self.number + way))
        hands.add_key_event("space", self.play_or_pause)
        hands.add_key_event("q", hands.terminate_app)
        hands.add_observer("TimerEvent", lambda *_: self.tick())
        self._frame.AddObserver(vtkCommand.WindowResizeEvent, lambda *_: self._lay_out())
        self.view.AddObserver("StartEvent", lambda *_: self._face())

    def _face(self) -> None:
        """Light what is seen for the camera as it stands."""
        (self.made if self.is_finished else self.bench if self.viewpoint.on_bench else self.saw).face()

    def _lay_out(self) -> None:
        """Give head and foot their heights and the saw the rest."""
        _, rows = self._size()
        foot, head = FOOT / rows, 1 - HEAD / rows
        self._head.viewport, self._foot.viewport = (0, head, 1, 1), (0, 0, 1, foot)
        self.view.viewport = (0, foot, 1, head)
        self._aim()

    def _size(self) -> tuple[int, int]:
        """Return the pixels across and down, or the least that head and foot leave room in."""
        wide, tall = self._frame.GetSize()
        return max(wide, 100), max(tall, 2 * (HEAD + FOOT))

    def _aim(self) -> None:
        """Let the camera see all that its place is for; a section is of solid wood, elsewhere one sees through."""
        viewpoint = self.viewpoint
        self.saw.let_through(*((1.0, 1.0) if viewpoint.sawn else (0.6, 0.36)))
        wide, tall = self._size()
        aspect = wide / (tall - HEAD - FOOT)
        canvas.look(self.view, viewpoint.view(aspect))
        self.view.camera_set = True
        self.view.camera.focal_point = tuple(viewpoint.about)  # the mouse turns it about the blade
