"""What holds and covers the work on the saw table, seen from above: a cage over the blade, and featherboards."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sweep.cut.stages import travel_range
from sweep.show.draw.saw_from_above import FromAbove, blade_at_table
from sweep.show.draw.sketch import Part, words

BEYOND = 24.0
"""mm. How far a cage is drawn beyond the blade, and either side of it, and how clear of the cut featherboards are."""

BOARD = (70.0, 30.0)
"""mm. Length and width at which a featherboard is drawn."""


def cage(view: FromAbove) -> NDArray[np.float64]:
    """Return the corners of a cage over the blade, (4, 2) mm of the table."""
    reach = blade_at_table(view.scene) / 2 + BEYOND
    return np.array([(-BEYOND, -reach), (BEYOND, -reach), (BEYOND, reach), (-BEYOND, reach)])


def cage_named(view: FromAbove, size: float) -> Part:
    """Return its name beside it, away from the fence, so many points large."""
    left, right = cage(view)[[3, 2]]
    x, y = view.spot(left if view.hand > 0 else right)
    return words("cage", x - view.hand, y + 1.6, "right" if view.hand > 0 else "left", size, halo=True)


def boards_at_the_edge(view: FromAbove) -> list[NDArray[np.float64]]:
    """Return the corners of featherboards at the stock's other edge, (4, 2) mm each: they hold it to the fence."""
    edge = view.layout.opposite.across
    return _boards(view, BOARD[0], (edge, edge - view.hand * BOARD[1]))


def boards_across(view: FromAbove) -> list[NDArray[np.float64]]:
    """Return the corners of featherboards across the work, (4, 2) mm each: they hold it down."""
    return _boards(view, BOARD[1], (view.layout.face.across, view.layout.opposite.across))


def _boards(view: FromAbove, long: float, sides: tuple[float, float]) -> list[NDArray[np.float64]]:
    """Return boards so long along the feed, mm, between two lines along it.

    One is before the blade, and one beyond it too unless the cut is a rip: there a featherboard would close the kerf.
    """
    scene = view.scene
    clear = BEYOND - travel_range(scene, len(scene.passes.heights))[0]
    found = []
    for way in (-1,) if scene.feed.along_blade else (-1, 1):
        near, far = way * clear, way * (clear + long)
        places = ((sides[0], near), (sides[0], far), (sides[1], far), (sides[1], near))
        found.append(np.array([view.along(across, run) for across, run in places])[:, :2])
    return found
