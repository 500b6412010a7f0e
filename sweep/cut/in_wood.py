"""Which part of straight pieces lies in wood, in closed form: inside the stock's section, outside what was taken.

All for many pieces at once, (n, 2) their first and last points. An interval is of the parameter along a piece, 0 to 1.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

Ends = tuple[Array, Array]
"""First and last points of straight pieces, (n, 2) each."""

Intervals = tuple[Array, Array]
"""First and last parameter, 0 to 1 along each piece; empty where the last is not beyond the first."""

_POINT = 1e-12
"""mm. A piece shorter than this is a point: fed square, a top edge projects to one."""


def in_rectangle(ends: Ends, half_width: float, thickness: float) -> list[Intervals]:
    """Return which part of each piece lies in the section of planed stock, (y, z)."""
    low, high = ends
    first, last = np.zeros(len(low)), np.ones(len(low))
    for axis, least, most in ((0, -half_width, half_width), (1, 0.0, thickness)):
        keep_between(first, last, low[:, axis], high[:, axis] - low[:, axis], least, most)
    return [(first, last)]


def in_rings(ends: Ends, rings: list[Array]) -> list[Intervals]:
    """Return which parts of each piece lie in a plane figure, given by its outlines, holes among them.

    The straight line through a piece comes into the figure and goes out of it by turns, from outside. An outline that
    it meets in a corner is counted once or twice, as it goes through there or only touches.
    """
    start, run = ends[0], ends[1] - ends[0]
    points = np.hypot(*run.T) < _POINT
    run = np.where(points[:, None], (0.0, 1.0), run)
    cross = run[:, 0] * start[:, 1] - run[:, 1] * start[:, 0]
    lines, places = [], []
    for ring in rings:
        # on which side of each line each corner lies: one figure for both outlines that meet there, so none is missed
        side = np.column_stack([run[:, 0], -run[:, 1], -cross]) @ np.vstack(
            [ring[:, 1], ring[:, 0], np.ones(len(ring))]
        )
        left = side > 0
        line, corner = np.nonzero(left != np.roll(left, -1, axis=1))
        onward = (corner + 1) % len(ring)
        share = side[line, corner] / (side[line, corner] - side[line, onward])
        met = ring[corner] + share[:, None] * (ring[onward] - ring[corner]) - start[line]
        lines.append(line)
        places.append((met * run[line]).sum(axis=1) / (run[line] ** 2).sum(axis=1))
    return _by_turns(np.concatenate(lines), np.concatenate(places), points)


def _by_turns(lines: NDArray[np.int64], places: Array, points: NDArray[np.bool_]) -> list[Intervals]:
    """Return the pieces between each line's first and second meeting, its third and fourth, and so on.

    Parameters
    ----------
    lines : (k,) int
        Which line meets an outline.
    places : (k,) float
        Where along it, 0 to 1 within the piece.
    points : (n,) bool
        Which pieces are no more than points: they are all in, or all out.
    """
    order = np.lexsort((places, lines))
    lines, places = lines[order], places[order]
    counts = np.bincount(lines, minlength=len(points))
    turn = np.arange(len(lines)) - np.repeat(np.cumsum(counts) - counts, counts)
    found = np.full((len(points), max(2, int(counts.max(initial=0)))), np.inf)
    found[lines, turn] = places
    spans = []
    for k in range(0, found.shape[1], 2):
        first, last = found[:, k], found[:, k + 1]
        held = points & (first <= 0.0) & (last > 0.0)
        first = np.where(points, 0.0, np.clip(first, 0.0, 1.0))
        last = np.where(points, np.where(held, 1.0, 0.0), np.clip(last, 0.0, 1.0))
        spans.append((first, last))
    return spans


def keep_between(first: Array, last: Array, start: Array, run: Array, least: float, most: float) -> None:
    """Narrow intervals, in place, to where start + run t lies between two values."""
    keep(first, last, start - least, run)
    keep(first, last, most - start, -run)


def keep(first: Array, last: Array, value: Array, slope: Array) -> None:
    """Narrow intervals, in place, to where value + slope t is not negative."""
    rising, falling = slope > 0, slope < 0
    root = np.divide(-value, slope, out=np.zeros_like(value), where=rising | falling)
    np.maximum(first, root, out=first, where=rising)
    np.minimum(last, root, out=last, where=falling)
    last[~(rising | falling) & (value < 0)] = -1.0


def in_hull(ends: Ends, one: tuple[float, float, float], two: tuple[float, float, float]) -> Intervals:
    """Return which part of each piece lies in the hull of two circles, (x, z, r) each.

    The hull is the two circles and, between their outer tangents, a quadrilateral. A straight line
    meets it in one interval, from the first to the last meeting with any of the three.
    """
    (x, z), (dx, dz) = ends[0].T.copy(), (ends[1] - ends[0]).T.copy()
    square = np.maximum(dx * dx + dz * dz, 1e-30)  # fed square, a top edge projects to a point
    firsts, lasts = [], []
    for cx, cz, r in (one, two):
        half = (x - cx) * dx + (z - cz) * dz
        inside = half**2 - square * ((x - cx) ** 2 + (z - cz) ** 2 - r * r)
        hit, root = inside > 0.0, np.sqrt(np.maximum(inside, 0.0))
        firsts.append(np.where(hit, (-half - root) / square, np.inf))
        lasts.append(np.where(hit, (-half + root) / square, -np.inf))
    gap_x, gap_z = two[0] - one[0], two[1] - one[1]
    apart = math.hypot(gap_x, gap_z)
    if apart > abs(one[2] - two[2]):
        cosine = (one[2] - two[2]) / apart
        sine = math.sqrt(1 - cosine * cosine)
        gap_x, gap_z = gap_x / apart, gap_z / apart
        along, aside = (x - one[0]) * gap_x + (z - one[1]) * gap_z, (z - one[1]) * gap_x - (x - one[0]) * gap_z
        run_along, run_aside = dx * gap_x + dz * gap_z, dz * gap_x - dx * gap_z
        first, last = np.full(len(x), -np.inf), np.full(len(x), np.inf)
        for hand in (-sine, sine):  # within both tangents
            keep(first, last, one[2] - cosine * along - hand * aside, -cosine * run_along - hand * run_aside)
        # and between the chords that join the points of touch of each circle
        keep(first, last, along - one[2] * cosine, run_along)
        keep(first, last, apart + two[2] * cosine - along, -run_along)
        hit = last > first
        firsts.append(np.where(hit, first, np.inf))
        lasts.append(np.where(hit, last, -np.inf))
    return np.minimum.reduce(firsts), np.maximum.reduce(lasts)


def under_line(ends: Ends, one: tuple[float, float], two: tuple[float, float]) -> Intervals:
    """Return which part of each piece lies between two points, (a, s) each, and below the straight line of both."""
    start, run = ends[0], ends[1] - ends[0]
    first, last = np.full(len(start), -np.inf), np.full(len(start), np.inf)
    keep_between(first, last, start[:, 0], run[:, 0], one[0], two[0])
    slope = (two[1] - one[1]) / (two[0] - one[0]) if two[0] > one[0] else 0.0
    height = one[1] + slope * (start[:, 0] - one[0]) - start[:, 1]
    keep(first, last, height, slope * run[:, 0] - run[:, 1])
    hit = last > first
    return np.where(hit, first, np.inf), np.where(hit, last, -np.inf)


def left_over(inside: list[Intervals], gone: list[Intervals]) -> tuple[Array, Array]:
    """Return the measure of what is inside and not gone, and the integral of t over it, (n,) each."""
    measures, moments = zip(*(_one_left_over(span, gone) for span in inside), strict=True)
    return np.add.reduce(measures), np.add.reduce(moments)


def _one_left_over(inside: Intervals, gone: list[Intervals]) -> tuple[Array, Array]:
    first, last = inside
    last = np.maximum(first, last)
    measure, moment = last - first, (last**2 - first**2) / 2
    if not gone:
        return measure, moment
    starts = np.clip([start for start, _ in gone], first, last)
    stops = np.maximum(starts, np.clip([stop for _, stop in gone], first, last))
    if len(gone) > 1:  # from the first to the last, each only beyond those before it
        order = np.argsort(starts, axis=0)
        starts, stops = np.take_along_axis(starts, order, 0), np.take_along_axis(stops, order, 0)
        starts[1:] = np.maximum(starts[1:], np.maximum.accumulate(stops, axis=0)[:-1])
        stops = np.maximum(starts, stops)
    return (
        np.maximum(0.0, measure - (stops - starts).sum(axis=0)),
        np.maximum(0.0, moment - ((stops**2 - starts**2) / 2).sum(axis=0)),
    )
