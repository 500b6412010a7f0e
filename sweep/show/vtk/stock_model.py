"""The stock as the rendering library holds it: coloured by pass, with grain, and its edges to be ruled."""

from __future__ import annotations

import numpy as np
import pyvista as pv
from numpy.typing import NDArray

from sweep.shape.mesh import Mesh
from sweep.show.solids.stock import NO_GRAIN, Size, corner_normals, grain, grain_places, ruled_edges
from sweep.show.vtk import canvas


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
    drawn.point_data["Normals"] = corner_normals(mesh).reshape(-1, 3)
    drawn.point_data.active_normals_name = "Normals"
    places = grain_places(corners, size)
    if plain is not None:
        places[plain] = NO_GRAIN
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
    """Return the lines to be ruled; see `ruled_edges`."""
    ruled = ruled_edges(mesh)
    if len(ruled) == 0:
        return pv.PolyData(mesh.vertices[:1])
    return pv.PolyData(mesh.vertices, lines=np.column_stack([np.full(len(ruled), 2), ruled]).ravel())


def grain_texture() -> pv.Texture:
    """Return the grain as the rendering library holds it."""
    texture = pv.Texture(np.repeat(grain()[::-1, :, None], 3, axis=2))
    texture.SetMipmap(True)
    texture.SetInterpolate(True)
    return texture
