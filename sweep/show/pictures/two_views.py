"""The two views of the moving picture: the saw with the stock going over it, and the same stock turned over."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sweep.cut.stages import mesh_of_all, stage
from sweep.scene.model import WholeScene
from sweep.show.solids import saw as machine_model
from sweep.show.solids.light import WOOD_IN_LIGHT
from sweep.show.solids.moments import PITCH_A_FRAME, Moment
from sweep.show.solids.views import from_behind, lengthwise
from sweep.show.vtk.canvas import Canvas, look
from sweep.show.vtk.grain import grain_texture
from sweep.show.vtk.over_the_saw import CHORD, DrawnSaw
from sweep.show.vtk.turned_over import TurnedStock

FINE = 1.5
"""Views are drawn this many times larger, to be reduced, which smooths their edges."""


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
    scene : WholeScene
    colours : (n, 3) float
        Of faces by what cut them, passes counted on through all set-ups.
    width, upper, lower : int, pixels
        Of both views, and the heights of each.
    """

    def __init__(self, scene: WholeScene, colours: NDArray[np.float64], width: int, upper: int, lower: int) -> None:
        self.width, self.upper, self.lower = width, upper, lower
        self._scene = scene
        self._colours = colours
        self._window = machine_model.window_of(scene)
        share = upper / (upper + lower)
        self._canvas = Canvas((round(width * FINE), round((upper + lower) * FINE)), (share, 1 - share))
        saw, turned = self._canvas.renderers
        self._view = from_behind(scene, self._window).view(width / upper)
        look(saw, self._view)
        table, fence = machine_model.table(scene, self._window), machine_model.fence(scene, self._window)
        self._saw = DrawnSaw(saw, scene, self._window, table, fence, colours)
        self._turned = TurnedStock(
            turned, scene.stock, lengthwise(scene).view(width / lower), grain_texture(), 1.5, WOOD_IN_LIGHT
        )

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
        self._canvas.close()

    def picture(self, moment: Moment, count: int) -> Image.Image:
        """Return both views at one moment, one above the other, `FINE` times as large."""
        scene, half = self._scene, self._window.half
        whole = mesh_of_all(scene, stage(scene, moment.number, moment.travel, CHORD))
        self._turned.show(whole, self._colours[whole.cut_by])
        first, last = max(0.0, moment.travel - half), min(scene.stock.length, moment.travel + half)
        self._saw.show(moment.number, moment.travel, first, last)
        turned = count * PITCH_A_FRAME * 2 * math.pi / scene.blade.teeth
        self._saw.set_blade(moment.height, turned)
        self._saw.face()
        return Image.fromarray(self._canvas.shot())
