"""The profile wanted, as one line in (y, z) from the left edge of the cove to the right one."""

from __future__ import annotations

import math
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from sweep.scene.target import Target
from sweep.shape.cove import angle_for_width, widest
from sweep.shape.outline import curves, settings
from sweep.shape.tool import Tool
from sweep.tolerance import CHORD

CURVE = CHORD / 10
"""mm. Chord tolerance of the drawn target, well below that of the mesh that is held against it."""

CURVE_CHORDS = 100
"""Chords to each smooth piece of a blade's own curve: about `CURVE` for a cove 60 mm wide."""


def target_line(target: Target, tool: Tool, tilt: float) -> NDArray[np.float64]:
    """Return the profile wanted, (n, 2) mm in (y, z); a plain cove's is the curve of the blade, tilted by `tilt`, rad.

    Raises
    ------
    SceneError
        When no fence angle lets this blade cut a cove as wide as asked at the depth asked.

    Notes
    -----
    Arc: the circle of radius (w^2/4 + d^2) / (2 d) through both edges and the bottom. Ellipse: the half
    ellipse of axes w and 2 d. Cove: the three marks are two edges and a depth, and the curve between
    them is the one that the blade makes, at its tilt, when it hits all three.
    """
    match target.shape:
        case "points":
            line = np.array(target.points, float)
        case "cove":
            line = _blade_curve(target, tool, tilt)
        case "arc":
            line = _arc(*target.size)
        case "ellipse":
            line = _ellipse(*target.size)
        case other:
            assert_never(other)
    return line + (target.across, 0.0)


def _arc(width: float, depth: float) -> NDArray[np.float64]:
    radius = (width**2 / 4 + depth**2) / (2 * depth)
    half = math.atan2(width / 2, radius - depth)
    turn = np.linspace(-half, half, _pieces(2 * half, radius))
    return np.column_stack([radius * np.sin(turn), np.maximum(0.0, depth - radius + radius * np.cos(turn))])


def _ellipse(width: float, depth: float) -> NDArray[np.float64]:
    turn = np.linspace(-math.pi / 2, math.pi / 2, _pieces(math.pi, max(width / 2, depth)))
    return np.column_stack([width / 2 * np.sin(turn), depth * np.abs(np.cos(turn))])


def _pieces(turn: float, radius: float) -> int:
    """Return how many points, an odd number, draw an arc within `CURVE`."""
    return 2 * math.ceil(turn / (4 * math.acos(1 - min(CURVE, radius / 8) / radius))) + 1


def _blade_curve(target: Target, tool: Tool, tilt: float) -> NDArray[np.float64]:
    width, depth = target.size
    angle = angle_for_width(tool, tilt, depth, width)
    if angle is None:
        raise target.too_wide(widest(tool, tilt, depth)[0])
    curve = curves(tool, settings(angle, tilt, depth), CURVE_CHORDS)[0]
    centred: NDArray[np.float64] = curve - ((curve[0, 0] + curve[-1, 0]) / 2, 0.0)
    return centred
