"""The stock at every moment of a pass, in a few meshes that a page can move by itself.

While nothing else comes to the blade, what a pass has cut looks the same a little further on: the surface
of the blade's own shape has moved along the stock, all else stays. So a pass is shown by stretches of travel,
each with one mesh and a mark on the vertices that go with the blade. Stretches are short where the blade
enters or leaves the stock or comes to where an earlier pass stopped, and long between.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.stages import Stage, stage, travel_range
from sweep.scene.model import WholeScene
from sweep.shape.mesh import UNCUT, Mesh

STEPS = 9
"""Stretches while the blade enters the stock, and as many while it leaves."""

_SLOPE = 1e-6
"""Least share of a face's normal along the feed in the surface of the blade's own shape."""


@dataclass(frozen=True, eq=False)
class Stretch:
    """A stretch of one pass, and the stock as it is seen there.

    Parameters
    ----------
    first, last : float, mm
        Travel from which and up to which it is shown.
    at : float, mm
        Travel at which the mesh is exact; elsewhere its moving vertices are shifted by the difference.
    mesh : Mesh
    moving : (n,) bool
        Vertices that go with the blade.
    """

    first: float
    last: float
    at: float
    mesh: Mesh
    moving: NDArray[np.bool_]


def stretches(scene: WholeScene, number: int, chord: float) -> tuple[Stretch, ...]:
    """Return the stretches of one pass, from its start to its end.

    Parameters
    ----------
    scene : WholeScene
    number : int
        From 1.
    chord : float, mm
    """
    before = stage(scene, number - 1, chord=chord)
    start, end = travel_range(scene, number)
    reach = -start
    knots = set(np.linspace(start, reach, STEPS + 1))
    knots |= set(np.linspace(scene.stock.length - reach, scene.stock.length + reach, STEPS + 1))
    for stop in scene.passes.stops[: number - 1]:
        if stop is not None:
            knots |= set(np.linspace(stop - 2 * reach, stop + 2 * reach, 2 * STEPS + 1))
    edges = [start, *sorted(knot for knot in knots if start < knot < end), end]
    return tuple(
        one_stretch(scene, number, (first, last), (first + last) / 2, before)
        for first, last in itertools.pairwise(edges)
    )


def one_stretch(scene: WholeScene, number: int, span: tuple[float, float], travel: float, before: Stage) -> Stretch:
    """Return the stock at one travel of a pass, to be shown over a span; `before` is the stage before the pass."""
    mesh = stage(scene, number, travel, before.chord, before).mesh
    return Stretch(*span, travel, mesh, _moving(mesh, number, scene.stock.length))


def _moving(mesh: Mesh, number: int, length: float) -> NDArray[np.bool_]:
    """Return which vertices lie on the blade's own shape where the pass is under way, clear of the stock's ends."""
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    fronts = np.abs(normals[:, 0]) > _SLOPE * np.linalg.norm(normals, axis=1)
    moving = np.zeros(len(mesh.vertices), bool)
    moving[mesh.triangles[fronts & (mesh.cut_by == number)]] = True
    others = fronts & (mesh.cut_by != number) & (mesh.cut_by != UNCUT)
    moving[mesh.triangles[others]] = False
    x = mesh.vertices[:, 0]
    return moving & (x > 1e-6) & (x < length - 1e-6)
