"""Which blades come into question for a profile: all blades for many profiles at once, set in closed form.

Width and depth of a cove tell the fence angle (`shape/cove.py`), here also for a tilted blade, whose circles keep one
size in the plane of true circles. The exact curve of that set-up is held against the profile, square to it as far as
its slope at that place tells. A fit comes about twice as close; blades are ranked by it and only the first are fitted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.shape.cove import LEAST_ANGLE
from sweep.shape.outline import curves, settings
from sweep.shape.tool import Tool

Array = NDArray[np.float64]

FITTED = 3
"""Blades of a profile that are fitted: the first of them by the screening."""

STATIONS = 65
"""Places along a profile at which its height is known."""

CHORDS = 4
"""Chords to each smooth piece of a curve that is held against it."""

TILTS = 5
"""Tilts at which a blade is tried where the saw may be tilted."""

LOT = 1000
"""Profiles looked at together: more do not stay in the cache."""


@dataclass(frozen=True, eq=False)
class Shapes:
    """Profiles of one cove each, as the screening wants them.

    Parameters
    ----------
    width, depth : (n,) float, mm
    heights : (n, `STATIONS`) float, mm
        At places evenly over the width, both edges among them.
    square : (n, `STATIONS`) float
        Cosine of the slope there: of a height that is off, how much of it is off square to the profile.
    most : (n,) float, mm
        How high a blade may be raised.
    """

    width: Array
    depth: Array
    heights: Array
    square: Array
    most: Array

    def __getitem__(self, which: slice) -> Shapes:
        return Shapes(self.width[which], self.depth[which], self.heights[which], self.square[which], self.most[which])


def shapes_of(lines: list[Array], most: list[float]) -> Shapes:
    """Return lines of one cove each, (m, 2) mm from the left edge to the right one, as the screening wants them."""
    heights = np.empty((len(lines), STATIONS))
    width, depth = np.empty(len(lines)), np.empty(len(lines))
    for k, line in enumerate(lines):
        across = np.maximum.accumulate(line[:, 0])  # where it runs back at an edge, upright
        heights[k] = np.interp(np.linspace(line[0, 0], line[-1, 0], STATIONS), across, line[:, 1])
        width[k], depth[k] = line[-1, 0] - line[0, 0], line[:, 1].max()
    slope = np.gradient(heights, axis=1) * (STATIONS - 1) / width[:, None]
    return Shapes(width, depth, heights, 1 / np.sqrt(1 + slope * slope), np.array(most))


def screened(tools: tuple[Tool, ...], shapes: Shapes, tilts: tuple[float, float] = (0.0, 0.0)) -> Array:
    """Return how far each blade's curve is from each profile, (n, tools) mm; infinite where it cuts nothing.

    Parameters
    ----------
    tools : tuple of Tool
    shapes : Shapes
    tilts : (float, float), rad
        Least and most that the saw may be tilted.
    """
    tried = np.linspace(*tilts, TILTS) if tilts[1] > tilts[0] else np.array(tilts[:1])
    found = np.empty((len(shapes.width), len(tools)))
    for first in range(0, len(found), LOT):
        lot = slice(first, first + LOT)
        for number, tool in enumerate(tools):
            found[lot, number] = np.min([_off(tool, shapes[lot], float(tilt)) for tilt in tried], axis=0)
    return found


def _off(tool: Tool, shapes: Shapes, tilt: float) -> Array:
    """Return how far one blade's curve, tilted by `tilt`, rad, is from each profile, (n,) mm."""
    rise = tool.rise_above_centre(tilt)
    height = np.clip(np.minimum(shapes.depth, shapes.most), 0.01, 0.98 * rise)
    middle = (height - rise) / math.cos(tilt)
    chord = 2 * np.sqrt(np.maximum(tool.radius**2 - middle * middle, 1e-6))
    kerf = tool.kerf / math.cos(tilt)
    widest = np.hypot(chord, kerf)
    reached = shapes.width <= widest
    angle = np.arcsin(np.minimum(shapes.width / widest, 1.0)) - np.where(reached, np.arctan2(kerf, chord), 0.0)
    angle = np.where(reached, angle, np.arctan2(chord, kerf))
    curve = curves(tool, settings(np.clip(angle, LEAST_ANGLE, math.pi / 2), tilt, height), CHORDS)
    left, right = curve[:, :1, 0], curve[:, -1:, 0]
    # where the width can be had it is had, up to what a tilt changes in it: the places along it are the profile's
    own = np.where(reached[:, None], right - left, shapes.width[:, None])
    share = (curve[:, :, 0] - (left + right) / 2) / own + 0.5
    place = np.clip(share * (STATIONS - 1), 0, STATIONS - 1)
    with np.errstate(invalid="ignore"):
        before = np.minimum(np.nan_to_num(place).astype(np.intp), STATIONS - 2)
    at = before + STATIONS * np.arange(len(curve))[:, None]
    low, high = shapes.heights.ravel().take(at), shapes.heights.ravel().take(at + 1)
    wanted = low + (high - low) * (place - before)
    off = np.abs((wanted - curve[:, :, 1]) * shapes.square.ravel().take(at)).max(axis=1)
    return np.where(np.isfinite(off), off, np.inf)
