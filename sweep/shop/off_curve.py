"""How far points lie off the curve that a blade cuts, and how that changes with its set-up: many set-ups at once.

In the plane of true circles (`shape/section.py`) a band of the tool is the hull of two circles, so a point is as far
off as its distance to the nearest place between the two centres is more than the radius there. Divided by how fast that
grows across the stock it is, to first order, the distance square to the curve. Nothing is drawn and nothing looked for.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweep.shape.tool import Tool

Array = NDArray[np.floating[Any]]

STEEPEST = 10.0
"""How many times as far along the table as square to itself the end of a curve may be: where it all but lies on it."""

TINY = 1e-9
"""mm^2. A length that is not divided by."""


def off_curve(tool: Tool, points: Array, at: Array, settings: int = 0) -> tuple[Array, list[Array]]:
    """Return how far points lie outside what a blade cuts, and the slopes of that along its settings.

    Parameters
    ----------
    tool : Tool
    points : (2, p, n) float, mm
        In (y, z) of the stock, p for each of n set-ups, the first and the last where a profile meets the table.
    at : (4, n) float
        Fence angle, rad, blade height, mm, offset, mm, and blade tilt, rad.
    settings : int
        Along how many of them the slopes are wanted: none, all, or all but the tilt.

    Returns
    -------
    off : (p, n) float, mm
        Square to the curve, of the first and the last point along the table; negative inside.
    slopes : list of (p, n)
        In the order of the settings.
    """
    y, z = points
    angle, height, offset, tilt = at
    places, radii = np.array(tool.profile, dtype=points.dtype).T
    sine, cosine, lean = np.sin(angle), np.cos(tilt), np.tan(tilt)
    across = np.cos(angle) / sine
    tops = radii[:, None] * cosine - places[:, None] * np.sin(tilt)
    centre = (height - tops.max(axis=0)) / cosine
    x, up = (y + offset) / sine - z * (lean * across), z / cosine

    found: tuple[Array, ...] = ()
    for a, b, r, s in zip(places[:-1], places[1:], radii[:-1], radii[1:], strict=True):
        run, fall, change = (b - a) * across / cosine, (a - b) * lean, s - r
        length = np.maximum(run * run + fall * fall, TINY)
        slant = -change / np.sqrt(np.maximum(length - change * change, TINY))
        u, v = x - a * across / cosine, up - (centre - a * lean)
        share = u * ((run + slant * fall) / length) + v * ((fall - slant * run) / length)
        share = np.minimum(np.maximum(share, 0), 1)  # between the places where the common tangent touches
        u -= share * run
        v -= share * fall
        far = np.sqrt(u * u + v * v)
        this = far - (r + share * change), u / far, v / far, a + share * (b - a)
        if found:
            nearer = this[0] < found[0]
            for kept, new in zip(found, this, strict=True):
                np.copyto(kept, new, where=nearer)
        else:
            found = this
    outside, out_x, out_up, place = found

    along = out_x / sine
    size = out_up / cosine - out_x * (lean * across)
    size = along * along + size * size
    ends = [0, -1]
    size[ends] = np.maximum(along[ends] ** 2, size[ends] / STEEPEST**2)
    scale = 1 / np.sqrt(size)
    slopes: list[Array] = []
    if settings:
        out_x *= scale
        out_up *= scale
        slopes = [out_x * (place / (sine * sine * cosine) + z * lean - x * across), -out_up / cosine, out_x / sine]
    if settings > len(slopes):
        top = tops.argmax(axis=0)
        sinks = (radii[top] * np.sin(tilt) + places[top] * cosine) / cosine + centre * lean  # the centre, with the tilt
        sideways = (z + place * np.sin(tilt)) * (across / cosine**2)
        slopes.append(out_up * (up * lean - sinks + place / cosine**2) - out_x * sideways)
    return outside * scale, slopes
