"""The two views of the moving picture: the saw with the stock going over it, and the same stock turned over."""

from __future__ import annotations

import itertools
import math
from typing import NamedTuple

import numpy as np
import pyvista as pv
from PIL import Image

from sweep.check.judge import Outcome
from sweep.cut.stages import stage
from sweep.scene.model import Scene
from sweep.shape.mesh import UNCUT
from sweep.show import canvas, machine_model, stock_model
from sweep.show.colours import ARROW, CAST_IRON, FENCE, PAPER, SLOT, STEEL, THROAT, TIP, cut_colours
from sweep.show.moments import Moment
from sweep.show.turned_over import TurnedStock, corners, size_of

_FINE = 1.5
"""Views are drawn this many times larger and reduced, which smooths their edges."""

_CHORD = 0.05
"""mm, of the drawn rim: a tenth of a pixel."""

_SLENDER = 24.0
"""Length over width above which stock is too slender to be shown from the side."""

_PITCH_A_FRAME = 0.3
"""Pitches that the blade turns between frames: the eye can follow it, as it could not at the saw's true speed."""


class Label(NamedTuple):
    """A word in the upper view: where it stands in pixels from the top left, and which part of it stands there."""

    word: str
    x: float
    y: float
    anchor: str


class TwoViews:
    """One window: above, in the machine frame, the saw; below, the whole stock, cove up.

    Parameters
    ----------
    outcome : Outcome
    width, upper, lower : int, pixels
        Of both views, and the heights of each.
    """

    def __init__(self, outcome: Outcome, width: int, upper: int, lower: int) -> None:
        self.width, self.upper, self.lower = width, upper, lower
        self._scene = scene = outcome.job.scene
        self._colours = cut_colours(len(outcome.job.passes))
        self._window = machine_model.window_of(scene)
        self._plotter = canvas.open_canvas((round(width * _FINE), round((upper + lower) * _FINE)), views=2)
        saw, turned = self._plotter.renderers[0], self._plotter.renderers[1]
        share = lower / (upper + lower)
        saw.viewport, turned.viewport = (0, share, 1, 1), (0, 0, 1, share)
        self._view = self._saw_view()
        self._build_saw(saw)
        self._turned = TurnedStock(turned, scene.stock, self._strip_view(), stock_model.grain(), 1.5)

    def labels(self) -> tuple[Label, ...]:
        """Return words for parts of the saw."""
        scene, window = self._scene, self._window
        near = scene.setup.fence_side == "near"
        corner = window.half * scene.feed.direction + (window.fence[1] if near else window.fence[0]) * scene.feed.across
        corner[2] = window.fence_height
        places = self._view.place([corner, machine_model.arrow_tip(scene, window)]) * (self.width, self.upper)
        (x, y), (feed_x, feed_y) = places.tolist()
        fence = Label("fence", x - 5, y - 4, "rs") if near else Label("fence", x + 5, y - 4, "ls")
        return fence, Label("feed", feed_x, feed_y, "mm")

    def close(self) -> None:
        """Let the window go."""
        self._plotter.close()

    def picture(self, moment: Moment, count: int) -> Image.Image:
        """Return both views at one moment, one above the other."""
        scene = self._scene
        whole = stage(scene, moment.number, moment.travel, _CHORD)
        self._turned.show(whole.mesh, self._colours[whole.mesh.cut_by])
        self._show_stretch(moment)
        height = scene.passes.heights[moment.number - 1]
        turned = count * _PITCH_A_FRAME * 2 * math.pi / scene.blade.teeth
        for part in self._blade:
            part.user_matrix = machine_model.blade_pose(scene, height, turned)
        large = Image.fromarray(canvas.shot(self._plotter))
        return large.resize((self.width, self.upper + self.lower), Image.Resampling.BOX)

    def _show_stretch(self, moment: Moment) -> None:
        """Show the stretch of the stock that is in the window of the saw."""
        scene, half = self._scene, self._window.half
        first, last = max(0.0, moment.travel - half), min(scene.stock.length, moment.travel + half)
        seen = last - first > 0.5
        for actor in (self._cut, self._wood, self._ruled):
            actor.visibility = seen
        if not seen:
            return
        mesh = stage(_stretch(scene, first, last), moment.number, moment.travel - first, _CHORD).mesh
        colours = self._colours[mesh.cut_by]
        place = mesh.vertices[mesh.triangles][:, :, 0]
        sawn_off = np.zeros(len(colours), bool)
        for end, is_window in ((0.0, first > 0), (last - first, last < scene.stock.length)):
            sawn_off |= (np.abs(place - end) < 1e-6).all(axis=1) & is_window
        colours[sawn_off] = PAPER
        drawn = stock_model.surface(mesh, colours, size_of(scene.stock))
        cut = mesh.cut_by != UNCUT
        self._cut.mapper.SetInputData(drawn.extract_cells(cut).extract_surface(algorithm=None))
        self._wood.mapper.SetInputData(drawn.extract_cells(~cut).extract_surface(algorithm=None))
        self._ruled.mapper.SetInputData(stock_model.edges(mesh))
        pose = scene.feed.stock_in_machine(moment.travel - first)
        self._cut.user_matrix = self._wood.user_matrix = pose
        self._ruled.user_matrix = canvas.nearer(self._view) @ pose

    def _build_saw(self, renderer: pv.Renderer) -> None:
        scene, window = self._scene, self._window
        canvas.look(renderer, self._view)
        canvas.add_plain(renderer, machine_model.table(scene, window), CAST_IRON)
        canvas.add_plain(renderer, machine_model.throat_plate(scene), THROAT)
        canvas.add_plain(renderer, machine_model.slot(scene), SLOT)
        canvas.add_plain(renderer, machine_model.feed_arrow(scene, window), ARROW)
        canvas.add_plain(renderer, machine_model.fence(scene, window), FENCE)
        self._blade = [
            canvas.add_plain(renderer, part, colour, gloss=0.3)
            for part, colour in zip(machine_model.blade(scene), (STEEL, TIP), strict=True)
        ]
        for part in self._blade:
            canvas.hide_below(part, -machine_model.PLATE / 2)
        # the cove's roof shows through the wood above it
        self._cut = canvas.add_surface(renderer, pv.PolyData())
        self._cut.prop.opacity = 0.36
        self._wood = canvas.add_surface(renderer, pv.PolyData())
        self._wood.prop.culling = "back"
        self._wood.prop.opacity = 0.36
        self._ruled = canvas.add_lines(renderer, pv.PolyData(), 1.5)

    def _saw_view(self) -> canvas.View:
        scene, window = self._scene, self._window
        along, across = scene.feed.direction, scene.feed.across
        top = max(window.fence_height, scene.stock.thickness, scene.setup.blade_height)
        box = itertools.product((-window.half, window.half), (window.left, window.right), (-machine_model.PLATE, 0.0))
        tall = (*window.fence, scene.setup.offset - scene.stock.width / 2, scene.setup.offset + scene.stock.width / 2)
        points = [(*(a * along + c * across)[:2], z) for a, c, z in box]
        points += [(*(a * along + c * across)[:2], top) for a in (-window.half, window.half) for c in tall]
        side = -1.0 if scene.setup.fence_side == "near" else 1.0
        towards = 0.80 * along + 0.62 * side * across + np.array([0.0, 0.0, 0.52])
        return canvas.view_of(points, towards, (0, 0, 0), 3.2 * window.half, self.width / self.upper, 0.04)

    def _strip_view(self) -> canvas.View:
        """Look at the whole length from the side that keeps the leading end where it is in the saw's view."""
        stock = self._scene.stock
        side = 1.0 if self._scene.setup.fence_side == "near" else -1.0
        if stock.length > _SLENDER * stock.width:  # from the side it would be a hair: look along it instead
            towards, middle, distance = (-0.9, -side * 0.45, 0.6), 0.0, 5 * stock.width
        else:
            towards, middle = (-0.10, -side * 0.75, 0.66), stock.length / 2
            distance = 2.2 * max(stock.length, 3 * stock.width)
        return canvas.view_of(corners(stock), towards, (middle, 0, 0), distance, self.width / self.lower, 0.05)


def _stretch(scene: Scene, first: float, last: float) -> Scene:
    """Return the same job on a stretch of the stock only: a straight feed looks the same from anywhere along it."""
    stock = scene.stock.model_copy(update={"length": last - first})
    stops = tuple(None if stop is None else stop - first for stop in scene.passes.stops)
    return scene.model_copy(update={"stock": stock, "passes": scene.passes.model_copy(update={"stop": stops})})
