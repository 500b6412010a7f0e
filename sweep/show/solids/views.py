"""Where one stands to look: the one table of cameras, for the window, the page, the pictures and the moving picture.

Whatever looks along the feed looks the way the stock goes, as every drawn section does: right is to the right.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sweep.scene.keys import Stock
from sweep.scene.model import WholeScene
from sweep.shape.lying import Lying
from sweep.show.solids.camera import View, view_of
from sweep.show.solids.saw import Window, outermost, whole_table
from sweep.show.solids.stock import corners_of
from sweep.show.solids.turns import room_to_turn

_MARGIN = 0.04
"""Share of half the picture that is kept free at each border."""

_CENTRING = 6
"""Steps that centre a view; each leaves a fraction of what is off, as near things move aside more than far ones."""

_RUN = 5.0
"""Widths, or heights of what stands on its edge, that one sees of the stock's length from the operator's place, either
way from the blade."""

_ASIDE = np.radians(21.0)
"""rad. So far to the side that the fence leaves free one sees the feed from the operator's place."""

_SLENDER = 24.0
"""Length over width above which stock is too slender to be shown from the side."""


@dataclass(frozen=True, eq=False)
class Viewpoint:
    """A place for the camera.

    Parameters
    ----------
    name, words : str
        What it is called in data, and by the maker.
    towards : (3,) float
        From `about` to the camera.
    about : (3,) float, mm
        What the camera turns round.
    distance : float, mm
        From `about` to the camera.
    points : (n, 3) float, mm
        What must be seen.
    sawn : bool
        Whether the stock is sawn through near the blade, to show its section.
    on_bench : bool
        Whether `points` are in the frame of the stock turned over, not in the machine's.
    flat : bool
        Whether one looks along parallel lines, as in a drawing.
    """

    name: str
    words: str
    towards: NDArray[np.float64]
    about: NDArray[np.float64]
    distance: float
    points: NDArray[np.float64]
    sawn: bool = False
    on_bench: bool = False
    flat: bool = False

    def view(self, aspect: float) -> View:
        """Return the camera for a picture so many times as wide as it is high."""
        return view_of(self.points, self.towards, self.about, self.distance, aspect, _MARGIN, self.flat)

    def centred(self) -> Viewpoint:
        """Return the same place moved aside until all that must be seen lies about the middle of the picture."""
        viewpoint = self
        for _ in range(_CENTRING):
            view = viewpoint.view(1.0)
            aside = view.shift[0] * np.array(view.right) + view.shift[1] * np.array(view.up)
            viewpoint = replace(viewpoint, about=viewpoint.about + self.distance * aside)
        return viewpoint


def viewpoints(scene: WholeScene, window: Window) -> tuple[Viewpoint, ...]:
    """Return the places to choose from, in order; the first is where one stands at first."""
    along, across, up = scene.feed.direction, scene.feed.across, np.array([0.0, 0.0, 1.0])
    away_from_fence = -1.0 if scene.setup.fence_side == "near" else 1.0
    saw, stock, centre = outermost(scene, window), scene.stock, np.zeros(3)
    over_centre = scene.setup.offset * across + stock.thickness / 2 * up
    y = scene.setup.offset + np.array([-0.5, 0.5]) * stock.width
    run = max(window.half, min(stock.length / 2, _RUN * max(stock.width, stock.thickness)))
    body = np.array(
        [a * along + c * across + z * up for a in (-run, run) for c in y for z in (0, stock.thickness)]
    )  # half-way through a pass
    section = np.array([c * across + z * up for c in y for z in (0, max(stock.thickness, scene.setup.blade_height))])
    operator = 0.53 * up - np.cos(_ASIDE) * along + np.sin(_ASIDE) * away_from_fence * across
    return (
        Viewpoint("operator", "operator", operator, centre, 4 * max(run, window.half), np.vstack([saw, body])),
        Viewpoint("feed", "along the feed", 0.22 * up - along, over_centre, stock.length + 4 * window.half, saw),
        Viewpoint(
            "above",
            "from above",
            np.array([0.0, -1e-3, 1.0]),
            centre,
            6 * window.half,
            np.vstack([saw, whole_table(scene).points]),
            flat=True,
        ),
        Viewpoint(
            "section", "section at the blade", -along, over_centre, 8 * stock.width, section, sawn=True, flat=True
        ),
        end_on(stock),
    )


def end_on(stock: Stock) -> Viewpoint:
    """Return the view of the stock turned over with its leading end in front.

    A near camera holds the whole length: the far end is small, and the profile at the leading end large.
    """
    distance = 2.4 * max(stock.width, 2 * stock.thickness) + 0.1 * min(stock.length, 15 * stock.width)
    middle = np.array([0.0, 0.0, stock.thickness / 2])
    towards = np.array([-1.0, -0.55, 0.78])
    return Viewpoint("bench", "on the bench", towards, middle, distance, corners_of(stock), on_bench=True)


def from_behind(scene: WholeScene, window: Window) -> Viewpoint:
    """Return the moving picture's view of the saw: from where the stock goes, the fence on the far side."""
    side = -1.0 if scene.setup.fence_side == "near" else 1.0
    towards = 0.80 * scene.feed.direction + 0.62 * side * scene.feed.across + np.array([0.0, 0.0, 0.52])
    return Viewpoint("behind", "from behind", towards, np.zeros(3), 3.2 * window.half, outermost(scene, window))


def lengthwise(scene: WholeScene) -> Viewpoint:
    """Return the moving picture's view of the whole stock turned over, its leading end on the same side as above."""
    stock, side = scene.stock, 1.0 if scene.setup.fence_side == "near" else -1.0
    wide = max(stock.width, stock.thickness)  # it may stand on its edge
    if stock.length > _SLENDER * wide:  # from the side it would be a hair: look along it instead
        towards, middle, distance = (-0.9, -side * 0.45, 0.6), 0.0, 5 * wide
    else:
        towards, middle = (-0.10, -side * 0.75, 0.66), stock.length / 2
        distance = 2.2 * max(stock.length, 3 * wide)
    about = np.array([middle, 0.0, 0.0])
    return Viewpoint("length", "its length", np.array(towards), about, distance, corners_of(stock), on_bench=True)


def being_turned(lying: Lying, stock: Stock) -> Viewpoint:
    """Return the view of stock that is turned over from one set-up to the next; in the frame of `turned`."""
    about = np.array([stock.length / 2, 0.0, stock.thickness / 2])
    towards, room = np.array([-0.75, -0.55, 0.5]), room_to_turn(lying, stock)
    return Viewpoint("turned", "being turned", towards, about, 1.2 * stock.length + 4 * stock.width, room)
