"""Surfaces and lines as the rendering library holds them. A surface brings its light along, worked out here."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPlane, vtkPolyData
from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper, vtkRenderer, vtkTexture

from sweep.show.draw.colours import RGB
from sweep.show.solids.light import Finish, Light, flat_normals
from sweep.show.vtk.canvas import move

_LINE: RGB = (0.18, 0.15, 0.12)
"""Colour of ruled edges."""


class DrawnSurface:
    """Triangles, every one with corners of its own, to be changed from picture to picture.

    Parameters
    ----------
    renderer : vtkRenderer
    finish : Finish
    texture : vtkTexture or None
        What multiplies the colours.
    """

    def __init__(self, renderer: vtkRenderer, finish: Finish, texture: vtkTexture | None = None) -> None:
        self.finish = finish
        self.actor, self._drawn = _added(renderer)
        self.actor.GetMapper().SetColorModeToDirectScalars()
        if texture is not None:
            self.actor.SetTexture(texture)
        self._pose = np.eye(4)
        self._lit: Light | None = None  # by what, where it stands, once it is lit as it is
        self.put(np.zeros((0, 3, 3)), np.zeros((0, 3)))

    def put(
        self,
        corners: NDArray[np.float64],
        colours: NDArray[np.float64],
        normals: NDArray[np.float64] | None = None,
        places: NDArray[np.float64] | None = None,
    ) -> None:
        """Put triangles in the place of those before; they are seen once they are lit.

        Parameters
        ----------
        corners : (m, 3, 3) float, mm
        colours : (3,), (m, 3) or (m, 3, 3) float
            0 to 1, for all, for each triangle or for each of its corners.
        normals : (m, 3, 3) float or None
            For each corner; without them faces are flat.
        places : (m, 3, 2) float or None
            Where in the texture each corner lies.
        """
        self._corners, self._normals = corners, flat_normals(corners) if normals is None else normals
        self._colours, self._lit = colours[:, None, :] if colours.ndim == 2 else colours, None
        self._drawn.SetPoints(_points(corners.reshape(-1, 3)))
        self._drawn.SetPolys(_cells(np.arange(3 * len(corners)).reshape(-1, 3)))
        if places is not None:
            self._drawn.GetPointData().SetTCoords(numpy_to_vtk(places.reshape(-1, 2).astype(np.float32), deep=True))

    def pose(self, motion: NDArray[np.float64]) -> None:
        """Move it out of its own frame by a rotation and a shift, (4, 4)."""
        self._pose = motion
        move(self.actor, motion)

    def light(self, light: Light) -> None:
        """Light it, as it stands."""
        here = light.on_a_thing_moved(self._pose)
        if self._lit is not None and self._lit.is_like(here):
            return
        self._lit, brightness = here, here.on(self._corners, self._normals, self.finish)
        lit = np.clip(np.round(255 * self._colours * brightness[..., None]), 0, 255).astype(np.uint8)
        lit = np.broadcast_to(lit, (len(lit), 3, 3)).reshape(-1, 3)
        self._drawn.GetPointData().SetScalars(numpy_to_vtk(lit, deep=True))


class Lines:
    """Ruled lines, to be changed from picture to picture; pose them with `nearer`, to win over the faces they lie on.

    Parameters
    ----------
    renderer : vtkRenderer
    width : float, pixels
    """

    def __init__(self, renderer: vtkRenderer, width: float) -> None:
        self.actor, self._drawn = _added(renderer)
        self.actor.GetProperty().SetColor(*_LINE)
        self.actor.GetProperty().SetLineWidth(width)

    def put(self, points: NDArray[np.float64], ends: NDArray[np.int64]) -> None:
        """Put lines in the place of those before: points (n, 3), mm, and which of them are the ends of each, (m, 2)."""
        self._drawn.SetPoints(_points(points))
        self._drawn.SetLines(_cells(ends))

    def pose(self, motion: NDArray[np.float64]) -> None:
        """Put them where a motion, (4, 4), brings them from their own frame."""
        move(self.actor, motion)


def hide_below(surface: DrawnSurface, z: float) -> None:
    """Leave out what lies below a height, mm."""
    cutting = vtkPlane()
    cutting.SetOrigin(0.0, 0.0, z)
    cutting.SetNormal(0.0, 0.0, 1.0)
    surface.actor.GetMapper().AddClippingPlane(cutting)


def _added(renderer: vtkRenderer) -> tuple[vtkActor, vtkPolyData]:
    actor, mapper, drawn = vtkActor(), vtkPolyDataMapper(), vtkPolyData()
    mapper.SetInputData(drawn)
    actor.SetMapper(mapper)
    actor.GetProperty().LightingOff()
    renderer.AddActor(actor)
    return actor, drawn


def _points(points: NDArray[np.float64]) -> vtkPoints:
    held = vtkPoints()
    held.SetData(numpy_to_vtk(np.ascontiguousarray(points), deep=True))
    return held


def _cells(corners: NDArray[np.int64]) -> vtkCellArray:
    cells = vtkCellArray()
    cells.SetData(corners.shape[1], numpy_to_vtkIdTypeArray(np.ascontiguousarray(corners).ravel(), deep=True))
    return cells
