"""The profile wanted, as one line in (y, z) from the left edge of the cove to the right one."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.scene.model import Scene
from sweep.scene.sections import Target
from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import Tool
from sweep.tolerance import CHORD

CURVE = CHORD / 10
"""mm. Chord tolerance of the drawn target, well below that of the mesh that is held against it."""


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
    angle = _angle_for_width(tool, tilt, target)
    cut = section.cut_section(tool, StraightFeed(angle), tilt, target.depth, CURVE)
    left, right = section.edges_at_table(tool, StraightFeed(angle), tilt, target.depth)
    above = shapely.intersection(cut, shapely.box(left - 1000, 0.0, right + 1000, target.depth + 1))
    ring = np.array(shapely.orient_polygons(above).exterior.coords)[:-1]
    start = int(np.argmax(ring[:, 0] - 1e6 * ring[:, 1]))  # the right edge, on the table; then over the top
    line = np.roll(ring, -start, axis=0)[::-1]
    line = np.vstack([[left, 0.0], line[1:-1], [right, 0.0]])  # the chord's feet, set on the exact edges
    return line - ((left + right) / 2, 0.0)


def _angle_for_width(tool: Tool, tilt: float, target: Target) -> float:
    """Return the smallest fence angle at which the cove is as wide as asked, by bisection."""

    def width(angle: float) -> float:
        edges = section.edges_at_table(tool, StraightFeed(angle), tilt, target.depth)
        return edges[1] - edges[0]

    low = math.radians(0.1)
    angles = np.linspace(low, math.pi / 2, 91)
    widths = [width(angle) for angle in angles]
    if not widths[0] <= target.width <= max(widths):
        raise SceneError(
            "target.width",
            f"at {target.depth:.4g} mm deep this blade cuts coves from {widths[0]:.4g} to {max(widths):.4g} mm wide, "
            f"not {target.width:.4g} mm",
            "ask for a width in that range, or another depth or blade",
        )
    above = next(k for k, w in enumerate(widths) if w >= target.width)
    low, high = angles[max(0, above - 1)], angles[above]
    while high - low > 1e-12:
        middle = (low + high) / 2
        low, high = (middle, high) if width(middle) < target.width else (low, middle)
    return (low + high) / 2
