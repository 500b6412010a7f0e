"""The machine frame, and where the blade stands in it.

    machine frame (mm, right-handed)          stock frame (mm, right-handed)

          z up                                       z up, 0 on the face that rides on the table
          |   y away from the operator               |   y across, 0 on the centreline
          |  /                                       |  /
          | /                                        | /
          +------ x along the arbor                  +------ x from the leading end backwards

The table top is z = 0. Untilted, the blade's mid-plane is x = 0; it tilts about the y axis, the top
towards +x when the tilt is positive. The leading end of the stock, the first to meet the blade,
is x = 0 of the stock frame: looking along the feed, y points to the right and z up.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.shape.tool import Tool


def arbor_axis(tilt: float) -> NDArray[np.float64]:
    """Return the unit vector along the arbor, (3,), machine frame."""
    return np.array([math.cos(tilt), 0.0, -math.sin(tilt)])


def blade_up(tilt: float) -> NDArray[np.float64]:
    """Return the unit vector in the blade's plane, square to the table's y axis, (3,), machine frame."""
    return np.array([math.sin(tilt), 0.0, math.cos(tilt)])


def centre_height(tool: Tool, tilt: float, blade_height: float) -> float:
    """Return the height of the blade's centre above the table when its highest point is at `blade_height`, mm."""
    return blade_height - tool.rise_above_centre(tilt)


def highest_setting(tool: Tool, tilt: float) -> float:
    """Return the blade height at which the centre of some disc of the tool would reach the table, mm.

    Below it, every section widens towards the table and a raised blade takes all that a lower one took.
    """
    lowest_centre = max(-a * math.sin(tilt) for a, _ in tool.profile)
    return tool.rise_above_centre(tilt) - lowest_centre


def reach_along(tool: Tool, way: NDArray[np.float64], tilt: float, blade_height: float, below: float) -> float:
    """Return how far from the blade's centre the blade reaches either way along a level direction, mm.

    Parameters
    ----------
    tool : Tool
    way : (3,) float
        A unit vector, machine frame, its z nought.
    tilt : float, rad
    blade_height, below : float, mm
        What lies lower than so far below the table does not count; where nothing counts the reach is 0.

    Notes
    -----
    At rim angle p a circle is at c + r (cos p way_y + sin p up . way): a wave with its crest at the angle of these two,
    so over an arc it is greatest and least there or at the arc's ends. Both circles of a band get the arc of the one
    that comes further up, so that the lines between them count from where they come above the plane.
    """
    centre, up = centre_height(tool, tilt, blade_height), float(blade_up(tilt) @ way)
    crest, furthest = math.atan2(up, way[1]), 0.0
    for band in tool.bands:
        sines = ((a * math.sin(tilt) - centre - below) / (r * math.cos(tilt)) for a, r in band)
        half = max(math.acos(min(1.0, max(-1.0, sine))) for sine in sines)
        if half == 0.0:
            continue
        turns = (crest + k * math.pi for k in (-1, 0, 1))
        places = [turn for turn in turns if abs(turn - math.pi / 2) < half] + [math.pi / 2 - half, math.pi / 2 + half]
        for a, r in band:
            middle = up * centre / math.cos(tilt) + a * float(arbor_axis(tilt) @ way)
            for p in places:
                furthest = max(furthest, abs(middle + r * (math.cos(p) * float(way[1]) + math.sin(p) * up)))
    return furthest


def rim_points(offset: float, radius: float, angles: ArrayLike, tilt: float, centre: float) -> NDArray[np.float64]:
    """Return points of one circle of the tool in the machine frame, mm.

    Parameters
    ----------
    offset, radius : float, mm
        One point of the tool's profile.
    angles : (n,) float, rad
        Rim angle: 90 deg is the top, 0 points away from the operator.
    tilt : float, rad
    centre : float, mm
        Height of the blade's centre above the table.

    Returns
    -------
    (n, 3) float, mm
    """
    angles = np.asarray(angles, float)
    up = blade_up(tilt)
    middle = up * (centre / math.cos(tilt)) + arbor_axis(tilt) * offset
    along = np.array([0.0, 1.0, 0.0])
    points: NDArray[np.float64] = middle + radius * (np.sin(angles)[:, None] * up + np.cos(angles)[:, None] * along)
    return points
