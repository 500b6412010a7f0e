"""Closed solids: the volume a tool sweeps, and the stock with such volumes taken away.

The one door to manifold3d, and it asks for the kernel's status after every operation. Along a
straight feed the volume swept by a convex body is exactly the convex hull of its first and last
poses, so a pass is the union of one hull for each band of the tool. Nothing here knows the exact
plane section; `section.py` finds that by other means, and tests hold the two against each other.
"""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TypeAlias

import numpy as np
from manifold3d import CrossSection, Error, FillRule, Manifold, OpType
from numpy.typing import NDArray

from sweep.errors import SolidError
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import centre_height, rim_points
from sweep.shape.lying import Lying
from sweep.shape.mesh import UNCUT, Mesh
from sweep.shape.tool import Tool
from sweep.tolerance import BELOW_TABLE, CHORD, VOLUME

Solid: TypeAlias = Manifold
"""A closed solid. Opaque outside this file."""


_LARGE = 2.0**20
_TURNED = np.array([[0.0, 0, 1, 0], [1, 0, 0, 0], [0, 1, 0, 0]]) / _LARGE
"""From the kernel's extrusion along z to ours along x, and back to size: (z, x, y) -> (x, y, z)."""


def _work_alone() -> None:
    """Have the kernel use one thread: two take a sixth less time for a cut, and two thirds more of the processor.

    Its threads spin while they wait. It asks once, when it first works, on how many cores it may.
    """
    if sys.platform == "linux":
        cores = os.sched_getaffinity(0)
        with suppress(OSError):  # a system that allows it to nobody keeps the kernel's threads
            os.sched_setaffinity(0, {min(cores)})
            Manifold.cube().status()
            os.sched_setaffinity(0, cores)


_work_alone()


class DisagreementError(SolidError):
    """Two ways to the same solid gave different ones: the numbers are unlucky, and slightly other ones will do."""


def box(length: float, width: float, thickness: float) -> Solid:
    """Return the stock as it is planed, in the stock frame."""
    return _sound(Manifold.cube((length, width, thickness)).translate((0.0, -width / 2, 0.0)), "making the stock")


def prism(rings: Sequence[NDArray[np.float64]], length: float, beyond: float = 0.0) -> Solid:
    """Return a plane figure of (y, z) drawn out along x from 0 to `length`, and so far beyond both ends.

    Parameters
    ----------
    rings : sequence of (n, 2) float, mm
        Outlines, and holes inside them; which way round does not matter.
    length, beyond : float, mm
    """
    if not rings:
        return Manifold()
    # the kernel rounds plane coordinates to 1e-8: drawn 2^20 times as large, they keep every bit that counts
    figure = CrossSection([ring * _LARGE for ring in rings], FillRule.EvenOdd)
    drawn = Manifold.extrude(figure, (length + 2 * beyond) * _LARGE).transform(_TURNED).set_tolerance(0.0)
    return _sound(drawn.translate((-beyond, 0.0, 0.0)) if beyond else drawn, "drawing out the section")


def swept(
    tool: Tool,
    feed: StraightFeed,
    tilt: float,
    blade_height: float,
    travel: tuple[float, float],
    chord: float = CHORD,
) -> list[Solid]:
    """Return the volumes that the tool's bands sweep through the stock, one convex hull for each.

    Parameters
    ----------
    tool, feed : Tool, StraightFeed
    tilt : float, rad
    blade_height : float, mm
    travel : (float, float), mm
        First and last travel of the stock; the tool's own shape stands at either end.
    chord : float, mm
        How far the chords of the rim may fall inside the circle.
    """
    hulls = []
    for points in rim_of_bands(tool, tilt, blade_height, chord):
        poses = np.vstack([feed.to_stock(points, t) for t in travel])
        hulls.append(_sound(Manifold.hull_points(_ends_of_lines(poses)), "sweeping the blade"))
    return hulls


def _ends_of_lines(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return only the first and the last of all points that lie on one line along the feed.

    Those between change nothing, but the kernel's hull can lose a strip over them.
    """
    order = np.lexsort((points[:, 0], points[:, 2], points[:, 1]))
    points = points[order]
    new = np.any(np.diff(points[:, 1:], axis=0) != 0.0, axis=1)
    ends = np.concatenate([[True], new]) | np.concatenate([new, [True]])
    kept: NDArray[np.float64] = points[ends]
    return kept


def rim_of_bands(tool: Tool, tilt: float, blade_height: float, chord: float = CHORD) -> list[NDArray[np.float64]]:
    """Return, for each band of the tool that reaches the table, the points whose hull is its part above it.

    Only the arc of the rim above the table can cut, so only it is hulled. Both circles of a band
    get the same rim angles, a multiple of one step from the top: then the hull holds every line of
    the frustum that comes above the table, the depth is exact, and a raised rim holds a lower one.

    Returns
    -------
    list of (n, 3) float, mm
        In the machine frame.
    """
    centre = centre_height(tool, tilt, blade_height)
    step = rim_step(tool.radius, chord)
    bands = []
    for band in tool.bands:
        # the arc that stays above a plane a little below the table, for the circle that reaches further
        reach = 0.0
        for a, r in band:
            sine = (-BELOW_TABLE - centre + a * math.sin(tilt)) / (r * math.cos(tilt))
            reach = max(reach, math.acos(min(1.0, max(-1.0, sine))))
        if reach <= 0.0:
            continue
        steps = math.ceil(reach / step)
        angles = math.pi / 2 + step * np.arange(-steps, steps + 1)
        bands.append(np.vstack([rim_points(a, r, angles, tilt, centre) for a, r in band]))
    return bands


def rim_step(radius: float, chord: float) -> float:
    """Return the angle between neighbouring points of the rim, rad, so that no chord errs by more than `chord`."""
    return 2 * math.acos(1 - min(chord, radius / 8) / radius)


def subtract(solid: Solid, cutters: Sequence[Solid]) -> Solid:
    """Return what is left of a solid when all the cutters have taken their share.

    Several cutters are taken away twice over, all at once and one after the other: on rare numbers the
    kernel loses a strip of one of them without a word, and then the two disagree.

    Raises
    ------
    DisagreementError
        When they do.
    """
    if not cutters:
        return solid
    left = _sound(Manifold.batch_boolean([solid, *cutters], OpType.Subtract), "cutting")
    if len(cutters) > 1:
        again = solid
        for cutter in cutters:
            again = again - cutter
        again = _sound(again, "cutting")
        if abs(again.volume() - left.volume()) > VOLUME * solid.volume():
            raise DisagreementError("cutting all at once and one after the other leave different volumes.")
    return left


def laid(solid: Solid, lying: Lying) -> Solid:
    """Return a solid of the stock as it lies once it is moved."""
    return _sound(solid.transform(lying.motion[:3]), "turning the stock over")


def stretch(solid: Solid, first: float, length: float) -> Solid:
    """Return a stretch of the stock, from so far behind its leading end on, mm."""
    left, right = (bound + side for bound, side in zip(solid.bounding_box()[1::3], (-1.0, 1.0), strict=True))
    low, high = solid.bounding_box()[2::3]
    window = Manifold.cube((length, right - left, high - low + 2.0)).translate((first, left, low - 1.0))
    return _sound((solid ^ window).translate((-first, 0.0, 0.0)), "taking a stretch of the stock")


def common(a: Solid, b: Solid) -> Solid:
    """Return what two solids share."""
    return _sound(a ^ b, "intersecting")


def marked(solid: Solid) -> tuple[Solid, int]:
    """Return the solid with a mark of its own that its faces keep through later cuts, and the mark."""
    solid = _sound(solid.as_original(), "marking a solid")
    return solid, solid.original_id()


def volume(solid: Solid) -> float:
    """Return the volume, mm3."""
    return float(solid.volume())


def pieces(solid: Solid) -> list[Solid]:
    """Return the parts that do not hang together."""
    return [_sound(part, "taking pieces apart") for part in solid.decompose()]


def to_mesh(solid: Solid, cut_by: dict[int, int]) -> Mesh:
    """Return the solid as a 64-bit triangle mesh.

    Parameters
    ----------
    solid : Solid
    cut_by : dict
        From marks (see `marked`) to pass numbers; faces with other marks are uncut.
    """
    mesh = solid.to_mesh64()
    triangles = np.asarray(mesh.tri_verts).astype(np.int64).reshape(-1, 3)
    numbers = np.full(len(triangles), UNCUT)
    edges = np.asarray(mesh.run_index) // 3
    for mark, first, last in zip(mesh.run_original_id, edges[:-1], edges[1:], strict=True):
        numbers[first:last] = cut_by.get(int(mark), UNCUT)
    return Mesh(np.asarray(mesh.vert_properties)[:, :3], triangles, numbers)


def _sound(solid: Solid, doing: str) -> Solid:
    status = solid.status()
    if status != Error.NoError:
        raise SolidError(f"the solid kernel failed while {doing}: {status.name}.")
    return solid
