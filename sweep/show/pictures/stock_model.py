"""The stock as something to draw: shaded, coloured by pass, with grain and its edges ruled in."""

from __future__ import annotations

import itertools

import numpy as np
import pyvista as pv
from numpy.typing import NDArray

from sweep.shape.mesh import Mesh
from sweep.show.pictures import canvas

_CREASE = np.cos(np.radians(25.0))
"""Cosine of the angle above which two faces meet in an edge rather than in a curve."""

Size = tuple[float, float, float]
"""Length, width and thickness of the stock, mm."""

_NO_GRAIN = (0.5, 0.98)
"""A place in the grain's image that is white."""

_GRAIN_PIXELS = (256, 1024)
"""Rows and columns of the grain's image: its left half for faces along the grain, its right half for the ends."""


def surface(
    mesh: Mesh, colours: NDArray[np.float64], size: Size, plain: NDArray[np.bool_] | None = None
) -> pv.PolyData:
    """Return a mesh ready to draw, every triangle with corners of its own.

    Parameters
    ----------
    mesh : Mesh
        In the stock frame, mm.
    colours : (m, 3) or (m, 3, 3) float
        0 to 1, for each triangle or for each of its corners.
    size : (length, width, thickness), mm
        Of the whole stock: the grain is laid out on it.
    plain : (m,) bool or None
        Triangles to leave without grain.
    """
    corners = mesh.vertices[mesh.triangles]
    flat = corners.reshape(-1, 3)
    drawn = canvas.triangles(flat, np.arange(len(flat)).reshape(-1, 3))
    drawn.point_data["Normals"] = _corner_normals(mesh).reshape(-1, 3)
    drawn.point_data.active_normals_name = "Normals"
    places = _grain_places(corners, size)
    if plain is not None:
        places[plain] = _NO_GRAIN
    drawn.active_texture_coordinates = places.reshape(-1, 2)
    paint(drawn, colours)
    return drawn


def paint(drawn: pv.PolyData, colours: NDArray[np.float64]) -> None:
    """Colour a drawn surface, one colour a triangle (m, 3) or a corner (m, 3, 3)."""
    if colours.ndim == 2:
        colours = np.repeat(colours[:, None, :], 3, axis=1)
    drawn.point_data["rgb"] = np.round(255 * colours.reshape(-1, 3)).astype(np.uint8)
    drawn.set_active_scalars("rgb")


def edges(mesh: Mesh) -> pv.PolyData:
    """Return the lines where faces meet at an edge, or where one pass's surface ends and another begins."""
    t = mesh.triangles
    sides = np.vstack([t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]])
    owner = np.tile(np.arange(len(t)), 3)
    sides = np.sort(sides, axis=1)
    order = np.lexsort(sides.T)
    # the mesh is closed: sorted, the two faces of an edge stand one after the other
    first, second = owner[order[0::2]], owner[order[1::2]]
    normals = _face_normals(mesh)
    sharp = np.einsum("ij,ij->i", normals[first], normals[second]) < _CREASE
    ruled = sides[order[0::2]][sharp | (mesh.cut_by[first] != mesh.cut_by[second])]
    if len(ruled) == 0:
        return pv.PolyData(mesh.vertices[:1])
    return pv.PolyData(mesh.vertices, lines=np.column_stack([np.full(len(ruled), 2), ruled]).ravel())


def grain() -> pv.Texture:
    """Return the grain as grey tones that multiply a face's colour."""
    rows, columns = _GRAIN_PIXELS
    half = columns // 2
    x, ring = np.meshgrid(np.linspace(0, 1, half), np.linspace(0, 1 / 0.94, rows))
    y, z = np.meshgrid(np.linspace(0, 1, half), np.linspace(0, 1 / 0.94, rows))
    wander = 0.010 * np.sin(5.1 * x + 7 * ring) + 0.006 * np.sin(13 * x + 1.3) + 0.002 * np.sin(41 * x + 19 * ring)
    along = _ring_tone(ring + wander)
    across = 0.93 * _ring_tone(_rings_at(y, z))
    tone = np.hstack([along, across])
    tone[ring[:, :1].ravel() > 1.02] = 1.0
    grey = np.round(255 * np.clip(tone, 0, 1)).astype(np.uint8)
    texture = pv.Texture(np.repeat(grey[::-1, :, None], 3, axis=2))
    texture.SetMipmap(True)
    texture.SetInterpolate(True)
    return texture


def _ring_tone(place: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how light the wood is: each ring fades from early wood to a dark line of late wood."""
    rings = 22 * place + 0.5 * np.sin(17 * place) + 0.3 * np.sin(41 * place + 1)
    phase = rings - np.floor(rings)
    return 1.0 - 0.13 * phase**3 - 0.05 * np.sin(9 * place) ** 2


def _rings_at(y: NDArray[np.float64], z: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far from the heart of the tree a point of the end lies; y and z run from 0 to 1."""
    return np.hypot(y + 0.25, 0.35 * z + 0.35) / 1.45 - 0.25


def _grain_places(corners: NDArray[np.float64], size: Size) -> NDArray[np.float64]:
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
    return normals / np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)


def _corner_normals(mesh: Mesh) -> NDArray[np.float64]:
    """Return a normal for each corner, averaged over the faces that curve on from its own, (m, 3, 3)."""
    normals = _face_normals(mesh)
    corner = mesh.triangles.ravel()
    order = np.argsort(corner, kind="stable")
    face = np.repeat(np.arange(len(mesh.triangles)), 3)[order]
    starts = np.searchsorted(corner[order], np.arange(len(mesh.vertices) + 1))
    sums = np.zeros((len(corner), 3))
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    weight = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    for first, last in itertools.pairwise(starts):
        faces = face[first:last]
        near = normals[faces] @ normals[faces].T > _CREASE
        sums[order[first:last]] = near @ (normals[faces] * weight[faces, None])
    sums /= np.maximum(np.linalg.norm(sums, axis=1, keepdims=True), 1e-300)
    return sums.reshape(-1, 3, 3)
