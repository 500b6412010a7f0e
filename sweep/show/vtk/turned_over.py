"""Views of the stock turned over, the cove up: as the maker lays it on the bench to look at it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from vtkmodules.vtkRenderingCore import vtkRenderer, vtkTexture

from sweep.scene.keys import Stock
from sweep.shape.mesh import Mesh
from sweep.show.solids.camera import View
from sweep.show.solids.light import EVENLY_LIT, WOOD_IN_LIGHT, Finish
from sweep.show.solids.stock import NO_GRAIN, Batch, corner_normals, grain_places, ruled_edges, size_of, turning
from sweep.show.solids.views import end_on
from sweep.show.vtk.canvas import Canvas, light_in, look, nearer
from sweep.show.vtk.grain import grain_texture
from sweep.show.vtk.surface import DrawnSurface, Lines

FINE = 2
"""Stills are drawn this many times larger and reduced, which smooths their edges."""


class TurnedStock:
    """The stock in one view of a canvas, to be changed from picture to picture."""

    def __init__(
        self, renderer: vtkRenderer, stock: Stock, view: View, grain: vtkTexture, line: float, finish: Finish
    ) -> None:
        self._stock, self._renderer = stock, renderer
        self._wood, self._ruled = DrawnSurface(renderer, finish, grain), Lines(renderer, line)
        self._eye = view.position
        self.pose(turning(stock))
        look(renderer, view)
        self._light = light_in(renderer)

    def pose(self, motion: NDArray[np.float64]) -> None:
        """Lay it as a motion, (4, 4), brings it from its own frame; it is seen so once it is shown."""
        self._motion = motion
        self._wood.pose(motion)
        self._ruled.pose(nearer(self._eye) @ motion)

    def seen(self, whether: bool) -> None:
        """Show it, or hide it."""
        for shown in (self._wood, self._ruled):
            shown.actor.SetVisibility(whether)

    def face(self) -> None:
        """Light it, and rule its edges so that they stand out, for the camera as it stands."""
        self._light = light_in(self._renderer)
        self._wood.light(self._light)
        self._ruled.pose(nearer(self._light.eye) @ self._motion)

    def show(self, mesh: Mesh, colours: NDArray[np.float64], smooth: NDArray[np.bool_] | None = None) -> None:
        """Put a mesh, coloured, in the place of the one before; some of its triangles may be without grain."""
        corners = mesh.vertices[mesh.triangles]
        places = grain_places(corners, size_of(self._stock))
        if smooth is not None:
            places[smooth] = NO_GRAIN
        self._wood.put(corners, colours, corner_normals(mesh), places)
        self._wood.light(self._light)
        self._ruled.put(mesh.vertices, ruled_edges(mesh))


def pictures_end_on(batches: Sequence[Batch]) -> list[list[NDArray[np.uint8]]]:
    """Draw each mesh of some batches whole, its leading end in front, one picture each."""
    drawn = dict[int, list[NDArray[np.uint8]]]()
    by_size = sorted(enumerate(batches), key=lambda one: one[1].size, reverse=True)
    for place, batch in by_size:  # the largest first: what the others need fits into what it took
        wide, high = batch.size
        canvas = Canvas((wide * FINE, high * FINE))
        view, finish = end_on(batch.stock).view(wide / high), EVENLY_LIT if batch.even else WOOD_IN_LIGHT
        turned = TurnedStock(canvas.renderers[0], batch.stock, view, grain_texture(), 2.2, finish)
        drawn[place] = []
        for mesh, colours, smooth in batch.meshes:
            turned.show(mesh, colours, smooth)
            drawn[place].append(np.asarray(Image.fromarray(canvas.shot()).reduce(FINE)))
        canvas.close()
    return [drawn[place] for place in range(len(batches))]
