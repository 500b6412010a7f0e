"""The stock as plain arrays ready to be drawn: a stretch of it, its ruled edges, its normals and its grain."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweep.scene.keys import Stock
from sweep.scene.model import WholeScene
from sweep.shape.mesh import Mesh

_CREASE = np.cos(np.radians(25.0))
"""Cosine of the angle above which two faces meet in an edge rather than in a curve."""

Size = tuple[float, float, float]
"""Length, width and thickness of the stock, mm."""

NO_GRAIN = (0.5, 0.98)
"""A place in the grain's image that is white."""

_GRAIN_PIXELS = (256, 1024)
"""Rows and columns of the grain's image: its left half for faces along the grain, its right half for the ends."""


Coloured = tuple[Mesh, NDArray[np.float64], NDArray[np.bool_] | None]
"""A mesh, its colours, and which triangles are without grain; white there."""


class Batch(NamedTuple):
    """Pictures to be drawn alike: of which meshes, of what size in pixels, and whether in even light."""

    stock: Stock
    meshes: Sequence[Coloured]
    size: tuple[int, int]
    even: bool = False


def size_of(stock: Stock) -> Size:
    """Return (length, width, thickness), mm."""
    return stock.length, stock.width, stock.thickness


def corners_of(stock: Stock) -> NDArray[np.float64]:
    """Return the stock's eight corners in its own frame, (8, 3), mm."""
    half = stock.width / 2
    return np.array(list(itertools.product((0.0, stock.length), (-half, half), (0.0, stock.thickness))))


def turning(stock: Stock) -> NDArray[np.float64]:
    """Return the motion that rolls the stock over about its length: the face that rode on the table is up, (4, 4)."""
    motion = np.diag([1.0, -1.0, -1.0, 1.0])
    motion[2, 3] = stock.thickness
    return motion


def stretch(scene: WholeScene, first: float, last: float) -> WholeScene:
    """Return the same job on a stretch of the stock only: a straight feed looks the same from anywhere along it."""
    stock = scene.stock.stretch(first, last)
    stops = tuple(None if stop is None else stop - first for stop in scene.passes.stops)
    return scene.model_copy(update={"stock": stock, "passes": scene.passes.model_copy(update={"stop": stops})})


def ruled_edges(mesh: Mesh) -> NDArray[np.int64]:
    """Return the edges where faces meet at an angle, or where one pass's surface ends and another begins, (n, 2)."""
    t = mesh.triangles
    sides = np.vstack([t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]])
    owner = np.tile(np.arange(len(t)), 3)
    sides = np.sort(sides, axis=1)
    order = np.lexsort(sides.T)
    # the mesh is closed: sorted, the two faces of an edge stand one after the other
    first, second = owner[order[0::2]], owner[order[1::2]]
    normals = _face_normals(mesh)
    sharp = np.einsum("ij,ij->i", normals[first], normals[second]) < _CREASE
    ruled: NDArray[np.int64] = sides[order[0::2]][sharp | (mesh.cut_by[first] != mesh.cut_by[second])]
    return ruled


@cache
def grain() -> NDArray[np.uint8]:
    """Return the grain as grey tones that multiply a face's colour, (rows, columns), the first row at the foot."""
    rows, columns = _GRAIN_PIXELS
    half = columns // 2
    x, ring = np.meshgrid(np.linspace(0, 1, half), np.linspace(0, 1 / 0.94, rows))
    y, z = np.meshgrid(np.linspace(0, 1, half), np.linspace(0, 1 / 0.94, rows))
    wander = 0.010 * np.sin(5.1 * x + 7 * ring) + 0.006 * np.sin(13 * x + 1.3) + 0.002 * np.sin(41 * x + 19 * ring)
    along = _ring_tone(ring + wander)
    across = 0.93 * _ring_tone(_rings_at(y, z))
    tone = np.hstack([along, across])
    tone[ring[:, :1].ravel() > 1.02] = 1.0
    tones: NDArray[np.uint8] = np.round(255 * np.clip(tone, 0, 1)).astype(np.uint8)
    tones.flags.writeable = False
    return tones


def _ring_tone(place: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how light the wood is: each ring fades from early wood to a dark line of late wood."""
    rings = 22 * place + 0.5 * np.sin(17 * place) + 0.3 * np.sin(41 * place + 1)
    phase = rings - np.floor(rings)
    return 1.0 - 0.13 * phase**3 - 0.05 * np.sin(9 * place) ** 2


def _rings_at(y: NDArray[np.float64], z: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far from the heart of the tree a point of the end lies; y and z run from 0 to 1."""
    return np.hypot(y + 0.25, 0.35 * z + 0.35) / 1.45 - 0.25


def grain_places(corners: NDArray[np.float64], size: Size) -> NDArray[np.float64]:
    """Return where in the grain's image each corner lies, (m, 3, 2)."""
    length, width, thickness = size
    y = corners[:, :, 1] / width + 0.5
    z = corners[:, :, 2] / thickness
    x = corners[:, :, 0] / length
    is_end = np.ptp(corners[:, :, 0], axis=1) < 1e-6
    u = np.where(is_end[:, None], 0.503 + 0.494 * y, 0.003 + 0.494 * x)
    v = 0.94 * np.where(is_end[:, None], z, _rings_at(y, z))
    return np.stack([u, v], axis=2)


def _face_normals(mesh: Mesh) -> NDArray[np.float64]:
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    unit: NDArray[np.float64] = normals / np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    return unit


def corner_normals(mesh: Mesh) -> NDArray[np.float64]:
    """Return a normal for each corner, averaged over the faces that curve on from its own, (m, 3, 3)."""
    normals = _face_normals(mesh)
    corner = mesh.triangles.ravel()
    order = np.argsort(corner, kind="stable")
    face = np.repeat(np.arange(len(mesh.triangles)), 3)[order]
    starts = np.searchsorted(corner[order], np.arange(len(mesh.vertices) + 1))
    sums = np.zeros((len(corner), 3))
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    weight = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    met = np.diff(starts)
    for count in np.unique(met[met > 0]):  # all vertices at which so many faces meet
        at = starts[:-1][met == count, None] + np.arange(count)
        faces = face[at]
        theirs = normals[faces]
        near = theirs @ theirs.swapaxes(1, 2) > _CREASE
        sums[order[at]] = near @ (theirs * weight[faces, None])
    sums /= np.maximum(np.linalg.norm(sums, axis=1, keepdims=True), 1e-300)
    return sums.reshape(-1, 3, 3)
