"""Which profiles of many lie nearest to one: a tree over heights at fixed stations, then exact deviations.

    index = Index((one.name, one.line) for one in profiles_in(folder) if isinstance(one, Profile))
    for near in index.nearest(line, count=3):    # closest first
        near.name, near.deviation, near.mirrored

The tree (Bentley 1975; scipy's k-d tree) gives, in microseconds, some few whose heights are alike, and only these are
held against the line point by point. `line` is laid as a profile is: the face on the table at z = 0, from one edge to
the other. A piece may have been measured from its other end, so its mirror image is tried too.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from sweep.plan.closeness import distances, nearest, sampled

Array = NDArray[np.float64]
Kept = NDArray[np.float32]

STATIONS = 22
"""Heights by which profiles are told apart at first."""

LOOKED_AT = 6
"""Profiles of like heights that are held against a line point by point, beyond those asked for."""

STEEP = 3.0
"""How many times as far off as two lines their heights may be, at half of the stations: where both slope by 70 deg."""

POINTS = 120
"""Points along a line that are held against another: of a cove 60 mm wide deviations are right within 0.02 mm."""


EXACT = 0.02
"""mm. Within which deviations are right: a mirror image that is no nearer than that is none."""


@dataclass(frozen=True)
class Near:
    """A profile that lies near.

    Parameters
    ----------
    name : str
    number : int
        Its place among those given to the index.
    deviation : float, mm
        The largest distance either way, of points of one to the other, both centred.
    mirrored : bool
        Whether it is the mirror image that lies so near: the piece seen from its other end.
    """

    name: str
    number: int
    deviation: float
    mirrored: bool


class Index:
    """Profiles to be asked for the nearest.

    Parameters
    ----------
    profiles : iterable of (name, line)
        Lines (n, 2) mm, laid as a profile is; each is kept as `POINTS` points.
    """

    def __init__(self, profiles: Iterable[tuple[str, Array | Kept]]) -> None:
        self._names: list[str] = []
        self._lines: list[Kept] = []
        heights: list[Array] = []
        for name, line in profiles:
            self._names.append(name)
            self._lines.append(kept(line))
            heights.append(heights_of(line.astype(float)))
        self._tree = cKDTree(np.array(heights).reshape(-1, STATIONS + 1))

    def nearest(self, line: Array | Kept, count: int = 1, within: float = np.inf) -> tuple[Near, ...]:
        """Return up to so many profiles that deviate from a line by at most `within`, mm, the closest first."""
        if not self._names:
            return ()
        like = min(count + LOOKED_AT, len(self._names))
        asked = thinned(line.astype(float))
        found: dict[int, Near] = {}
        for mirrored in (False, True):
            turned = mirror(asked) if mirrored else asked
            heights = heights_of(turned)
            _, numbers = self._tree.query(heights, like)
            for number in np.atleast_1d(numbers).tolist():
                apart = np.abs(self._tree.data[number] - heights)
                if apart[0] > 2 * within or np.median(apart) > STEEP * within:  # both edges are no further off
                    continue
                gap = deviation(turned, self._lines[number].astype(float))
                if gap <= within and (number not in found or gap < found[number].deviation - EXACT):
                    found[number] = Near(self._names[number], number, gap, mirrored)
        return tuple(sorted(found.values(), key=lambda near: (near.deviation, near.name))[:count])


def heights_of(line: Array) -> Array:
    """Return width, mm, and the heights of a line at stations evenly over it, (`STATIONS` + 1,) mm.

    Where a line passes a station more than once, the first time counts; a closed outline is followed from where it
    begins. So like lines have like heights, whatever their shape.
    """
    centred = _centred(line)
    y, z = centred.T
    least, most = y.min(), y.max()
    at = least + (most - least) * (np.arange(STATIONS) + 0.5) / STATIONS
    before, after = y[:-1, None], y[1:, None]
    passes = (np.minimum(before, after) <= at) & (at <= np.maximum(before, after)) & (before != after)
    piece = passes.argmax(axis=0)  # the lines are without gaps, so every station has one
    share = (at - y[piece]) / np.where(y[piece + 1] == y[piece], 1.0, y[piece + 1] - y[piece])
    return np.concatenate([[most - least], z[piece] + share * (z[piece + 1] - z[piece])])


def deviation(one: Array, other: Array) -> float:
    """Return the largest distance either way between two lines, (n, 2) mm, both centred across."""
    one, other = _centred(one), _centred(other)
    return max(_farthest(one, other), _farthest(other, one))


def mirror(line: Array) -> Array:
    """Return a line as it is seen from the other end, from its left edge to its right one."""
    turned: Array = line[::-1] * (-1.0, 1.0)
    return turned


def thinned(line: Array) -> Array:
    """Return a line as about `POINTS` points that lie on it."""
    return sampled(line, POINTS)


def kept(line: Array | Kept) -> Kept:
    """Return a line thinned, as an index keeps it: seven digits do, and a line that is kept already is shared."""
    few = line if line.dtype == np.float32 else thinned(line.astype(float))
    return few.astype(np.float32, copy=False)


def _centred(line: Array) -> Array:
    middle: Array = line - ((line[:, 0].min() + line[:, 0].max()) / 2, line[:, 1].min())
    return middle


def _farthest(points: Array, line: Array) -> float:
    """Return the largest distance of points to a line drawn through others, mm."""
    path = np.empty((2 * len(line) - 1, 2))
    path[::2], path[1::2] = line, (line[:-1] + line[1:]) / 2  # straight between them
    pieces = nearest(points[None], path[None])
    return float(np.abs(distances(points[None], path[None], pieces)).max())
