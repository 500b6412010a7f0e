"""The fence angle that makes a cove of a given width and depth: closed form where there is one."""

from __future__ import annotations

import math

import numpy as np

from sweep.shape.feed import StraightFeed
from sweep.shape.section import edges_at_table
from sweep.shape.tool import Tool

LEAST_ANGLE = math.radians(0.1)
"""rad. Below it a feed is a rip cut."""


def angle_for_width(tool: Tool, tilt: float, depth: float, width: float) -> float | None:
    """Return the smallest fence angle, rad, at which a cove so deep is so wide; None when there is none.

    Parameters
    ----------
    tool : Tool
    tilt : float, rad
    depth, width : float, mm

    Notes
    -----
    Untilted, and widest at the two sides of the rim, width = c sin(angle) + k cos(angle) with c the chord
    of the rim at the table: a single sine of amplitude sqrt(c^2 + k^2), so angle = asin(width / amplitude) -
    atan2(k, c). Otherwise by bisection of the closed-form edges.

    Examples
    --------
    >>> from sweep.shape.tool import flat_tips
    >>> round(math.degrees(angle_for_width(flat_tips(127.0, 3.2), 0.0, 16.0, 60.7667)), 3)
    28.0
    >>> angle_for_width(flat_tips(127.0, 3.2), 0.0, 16.0, 300.0) is None
    True
    """
    first, last = tool.profile[0], tool.profile[-1]
    if tilt == 0.0 and first[1] == last[1] == tool.radius and depth < tool.radius:
        chord = 2 * math.sqrt(2 * tool.radius * depth - depth * depth)
        amplitude = math.hypot(chord, tool.kerf)
        if width > amplitude:
            return None
        angle = math.asin(width / amplitude) - math.atan2(tool.kerf, chord)
        return angle if LEAST_ANGLE <= angle <= math.pi / 2 else None

    angles = np.linspace(LEAST_ANGLE, math.pi / 2, 91)
    above = next((k for k, angle in enumerate(angles) if _width(tool, tilt, depth, angle) >= width), None)
    if not above:
        return None
    low, high = float(angles[above - 1]), float(angles[above])
    while high - low > 1e-12:
        middle = (low + high) / 2
        low, high = (middle, high) if _width(tool, tilt, depth, middle) < width else (low, middle)
    return (low + high) / 2


def widest(tool: Tool, tilt: float, depth: float) -> tuple[float, float]:
    """Return the widest cove of this depth, mm, and the fence angle that makes it, rad."""
    angles = np.linspace(LEAST_ANGLE, math.pi / 2, 901)
    widths = [_width(tool, tilt, depth, angle) for angle in angles]
    best = int(np.argmax(widths))
    return widths[best], float(angles[best])


def _width(tool: Tool, tilt: float, depth: float, angle: float) -> float:
    edges = edges_at_table(tool, StraightFeed(float(angle)), tilt, depth)
    return 0.0 if edges is None else edges[1] - edges[0]
