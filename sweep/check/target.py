"""The profile wanted, as one line in (y, z) from the left edge of the cove to the right one."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.figure import length
from sweep.scene.model import Scene
from sweep.scene.target import Target
from sweep.shape.cove import angle_for_width, widest
from sweep.shape.outline import curves, settings
from sweep.shape.tool import Tool
from sweep.tolerance import CHORD

CURVE = CHORD / 10
"""mm. Chord tolerance of the drawn target, well below that of the mesh that is held against it."""

CURVE_CHORDS = 100
"""Chords to each smooth piece of a blade's own curve: about `CURVE` for a cove 60 mm wide."""


def target_line(scene: Scene) -> NDArray[np.float64] | None:
    """Return the profile wanted, (n, 2) mm in (y, z), or None when the scene names none.

    Raises
    ------
    SceneError
        When no fence angle lets this blade cut a cove as wide as asked at the depth asked.

    Notes
    -----
    Arc: the circle of radius (w^2/4 + d^2) / (2 d) through both edges and the bottom. Ellipse: the half
    ellipse of axes w and 2 d. Cove: the three marks are two edges and a depth, and the curve between
    them is the one that the blade makes, at the scene's tilt, when it hits all three.
    """
    target = scene.target
    if target is None:
        return None
    if target.shape == "points":
        line = np.array(target.points, float)
    elif target.shape == "cove":
        line = _blade_curve(scene.tool, scene.tilt, target)
    else:
        line = _arc(target.width, target.depth) if target.shape == "arc" else _ellipse(target.width, target.depth)
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


def _blade_curve(tool: Tool, tilt: float, target: Target) -> NDArray[np.float64]:
    angle = angle_for_width(tool, tilt, target.depth, target.width)
    if angle is None:
        most, _ = widest(tool, tilt, target.depth)
        raise SceneError(
            "target.width",
            "at {depth} deep no fence angle makes this blade cut a cove {value} wide; the widest is {limit:down}",
            "ask for a width that it can cut, or another depth or blade",
            depth=length(target.depth),
            value=length(target.width),
            limit=length(most),
        )
    curve = curves(tool, settings(angle, tilt, target.depth), CURVE_CHORDS)[0]
    return curve - ((curve[0, 0] + curve[-1, 0]) / 2, 0.0)
