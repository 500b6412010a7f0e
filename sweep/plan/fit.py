"""The set-up of one blade that comes closest to a line: the least possible largest deviation.

A coarse look at every angle and tilt finds the best places to start from. The descent from each is Osborne and
Watson's method for nonlinear minimax problems (The Computer Journal 12, 1969; the reference from memory): a step
replaces the curve by its tangent and solves the linear programme of the least largest deviation for that.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.plan.closeness import deviations, deviations_beside, largest, sampled
from sweep.shape.outline import curves, edges, settings
from sweep.shape.tool import Tool

Array = NDArray[np.float64]

COARSE, FINE = 5, 24
"""Chords to each smooth piece of a curve while looking about, and while settling."""

POINTS = 41
"""Points along the target at which a curve is held against it, while looking about."""

STEPS = (math.radians(1.0), 0.5, math.radians(1.0), 0.5)
"""First greatest step in angle (rad), height (mm), tilt (rad) and offset (mm)."""


@dataclass(frozen=True)
class Range:
    """What the saw, the stock and the maker allow: least and most of each setting, rad and mm."""

    fence_angle: tuple[float, float]
    blade_height: tuple[float, float]
    blade_tilt: tuple[float, float]
    offset: tuple[float, float] = (-2000.0, 2000.0)

    @property
    def bounds(self) -> Array:
        """(4, 2), in the order angle, height, tilt, offset."""
        return np.array([self.fence_angle, self.blade_height, self.blade_tilt, self.offset])


@dataclass(frozen=True)
class Fit:
    """One set-up and how close its curve comes.

    Parameters
    ----------
    fence_angle, blade_tilt : float, rad
    blade_height, offset : float, mm
    deviation : float, mm
        The largest either way.
    tight : tuple of (y, deviation), mm
        Where the curve is held: the places at which the deviation is (all but) the largest.
    at_limit : tuple of str
        Settings that would go further if they could.
    """

    fence_angle: float
    blade_height: float
    blade_tilt: float
    offset: float
    deviation: float
    tight: tuple[tuple[float, float], ...]
    at_limit: tuple[str, ...]


def fit_blade(tool: Tool, line: Array, allowed: Range, starts: int = 2) -> Fit | None:
    """Return the set-up of a blade that comes closest to a line, or None when none reaches the table.

    Parameters
    ----------
    tool : Tool
    line : (m, 2) float, mm
        The target from its left edge to its right one, in (y, z).
    allowed : Range
    starts : int
        How many of the coarse look's best places to descend from.
    """
    candidates = _look_about(tool, line, allowed, starts)
    if not candidates:
        return None
    settled = [_descend(tool, line, allowed, start, COARSE, POINTS) for start in candidates]
    return _described(tool, line, allowed, min(settled, key=lambda pair: pair[1])[0])


def settle(tool: Tool, line: Array, allowed: Range, fit: Fit) -> Fit:
    """Return a fit brought to its last digits on finely drawn curves."""
    here = np.array([fit.fence_angle, fit.blade_height, fit.blade_tilt, fit.offset])
    here = _least_squares(tool, line, allowed, here)
    here, _ = _descend(tool, line, allowed, here, FINE, 3 * POINTS, narrow=0.05, enough=1e-6)
    return _described(tool, line, allowed, here)


def _look_about(tool: Tool, line: Array, allowed: Range, starts: int) -> list[Array]:
    """Return the best places of a coarse grid of angles and tilts, looked at more closely at each tilt's best angle.

    A straight blade between two tilted ones can be the best and seem the worse, its angle halfway between two lines of
    the grid: without the closer look one fit in forty stopped short of it.
    """
    tilts = np.linspace(*allowed.blade_tilt, 1 if allowed.blade_tilt[0] == allowed.blade_tilt[1] else 9)
    angles = np.linspace(*allowed.fence_angle, 31)
    rows, gaps = _gaps_at(tool, line, allowed, *(grid.ravel() for grid in np.meshgrid(angles, tilts)))
    if len(rows) == 0:
        return []
    closer = []
    for tilt in np.unique(rows[:, 2]):
        there = rows[:, 2] == tilt
        best = rows[there][np.argmin(gaps[there]), 0]
        between = np.clip(best + (angles[1] - angles[0]) * np.linspace(-0.75, 0.75, 7), *allowed.fence_angle)
        closer.append(np.column_stack([between, np.full(len(between), tilt)]))
    more, their_gaps = _gaps_at(tool, line, allowed, *np.vstack(closer).T)
    rows, gaps = np.vstack([rows, more]), np.concatenate([gaps, their_gaps])
    chosen: list[Array] = []
    for row in rows[np.argsort(gaps)]:
        if all(np.any(np.abs(row - other)[[0, 2]] > (0.05, 0.1)) for other in chosen):
            chosen.append(row)
        if len(chosen) == starts:
            break
    return chosen


def _gaps_at(tool: Tool, line: Array, allowed: Range, angle: Array, tilt: Array) -> tuple[Array, Array]:
    """Return settings and their deviations at some angles and tilts, height and offset by the target's own."""
    depth = float(np.clip(line[:, 1].max(), *allowed.blade_height))
    left, right = edges(tool, settings(angle, tilt, depth))
    with np.errstate(invalid="ignore"):
        offset = np.clip((left + right - line[0, 0] - line[-1, 0]) / 2, *allowed.offset)
    rows = np.column_stack([angle, np.full(len(angle), depth), tilt, offset])[np.isfinite(offset)]
    if len(rows) == 0:
        return rows, np.zeros(0)
    return rows, largest(curves_at(tool, rows, COARSE), sampled(line, 60), sampled(line, POINTS // 2))


def _descend(
    tool: Tool,
    line: Array,
    allowed: Range,
    start: Array,
    chords: int,
    count: int,
    narrow: float = 1.0,
    enough: float = 1e-3,
) -> tuple[Array, float]:
    """Return the settings at the foot of the slope and the deviation there."""
    line, points = sampled(line, 8 * count) if len(line) > 8 * count else line, sampled(line, count)
    bounds = allowed.bounds
    free = np.flatnonzero(bounds[:, 1] > bounds[:, 0])
    reach = np.array(STEPS) * narrow
    here = np.clip(start, bounds[:, 0], bounds[:, 1])
    now, slope = _tangent(tool, line, points, here, bounds, chords)
    worst = float(np.abs(now).max())
    for _ in range(40):
        step, expected = _least_largest(
            now, slope, np.maximum(-reach, bounds[:, 0] - here)[free], np.minimum(reach, bounds[:, 1] - here)[free]
        )
        if worst - expected < enough * (1e-4 + worst):
            break
        there = here.copy()
        there[free] += step
        there = np.clip(there, bounds[:, 0], bounds[:, 1])
        then, slope_there = _tangent(tool, line, points, there, bounds, chords)  # for little more than its deviations
        gap = float(np.abs(then).max())
        if gap < worst:
            reach = reach * (1.5 if worst - gap > 0.75 * (worst - expected) else 1.0)
            here, now, slope, worst = there, then, slope_there, gap
        else:
            reach = reach / 4
        if np.all(reach < 1e-8):
            break
    return here, worst


def _least_squares(tool: Tool, line: Array, allowed: Range, here: Array) -> Array:
    """Return settings a few Gauss-Newton steps on, if they come closer: down a long narrow valley that is the way."""
    bounds, points = allowed.bounds, sampled(line, 3 * POINTS)
    line = sampled(line, 24 * POINTS) if len(line) > 24 * POINTS else line
    free = np.flatnonzero(bounds[:, 1] > bounds[:, 0])
    there = here.copy()
    for _ in range(4):
        now, slope = _tangent(tool, line, points, there, bounds, FINE)
        there[free] -= np.linalg.lstsq(slope.T, now, rcond=None)[0]
        there = np.clip(there, bounds[:, 0], bounds[:, 1])
    gaps = largest(curves_at(tool, np.vstack([here, there]), FINE), line, points)
    return there if gaps[1] < gaps[0] else here


def _tangent(tool: Tool, line: Array, points: Array, here: Array, bounds: Array, chords: int) -> tuple[Array, Array]:
    """Return the deviations at some settings and their slopes along the free ones, (n,) and (f, n)."""
    free = np.flatnonzero(bounds[:, 1] > bounds[:, 0])
    nudge = np.array([1e-5, 1e-4, 1e-5, 1e-4])
    ways = np.where(here + nudge > bounds[:, 1], -nudge, nudge)  # away from a limit
    rows = here + np.vstack([np.zeros(4), np.diag(ways)[free]])
    found = deviations_beside(curves_at(tool, rows, chords), line, points)
    return found[0], (found[1:] - found[0]) / ways[free, None]


def _least_largest(now: Array, slope: Array, low: Array, high: Array) -> tuple[Array, float]:
    """Return the step within bounds that makes the largest |now + slope . step| least, and that value."""
    from scipy.optimize import linprog  # here, for it takes long to load and a scene with its set-up never asks

    tangent = slope.T
    ones = np.ones((len(tangent), 1))
    unit = np.where(high > low, high - low, 1.0)  # steps in parts of their range: rad beside mm
    result = linprog(
        c=[*np.zeros(len(low)), 1.0],
        A_ub=np.vstack([np.hstack([tangent * unit, -ones]), np.hstack([-tangent * unit, -ones])]),
        b_ub=np.concatenate([-now, now]),
        bounds=[*zip(low / unit, high / unit, strict=True), (0, None)],
        method="highs",
        options={"presolve": False},  # of so few unknowns it takes longer than it saves
    )
    if not result.success:
        return np.zeros(len(low)), float(np.abs(now).max())
    return result.x[:-1] * unit, float(result.x[-1])


def _described(tool: Tool, line: Array, allowed: Range, here: Array) -> Fit:
    points = sampled(line, 8 * POINTS)
    curve = curves_at(tool, here[None], FINE)
    found = deviations(curve, line, points)[0]
    worst = float(np.abs(found).max())
    places = np.concatenate([points[:, 0], curve[0, :, 0]])
    tight: list[tuple[float, float]] = []
    for k in np.argsort(places, kind="stable"):
        place, gap = float(places[k]), float(found[k])
        if abs(gap) < 0.98 * worst:
            continue
        if tight and gap * tight[-1][1] > 0 and place - tight[-1][0] < 0.15 * (places.max() - places.min()):
            tight[-1] = max(tight[-1], (place, gap), key=lambda pair: abs(pair[1]))
        else:
            tight.append((place, gap))
    names = ("fence angle", "blade height", "blade tilt", "offset")
    at_limit = [
        name
        for name, value, (low, high) in zip(names, here, allowed.bounds, strict=True)
        if high > low and (value - low < 1e-6 or high - value < 1e-6)
    ]
    angle, height, tilt, offset = map(float, here)
    return Fit(angle, height, tilt, offset, worst, tuple(tight), tuple(at_limit))


def curves_at(tool: Tool, rows: Array, chords: int) -> Array:
    """Return the curves of set-ups given as rows of angle, height, tilt and offset, see `outline.curves`."""
    return curves(tool, settings(rows[:, 0], rows[:, 2], rows[:, 1], rows[:, 3]), chords)
