"""How a cove lies to the profile wanted, and up to which height the blade takes nothing that is to stay.

Cut wood does not come back, so what counts while a cove is being cut is the wood taken beyond the target's line. A
raised blade takes all that a lower one took, so it only grows with the height, and one height parts what is in reach
from what is not. Place counts as well as shape, as in the check of a finished profile.

Where a scene has no target that is one cove, the target is the cove that its set-up was meant to cut, and its tolerance
what a target's is by default.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.check.target import target_line
from sweep.plan.closeness import deviations, distances, nearest, sampled
from sweep.scene.defaults import default_of
from sweep.scene.model import WholeScene
from sweep.scene.target import Target
from sweep.shape.outline import curves, edges, settings
from sweep.units import LENGTH

Array = NDArray[np.float64]

CHORDS, POINTS = 12, 97
"""How finely curve and target are drawn: a deviation is within 0.001 mm of the run's own."""

FEW_CHORDS = 4
"""How finely a curve is drawn where it is only asked how far it is from a few places: within 0.01 mm."""

HALVINGS = 24
"""How often a height is halved between nothing and the highest: to a thousandth of a micrometre or two."""


class ProfileWanted:
    """The profile that a set-up is to cut.

    Parameters
    ----------
    scene : WholeScene
        As it was meant.
    """

    def __init__(self, scene: WholeScene) -> None:
        self.scene = scene
        setup, target = scene.setup, scene.target
        if target is None or target.whole:
            self.line: Array = self._cut(setup.fence_angle, setup.blade_height, setup.offset)[0]
            self.tolerance = default_of(Target, "tolerance", LENGTH, scene.stock.in_inches)
        else:
            self.line = target_line(target, scene.tool, scene.tilt)
            self.tolerance = target.tolerance
        self._points = sampled(self.line, POINTS)

    @property
    def highest(self) -> float:
        """The height of the last pass, mm: that of the scene, or the highest that is not too deep for the target."""
        setup = self.scene.setup
        return float(self.reaches(setup.fence_angle, setup.offset, setup.blade_height)[0])

    def width(self, fence_angle: ArrayLike, blade_height: ArrayLike) -> Array:
        """Return the width at the table of coves, (b,) mm; of arrays of settings, rad and mm."""
        left, right = edges(self.scene.tool, settings(fence_angle, self.scene.tilt, blade_height))
        return right - left

    def off(self, fence_angle: ArrayLike, blade_height: ArrayLike, offset: ArrayLike) -> Array:
        """Return how far coves lie off the target, signed, positive where wood is left, (b, n) mm.

        The first columns are those of as many points along the target, the others of points along the cove.
        """
        return deviations(self._cut(fence_angle, blade_height, offset), self.line, self._points)

    def off_at_stations(self, fence_angle: Array, blade_height: Array, offset: Array, stations: int) -> Array:
        """Return the same at a few places along the target, and at the two edges of the cove, (b, stations + 2) mm."""
        cut = self._cut(fence_angle, blade_height, offset, FEW_CHORDS)
        places = _evenly(self.line, stations)[None]
        ends = cut[:, [0, cut.shape[1] // 2, -1]]
        of_edges = deviations(ends, self.line, places[0, :1])[:, [1, 3]]
        return np.hstack([distances(places, cut, nearest(places, cut)), of_edges])

    def deviation(self, fence_angle: float, blade_height: float, offset: float) -> float:
        """Return how far a cove lies off the target at most, either way, mm: where none is cut, its depth."""
        most = float(np.abs(self.off(fence_angle, blade_height, offset)).max())
        return float(self.line[:, 1].max()) if math.isnan(most) else most

    def beyond(self, fence_angle: ArrayLike, blade_height: ArrayLike, offset: ArrayLike) -> Array:
        """Return how far coves go beyond the target into wood that is to stay, (b,) mm; 0 where they do not."""
        most: Array = np.maximum(-self.off(fence_angle, blade_height, offset).min(axis=1), 0.0)
        return most

    def reaches(self, fence_angle: ArrayLike, offset: ArrayLike, highest: float) -> Array:
        """Return up to which height set-ups keep within tolerance of what is to stay, (b,) mm, at most `highest`.

        Found by halving, a counted number of times.
        """
        angles, offsets = np.broadcast_arrays(np.atleast_1d(fence_angle), np.atleast_1d(offset))
        low, high = np.zeros(len(angles)), np.full(len(angles), highest)
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            within = self.beyond(angles, middle, offsets) <= self.tolerance
            low, high = np.where(within, middle, low), np.where(within, high, middle)
        return np.where(self.beyond(angles, np.full(len(angles), highest), offsets) <= self.tolerance, highest, low)

    def _cut(self, fence_angle: ArrayLike, blade_height: ArrayLike, offset: ArrayLike, chords: int = CHORDS) -> Array:
        return curves(self.scene.tool, settings(fence_angle, self.scene.tilt, blade_height, offset), chords)


def _evenly(line: Array, count: int) -> Array:
    """Return points evenly along a line, from its first to its last, (count, 2) mm."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    even = np.linspace(0.0, along[-1], count)
    return np.column_stack([np.interp(even, along, line[:, k]) for k in (0, 1)])
