"""Many cut curves at once: the roof of the cove for whole arrays of set-ups, as points on the exact curve.

Searches and chance set-ups use it: no solids, no polygons, only the closed form of `section.py` on arrays. In its plane
the tool's circles are true circles. There the roof over a band is the first circle, the common tangent or the second
circle, whichever is highest, and the roof over the tool is the highest of its bands.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.shape.tool import Tool

Array = NDArray[np.float64]
Touches: TypeAlias = tuple[Array, Array, Array, Array]


@dataclass(frozen=True, eq=False)
class Settings:
    """Arrays of set-ups of one tool, all of one length.

    Parameters
    ----------
    fence_angle, blade_tilt : (b,) float, rad
    blade_height, offset : (b,) float, mm
    kerf_change : (b,) float, mm
        How much wider than drawn the tool cuts, half on each side.
    """

    fence_angle: Array
    blade_tilt: Array
    blade_height: Array
    offset: Array
    kerf_change: Array


def settings(
    fence_angle: ArrayLike,
    blade_tilt: ArrayLike,
    blade_height: ArrayLike,
    offset: ArrayLike = 0.0,
    kerf_change: ArrayLike = 0.0,
) -> Settings:
    """Return arrays of set-ups, numbers stretched to the length of the longest; units as in `Settings`."""
    arrays = np.broadcast_arrays(*map(np.atleast_1d, (fence_angle, blade_tilt, blade_height, offset, kerf_change)))
    return Settings(*(np.asarray(array, float) for array in arrays))


def _circles(tool: Tool, s: Settings) -> tuple[Array, Array, Array]:
    """Return x, z (b, k) and r (k,) of the tool's circles in the plane of true circles, mm."""
    a, r = np.array(tool.profile).T
    share = np.where(tool.kerf > 0, a / (tool.kerf / 2), 0.0)
    a = a + share * s.kerf_change[:, None] / 2  # (b, k)
    theta, beta = s.fence_angle[:, None], s.blade_tilt[:, None]
    cosine, lean = np.cos(beta), a * np.sin(beta)
    centre = s.blade_height[:, None] - (r * cosine - lean).max(axis=1, keepdims=True)
    return a / (np.tan(theta) * cosine), (centre - lean) / cosine, r


def _tangents(x: Array, z: Array, r: Array, hand: int) -> Touches:
    """Return the points of touch (x1, z1, x2, z2) of each band's common tangent, NaN where one circle hides the other.

    `hand` is 1 for the tangent over the top and -1 for the one underneath, seen along rising x.
    """
    dx, dz, dr = x[:, 1:] - x[:, :-1], z[:, 1:] - z[:, :-1], r[:-1] - r[1:]
    apart2 = dx * dx + dz * dz
    with np.errstate(invalid="ignore", divide="ignore"):
        sine = np.sqrt(np.where(apart2 > dr * dr, apart2 - dr * dr, np.nan)) * hand
        nx, nz = (dx * dr - dz * sine) / apart2, (dz * dr + dx * sine) / apart2
    return x[:, :-1] + r[:-1] * nx, z[:, :-1] + r[:-1] * nz, x[:, 1:] + r[1:] * nx, z[:, 1:] + r[1:] * nz


def _edges(x: Array, z: Array, r: Array, over: Touches) -> tuple[Array, Array]:
    """Return the two x at which the roof meets the table, (b,) mm; NaN where it does not."""
    with np.errstate(invalid="ignore"):
        half = np.sqrt(np.where(np.abs(z) < r, r * r - z * z, np.nan))
    reached = [x - half, x + half]
    for x1, z1, x2, z2 in (over, _tangents(x, z, r, -1)):
        with np.errstate(invalid="ignore", divide="ignore"):
            crossing = x1 + (x2 - x1) * z1 / (z1 - z2)
            reached.append(np.where((z1 < 0) != (z2 < 0), crossing, np.nan))
    every = np.concatenate(reached, axis=1)
    return np.fmin.reduce(every, axis=1), np.fmax.reduce(every, axis=1)


def edges(tool: Tool, s: Settings) -> tuple[Array, Array]:
    """Return where the cut's edges meet the table, y in mm, (b,) each; NaN where the cut does not reach it."""
    circles = _circles(tool, s)
    low, high = _edges(*circles, _tangents(*circles, 1))
    sine = np.sin(s.fence_angle)
    return low * sine - s.offset, high * sine - s.offset


def curves(tool: Tool, s: Settings, chords: int) -> Array:
    """Return points on the exact cut curves, from the left edge at the table to the right one.

    Parameters
    ----------
    tool : Tool
    s : Settings
        b set-ups whose cuts reach the table.
    chords : int
        Chords to each smooth piece of the curve: an arc of the rim or the flat of the kerf.

    Returns
    -------
    (b, n, 2) float, mm
        In (y, z), stock frame; n is odd: every other point ends a chord, the one between lies on the curve above it.
    """
    x, z, r = _circles(tool, s)
    over = _tangents(x, z, r, 1)
    low, high = _edges(x, z, r, over)
    low, high = low[:, None], high[:, None]
    touches = np.concatenate(over[::2], axis=1)  # the x of each point of touch, NaN where there is none
    within = np.minimum(np.fmax(touches, low), high)
    ends = np.sort(np.concatenate([low, within, high], axis=1), axis=1)  # (b, pieces + 1)
    share = np.arange(2 * chords) * (1.0 / (2 * chords))
    at = ends[:, :-1, None] + (ends[:, 1:] - ends[:, :-1])[:, :, None] * share
    at = np.concatenate([at.reshape(len(x), -1), high], axis=1)
    roof = _roof(at, x, z, r, over)
    roof[:, 0] = roof[:, -1] = 0.0
    height = np.maximum(roof, 0.0) * np.cos(s.blade_tilt)[:, None]
    lean = (np.tan(s.blade_tilt) * np.cos(s.fence_angle))[:, None]
    return np.stack([at * np.sin(s.fence_angle)[:, None] + height * lean - s.offset[:, None], height], axis=2)


def _roof(at: Array, x: Array, z: Array, r: Array, over: Touches) -> Array:
    """Return the height of the roof over each place, (b, n)."""
    roof = np.full(at.shape, -np.inf)
    x1, z1, x2, z2 = over
    with np.errstate(invalid="ignore", divide="ignore"):  # beside a circle there is none of its roof: no number
        for k in range(len(r)):  # few circles, many set-ups
            np.fmax(roof, z[:, k, None] + np.sqrt(r[k] ** 2 - (at - x[:, k, None]) ** 2), out=roof)
        for k in range(len(r) - 1):
            a, b = x1[:, k, None], x2[:, k, None]
            line = z1[:, k, None] + (at - a) * ((z2[:, k, None] - z1[:, k, None]) / (b - a))
            between = (at >= np.minimum(a, b)) & (at <= np.maximum(a, b))
            np.maximum(roof, np.where(between, line, -np.inf), out=roof)
    return roof
