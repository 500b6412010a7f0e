"""Which blades come into question for a profile: all blades for many profiles at once, each brought near to its best.

Width and depth of a cove tell the fence angle (`shape/cove.py`), here also for a tilted blade, whose circles keep one
size in the plane of true circles. From there a few steps are taken as Lawson did towards the least largest deviation:
each solves for the least sum of squares, and then weighs every point by how far off it still is. The root of the
weighted mean square is a lower bound of the least largest deviation, as near as the slopes tell it (Lawson,
Contributions to the Theory of Linear Least Maximum Approximation, 1961; Rice and Usow, Mathematics of Computation 22,
1968; the references from memory). Blades are ranked by that bound and only the first are fitted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.shape.cove import LEAST_ANGLE
from sweep.shape.frame import highest_setting
from sweep.shape.tool import Tool
from sweep.shop.off_curve import Array, off_curve

Limits = NDArray[np.bool_]

FITTED = 3
"""Blades of a profile that are fitted: the first of them by the screening."""

STATIONS = 17
"""Points along a profile."""

STEPS = 4
"""Steps taken towards the best set-up."""

GREATEST = np.array([[0.3], [20.0], [50.0], [0.3]])
"""How far one of them may go: fence angle, rad, blade height, mm, offset, mm, and blade tilt, rad."""

STIFF = 1e-6
"""Share of its own by which each setting's normal equation is made stiffer, where two settings do all but the same."""

EXACT = 1e-5
"""mm. How far off a point counts that is not off at all: about the last digit that is kept."""

TILTS = 5
"""Tilts that are looked at to begin with, where the saw may be tilted."""

LOT = 1500
"""Profiles looked at together: more do not stay in the cache, and fewer take as many calls each."""


@dataclass(frozen=True, eq=False)
class Shapes:
    """Profiles of one cove each, as the screening wants them.

    Parameters
    ----------
    points : (2, `STATIONS`, n) float, mm
        (y, z) evenly along each from its left edge to its right one. Seven digits do, and take half the time of more.
    depth, most : (n,) float, mm
        How deep it is, and how high a blade may be raised.
    """

    points: Array
    depth: Array
    most: Array

    def __getitem__(self, which: slice) -> Shapes:
        return Shapes(self.points[:, :, which], self.depth[which], self.most[which])


def shapes_of(lines: list[NDArray[np.float64]], most: list[float]) -> Shapes:
    """Return lines of one cove each, (m, 2) mm from the left edge to the right one, as the screening wants them."""
    path = np.concatenate(lines) @ [1.0, 1.0j]  # one after the other
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(path)))])
    ends = np.cumsum([len(line) for line in lines])
    begins = np.concatenate([[0], ends[:-1]])
    least, greatest = along[begins], along[ends - 1]
    evenly = np.interp(least + (greatest - least) * np.linspace(0.0, 1.0, STATIONS)[:, None], along, path)
    depth = np.maximum.reduceat(path.imag, begins)
    points = np.array([evenly.real, evenly.imag], np.float32)
    return Shapes(points, depth.astype(np.float32), np.array(most, np.float32))


def screened(tools: tuple[Tool, ...], shapes: Shapes, tilts: tuple[float, float] = (0.0, 0.0)) -> Array:
    """Return about how far each blade's best curve is from each profile, (n, tools) mm; infinite where it cuts nothing.

    Parameters
    ----------
    tools : tuple of Tool
    shapes : Shapes
    tilts : (float, float), rad
        Least and most that the saw may be tilted.
    """
    found = np.empty((len(shapes.depth), len(tools)))
    for first in range(0, len(found), LOT):
        lot = slice(first, first + LOT)
        for number, tool in enumerate(tools):
            with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
                found[lot, number] = _least_largest(tool, shapes[lot], tilts)
    return np.where(np.isfinite(found), found, np.inf)


def _least_largest(tool: Tool, shapes: Shapes, tilts: tuple[float, float]) -> Array:
    """Return a lower bound of one blade's least largest deviation from each profile, (n,) mm."""
    points = shapes.points
    most = np.minimum(shapes.most, highest_setting(tool, max(map(abs, tilts))))
    none = np.zeros_like(most)
    low = np.array([none + LEAST_ANGLE, none, none - np.inf, none + tilts[0]])
    high = np.array([none + math.pi / 2, most, none + np.inf, none + tilts[1]])
    free = 4 if tilts[1] > tilts[0] else 3
    at = _begun(tool, shapes, most, tilts)
    weights = np.ones_like(points[0])
    for step in range(STEPS):
        off, slopes = off_curve(tool, points, at, free)
        if step:
            still = np.abs(off) + EXACT
            weights *= np.sqrt(still) if step == 1 else still  # after one step the errors have not yet their last shape
        way = _least_squares(weights, off, slopes, at >= high, at <= low)
        at[:free] = np.clip(at[:free] + np.clip(way, -GREATEST[:free], GREATEST[:free]), low[:free], high[:free])
    off, _ = off_curve(tool, points, at)
    bound: Array = np.sqrt((weights * off * off).sum(axis=0) / weights.sum(axis=0))
    return bound


def _least_squares(weights: Array, off: Array, slopes: list[Array], highest: Limits, lowest: Limits) -> Array:
    """Return the step that makes the weighted sum of squares least, (settings, n); none beyond a limit.

    The normal equations are solved by elimination, for all set-ups at once: they are few, symmetric and definite.
    """
    weighted = [weights * slope for slope in slopes]
    left = np.array([[np.einsum("pn,pn->n", one, other) for other in slopes] for one in weighted])
    right = -np.array([np.einsum("pn,pn->n", one, off) for one in weighted])
    size = len(slopes)
    stuck = (highest[:size] & (right > 0)) | (lowest[:size] & (right < 0))
    unit = np.eye(size, dtype=left.dtype)[:, :, None]
    left = np.where(stuck[:, None] | stuck[None], unit, left * (1 + STIFF * unit))
    right = np.where(stuck, 0, right)
    for k in range(size - 1):
        share = left[k + 1 :, k] / left[k, k]
        left[k + 1 :] -= share[:, None] * left[k]
        right[k + 1 :] -= share * right[k]
    for k in reversed(range(size)):
        right[k] = (right[k] - (left[k, k + 1 :] * right[k + 1 :]).sum(axis=0)) / left[k, k]
    return right


def _begun(tool: Tool, shapes: Shapes, most: Array, tilts: tuple[float, float]) -> Array:
    """Return set-ups in closed form, (4, n): of several tilts the one that lies closest."""
    tried = [
        _by_width_and_depth(tool, shapes, most, float(tilt))
        for tilt in (np.linspace(*tilts, TILTS) if tilts[1] > tilts[0] else tilts[:1])
    ]
    if len(tried) == 1:
        return tried[0]
    gaps = [np.abs(off_curve(tool, shapes.points, at)[0]).max(axis=0) for at in tried]
    closest: Array = np.choose(np.nan_to_num(gaps, nan=np.inf).argmin(axis=0), tried)
    return closest


def _by_width_and_depth(tool: Tool, shapes: Shapes, most: Array, tilt: float) -> Array:
    """Return the set-ups, (4, n), at which a blade so tilted cuts a cove as wide and deep, or as nearly as it can."""
    left, right = shapes.points[0, 0], shapes.points[0, -1]
    rise = tool.rise_above_centre(tilt)
    height = np.clip(np.minimum(shapes.depth, most), 0.01, 0.98 * rise)
    middle = (height - rise) / math.cos(tilt)
    chord = 2 * np.sqrt(np.maximum(tool.radius**2 - middle * middle, 1e-6))
    kerf = tool.kerf / math.cos(tilt)
    widest = np.hypot(chord, kerf)
    aside = np.arctan2(kerf, chord)
    sum_of_both = np.arcsin(np.minimum((right - left) / widest, 1.0))  # beyond it a wider one is not to be had
    angle = np.where(right - left <= widest, sum_of_both - aside, math.pi / 2 - aside)
    begun = [np.clip(angle, LEAST_ANGLE, math.pi / 2), height, -(left + right) / 2, np.full_like(height, tilt)]
    return np.array(begun, shapes.points.dtype)
