"""How much of some wood one pass to each of many heights takes from the section.

In the planes of `plane.py` a raised blade moves its section straight up. So it is drawn once, for the greatest height,
and the wood is moved down into it.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import Tool
from sweep.tolerance import FINE_CHORD

Array = NDArray[np.float64]

AT_A_TIME = 64
"""Heights that are looked at together: what is worked out then stays in the processor's own memory."""


def areas_cut(
    tool: Tool, feed: StraightFeed, tilt: float, heights: Array, wood: section.Figure, chord: float = FINE_CHORD
) -> Array:
    """Return how much of some wood one through pass to each of several heights takes, (n,) mm2."""
    highest = heights.max()
    cut = section.cut_section(tool, feed, tilt, float(highest), chord)
    up = highest - heights
    moves = np.column_stack([up * math.tan(tilt) * math.cos(feed.fence_angle), up])
    if not wood.equals(wood.envelope):  # it is no box
        return section.areas_moved(cut, wood, moves)
    sides, box = section.sides(cut), section.bounds_of(wood)
    return np.concatenate(
        [_in_boxes(sides, box, some) for some in np.split(moves, range(AT_A_TIME, len(moves), AT_A_TIME))]
    )


def _in_boxes(sides: Array, box: tuple[float, float, float, float], moves: Array) -> Array:
    """Return how much of a figure lies in a box at each of several places, (n,) mm2.

    Parameters
    ----------
    sides : (m, 2, 2) float, mm
        The straight sides of the figure's outline, the figure to the left of each.
    box : (float, float, float, float), mm
        The least y and z and the greatest.
    moves : (n, 2) float, mm
        By how much the box is moved, y and z.

    Notes
    -----
    The area of a figure is the integral of y dz round it. At each z the part within the box is as wide as y held
    between its sides. So the integral of that, over what of the outline lies between its floor and its roof, is the
    area within: exact, for the outline is straight from corner to corner.
    """
    left, low, right, high = (
        np.add(bound, move)[:, None] for bound, move in zip(box, (*moves.T, *moves.T), strict=True)
    )
    above = sides[:, :, 1].max(axis=1) > low.min()
    (y1, z1), (y2, z2) = sides[above].transpose(1, 2, 0)
    rise = z2 - z1
    slope = np.divide(y2 - y1, rise, out=np.zeros_like(rise), where=rise != 0)
    from_z, to_z = np.clip(z1, low, high), np.clip(z2, low, high)
    from_y, to_y = y1 + slope * (from_z - z1), y1 + slope * (to_z - z1)
    wide = _mean_beyond(left, from_y, to_y) - _mean_beyond(right, from_y, to_y)
    return np.asarray((wide * (to_z - from_z)).sum(axis=1))


def _mean_beyond(line: Array, start: Array, end: Array) -> Array:
    """Return how far straight pieces lie to the right of a line, as a mean; what lies to its left counts as on it."""
    first, last = start - line, end - line
    away = np.abs(first) + np.abs(last)
    beyond = away + first + last  # twice the sum of those of both that are positive
    return np.asarray(np.divide(beyond * beyond, 8 * away, out=np.zeros_like(away), where=away > 0))
