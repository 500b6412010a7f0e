"""The saw as plain triangles, in the machine frame: a stretch of the table, its throat plate, fence and blade."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sweep.cut.stages import travel_range
from sweep.scene.model import WholeScene
from sweep.shape.frame import arbor_axis, blade_up, centre_height

PLATE = 12.0
"""mm. Thickness at which the table is drawn."""

_COMMON_FENCE = 1100.0
"""mm. Length of a fence as drawn where the scene does not say."""

_TALLEST_FENCE = 50.0
"""mm. As drawn: a taller one would hide the room from the work."""

_COMMON_TABLE = (-450.0, 550.0, -360.0, 320.0)
"""mm. Left, right, front and rear edge from the blade's centre, as drawn where a scene has no table."""

_STEPS_A_TOOTH = 12
_SLOT_PLAY = 1.6
"""mm. Room drawn between the blade and the edge of its slot."""


@dataclass(frozen=True, eq=False)
class Shape:
    """Part of the saw.

    Parameters
    ----------
    points : (n, 3) float, mm
    triangles : (m, 3) int
        Which points; the part's outside, or the upper side of a flat patch, sees them run anticlockwise.
    """

    points: NDArray[np.float64]
    triangles: NDArray[np.int64]


@dataclass(frozen=True)
class Window:
    """The stretch of the machine that is drawn, square to the feed; everything in it is cut off at its ends.

    Parameters
    ----------
    half : float, mm
        Along the feed, either way from the blade's centre.
    right, left : float, mm
        Limits across, along u; `right` is the greater.
    fence : (float, float), mm
        Limits of the fence, along u.
    fence_height : float, mm
    """

    half: float
    right: float
    left: float
    fence: tuple[float, float]
    fence_height: float


def window_of(scene: WholeScene) -> Window:
    """Return a window that holds the whole engagement, the stock's width and the throat plate."""
    stock, offset = scene.stock, scene.setup.offset
    reach = -travel_range(scene, len(scene.passes.heights))[0]
    plate = _throat(scene)
    along, across = plate @ scene.feed.direction, plate @ scene.feed.across
    half = max(1.5 * reach + 20, 0.95 * stock.width, float(np.abs(along).max()) + 15)
    face = offset + (stock.width / 2 if scene.setup.fence_side == "near" else -stock.width / 2)
    thick = max(16.0, 0.2 * stock.width)
    fence = (face, face + thick) if scene.setup.fence_side == "near" else (face - thick, face)
    lip = 0.24 * half
    right = max(offset + stock.width / 2, fence[1], float(across.max())) + lip
    left = min(offset - stock.width / 2, fence[0], float(across.min())) - lip
    return Window(half, right, left, fence, min(1.25 * stock.thickness, _TALLEST_FENCE))


def table(scene: WholeScene, window: Window) -> Shape:
    """Return the plate of the table."""
    return _box(scene, (-window.half, window.half), (window.left, window.right), (-PLATE, 0.0))


def whole_table(scene: WholeScene) -> Shape:
    """Return the plate of the whole table, as the scene says, or of a common size."""
    left, right, front, rear = scene.saw.edges or _COMMON_TABLE
    corners = itertools.product((-PLATE, 0.0), (left, right), (rear, front))
    return Shape(np.array([(x, y, z) for z, x, y in corners]), _BOX_FACES)


def fence(scene: WholeScene, window: Window) -> Shape:
    """Return the fence."""
    return _box(scene, (-window.half, window.half), window.fence, (0.0, window.fence_height))


def whole_fence(scene: WholeScene) -> Shape:
    """Return the fence at its whole length, as the scene says, or a common one."""
    window = window_of(scene)
    return fence(scene, replace(window, half=(scene.fence.length or _COMMON_FENCE) / 2))


def throat_plate(scene: WholeScene) -> Shape:
    """Return the throat plate, lying on the table."""
    return _polygon(_throat(scene), 0.15)


def mitre_slots(scene: WholeScene) -> Shape:
    """Return the mitre slots in the table, as flat patches; none where the scene gives no slots."""
    _, _, front, rear = scene.saw.edges or _COMMON_TABLE
    corners = [(x, y, 0.1) for strip in scene.saw.slot_strips for x, y in itertools.product(strip, (front, rear))]
    patches = np.arange(len(corners)).reshape(-1, 4)[:, [0, 2, 3, 1]]
    return Shape(np.array(corners).reshape(-1, 3), _halved(patches))


def slot(scene: WholeScene) -> Shape:
    """Return the slot in the throat plate, as a dark patch."""
    long, wide = _blade_at_table(scene)
    x, y = wide + _SLOT_PLAY, long + 6.0
    return _polygon(np.array([[x, -y, 0], [x, y, 0], [-x, y, 0], [-x, -y, 0]]), 0.3)


def feed_arrow(scene: WholeScene, window: Window) -> Shape:
    """Return an arrow along the feed, on the table where it is free."""
    start, level, size = _arrow(scene, window)
    outline = [(2.3, 0.0), (1.4, -0.42), (1.4, -0.14), (0.0, -0.14), (0.0, 0.14), (1.4, 0.14), (1.4, 0.42)]
    points = [_on_table(scene, start + along * size, level + across * size) for along, across in outline]
    return _polygon(np.array(points), 0.2)


def arrow_tip(scene: WholeScene, window: Window) -> NDArray[np.float64]:
    """Return a place a little beyond the feed's arrow, for a word, (3,)."""
    start, level, size = _arrow(scene, window)
    return _on_table(scene, start + 3.3 * size, level)


def _arrow(scene: WholeScene, window: Window) -> tuple[float, float, float]:
    """Return where the arrow starts along the feed, where it lies across, and its size, mm."""
    offset, half = scene.setup.offset, scene.stock.width / 2
    near = scene.setup.fence_side == "near"
    edge, rim = (offset - half, window.left) if near else (offset + half, window.right)
    level = (edge + rim) / 2
    size = min(0.7 * abs(edge - rim), 0.2 * window.half)
    blade_runs_forward = level * scene.feed.across[1] > 0  # at this level, seen along the feed
    return (-0.85 if blade_runs_forward else 0.05) * window.half, level, size


def _on_table(scene: WholeScene, along: float, across: float) -> NDArray[np.float64]:
    return along * scene.feed.direction + across * scene.feed.across


def outermost(scene: WholeScene, window: Window) -> NDArray[np.float64]:
    """Return points of table, fence and stock that a view of the saw must hold, (n, 3), mm."""
    along, across = scene.feed.direction, scene.feed.across
    top = max(window.fence_height, scene.stock.thickness, scene.setup.blade_height)
    box = itertools.product((-window.half, window.half), (window.left, window.right), (-PLATE, 0.0))
    tall = (*window.fence, scene.setup.offset - scene.stock.width / 2, scene.setup.offset + scene.stock.width / 2)
    points = [(*(a * along + c * across)[:2], z) for a, c, z in box]
    points += [(*(a * along + c * across)[:2], top) for a in (-window.half, window.half) for c in tall]
    return np.array(points)


def blade(scene: WholeScene) -> tuple[Shape, Shape]:
    """Return the blade's body and the tops of its teeth, about the arbor, before it is set up.

    Its frame: x along the arbor, y away from the operator, z up in the blade's plane. The teeth point
    the way the rim turns: over the top towards the operator.
    """
    profile, teeth = np.array(scene.tool.profile), scene.blade.teeth
    fall, is_top = _tooth(scene)
    turn = np.arange(teeth * _STEPS_A_TOOTH) * 2 * math.pi / (teeth * _STEPS_A_TOOTH)
    rings = []
    for a, r in profile:
        reach = np.maximum(r - np.tile(fall, teeth), 0.05 * scene.tool.radius)
        rings.append(np.column_stack([np.full(len(turn), a), reach * np.cos(turn), reach * np.sin(turn)]))
    hubs = np.array([[profile[0, 0], 0.0, 0.0], [profile[-1, 0], 0.0, 0.0]])
    points = np.vstack([*rings, hubs])

    here = np.arange(len(turn))
    ahead = np.roll(here, -1)
    starts = np.arange(len(profile)) * len(turn)
    rim = [np.column_stack([here + k, ahead + k, ahead + m, here + m]) for k, m in itertools.pairwise(starts)]
    bands = np.stack(rim)
    hub = np.full(len(turn), len(points) - 1)
    sides = [np.column_stack([hub - 1, ahead, here]), np.column_stack([hub, here + starts[-1], ahead + starts[-1]])]
    tops = np.tile(is_top, teeth)
    body = np.vstack([_halved(bands[:, ~tops]), *sides])
    return Shape(points, body), Shape(points, _halved(bands[:, tops]))


def _tooth(scene: WholeScene) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Return, at even steps of one pitch, how far the rim lies below the tip, mm, and where the tip's top is.

    Behind the tip the land falls back a little; then comes the gullet, and the face of the next tooth.
    """
    radius, pitch = scene.tool.radius, 2 * math.pi / scene.blade.teeth * scene.tool.radius
    depth = min(0.075 * radius, 0.35 * pitch)
    land = 1 - min(0.5, 1.6 * depth / pitch)  # share of a pitch
    step = np.arange(_STEPS_A_TOOTH) / _STEPS_A_TOOTH
    bowl = depth * np.sin(0.62 * math.pi * (step - land) / (1 - land))
    return np.where(step <= land, 0.12 * depth * (1 - step / land), bowl), step < 0.45 * land


def blade_pose(scene: WholeScene, height: float, turned: float) -> NDArray[np.float64]:
    """Return the motion that sets the blade up in the machine frame, (4, 4).

    Parameters
    ----------
    height : float, mm
        Of its highest point above the table.
    turned : float, rad
        The way it runs.
    """
    up = blade_up(scene.tilt)
    matrix = np.eye(4)
    matrix[:3, 0] = arbor_axis(scene.tilt)
    c, s = math.cos(turned), math.sin(turned)
    y = np.array([0.0, 1.0, 0.0])
    matrix[:3, 1] = c * y + s * up
    matrix[:3, 2] = -s * y + c * up
    matrix[:3, 3] = up * centre_height(scene.tool, scene.tilt, height) / math.cos(scene.tilt)
    return matrix


def _blade_at_table(scene: WholeScene) -> tuple[float, float]:
    """Return half the length and half the width of the opening that the highest blade needs, mm."""
    tool, tilt = scene.tool, scene.tilt
    sunk = centre_height(tool, tilt, scene.setup.blade_height) / math.cos(tilt)
    long = math.sqrt(max(tool.radius**2 - sunk**2, 25.0))
    return long, max(abs(a) for a, _ in tool.profile) / math.cos(tilt)


def _throat(scene: WholeScene) -> NDArray[np.float64]:
    """Return the outline of the throat plate, (n, 3), mm: a strip with round ends along the blade."""
    long, wide = _blade_at_table(scene)
    r = max(0.16 * long, wide + 10.0)
    turn = np.linspace(0, math.pi, 25)
    far = np.column_stack([r * np.cos(turn), long + 4.0 + r * np.sin(turn), np.zeros(25)])
    return np.vstack([far, -far])


def _polygon(outline: NDArray[np.float64], z: float) -> Shape:
    """Return a flat patch; its outline runs anticlockwise and its first point sees all of it."""
    points = np.array(outline, float)
    points[:, 2] = z
    second = np.arange(1, len(points) - 1)
    return Shape(points, np.column_stack([np.zeros_like(second), second, second + 1]))


def _box(scene: WholeScene, along: tuple[float, float], across: tuple[float, float], z: tuple[float, float]) -> Shape:
    """Return a box square to the feed, in the machine frame."""
    corners = itertools.product(z, reversed(across), along)
    points = np.array([_on_table(scene, a, c) + (0.0, 0.0, up) for up, c, a in corners])
    return Shape(points, _BOX_FACES)


def _halved(corners: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return two triangles, (2 m, 3), for each four corners, (..., 4)."""
    return corners[..., [[0, 1, 2], [0, 2, 3]]].reshape(-1, 3)


_BOX_FACES = _halved(np.array([[0, 4, 6, 2], [5, 1, 3, 7], [0, 1, 5, 4], [6, 7, 3, 2], [1, 0, 2, 3], [4, 5, 7, 6]]))
"""Triangles of a box whose corners run along its first axis, then its second, then upwards."""
