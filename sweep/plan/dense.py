"""A second look at a fit: whether any set-up of a fine grid is closer, wherever one could be."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sweep.plan.closeness import largest, sampled
from sweep.plan.fit import COARSE, FINE, POINTS, Array, Fit, Range, curves_at
from sweep.shape.outline import edges, settings
from sweep.shape.tool import Tool


@dataclass(frozen=True)
class DenseCheck:
    """A look at every set-up of a fine grid that could be closer than a fit.

    Parameters
    ----------
    looked_at : int
        Set-ups of the grid whose depth and edges do not rule them out.
    closest : float, mm
        The least largest deviation among them; infinite when there were none.
    """

    looked_at: int
    closest: float


def dense_check(tool: Tool, line: Array, allowed: Range, fit: Fit, most: int = 20_000) -> DenseCheck:
    """Look for a set-up closer than a fit wherever one could be.

    Notes
    -----
    A curve that stays within E of a line has its top within E of the line's top, and each of its ends, on
    the table, within E of a point of the line that is no more than E high. That leaves a box of heights and
    offsets for each angle and tilt, and of the grid in it all or, evenly, `most` are looked at.
    """
    gap, top = fit.deviation, float(line[:, 1].max())
    low_points = line[line[:, 1] <= gap + 1e-9]
    middle = len(line) // 2
    firsts, lasts = low_points[low_points[:, 0] <= line[middle, 0]], low_points[low_points[:, 0] > line[middle, 0]]
    if not len(firsts) or not len(lasts):
        return DenseCheck(0, math.inf)
    bounds = allowed.bounds
    fixed = bounds[2, 0] == bounds[2, 1]
    angles = np.linspace(*allowed.fence_angle, 721)
    heights = np.linspace(max(bounds[1, 0], top - gap), min(bounds[1, 1], top + gap), 11)
    tilts = np.linspace(*allowed.blade_tilt, 1 if fixed else 61)
    angle, height, tilt = (grid.ravel() for grid in np.meshgrid(angles, heights, tilts))
    left, right = edges(tool, settings(angle, tilt, height))
    # offsets that bring the left end into its box, and those that bring the right end into its own
    least = np.maximum(left - firsts[:, 0].max() - gap, right - lasts[:, 0].max() - gap)
    greatest = np.minimum(left - firsts[:, 0].min() + gap, right - lasts[:, 0].min() + gap)
    with np.errstate(invalid="ignore"):
        possible = np.flatnonzero(greatest >= least)
    share = np.linspace(0.0, 1.0, 9)
    offsets = least[possible, None] + (greatest - least)[possible, None] * share
    rows = np.column_stack([np.repeat(grid[possible], len(share)) for grid in (angle, height, tilt)])
    rows = np.column_stack([rows, offsets.ravel()])
    rows = rows[:: max(1, math.ceil(len(rows) / most))]
    if len(rows) == 0:
        return DenseCheck(0, math.inf)
    gaps = largest(curves_at(tool, rows, COARSE), sampled(line, 60), sampled(line, POINTS // 2))
    best = rows[np.argsort(gaps)[:5]]
    return DenseCheck(len(rows), float(largest(curves_at(tool, best, FINE), line, sampled(line, 3 * POINTS)).min()))
