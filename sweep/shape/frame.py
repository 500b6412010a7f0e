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
