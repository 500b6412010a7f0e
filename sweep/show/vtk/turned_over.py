"""Views of the stock turned over, the cove up: as the maker lays it on the bench to look at it."""

from __future__ import annotations

import numpy as np
import pyvista as pv
from numpy.typing import NDArray
from PIL import Image

from sweep.scene.keys import Stock
from sweep.shape.mesh import Mesh
from sweep.show.solids.camera import View
from sweep.show.solids.stock import Batch, size_of, turning
from sweep.show.solids.views import end_on
from sweep.show.vtk import canvas, stock_model

FINE = 2
"""Stills are drawn this many times larger and reduced, which smooths their edges."""


class TurnedStock:
    """The stock in one view of a canvas, to be changed from picture to picture."""

    def __init__(self, renderer: pv.Renderer, stock: Stock, view: View, grain: pv.Texture, line: float) -> None:
        self._stock = stock
        empty = pv.PolyData()
        self._wood = canvas.add_surface(renderer, empty, grain)
        self._ruled = canvas.add_lines(renderer, empty, line)
        self._wood.user_matrix = turning(stock)
        self._ruled.user_matrix = canvas.nearer(view.position) @ turning(stock)
        canvas.look(renderer, view)

    def show(self, mesh: Mesh, colours: NDArray[np.float64], smooth: NDArray[np.bool_] | None = None) -> None:
        """Put a mesh, coloured, in the place of the one before."""
        self._wood.mapper.SetInputData(stock_model.surface(mesh, colours, size_of(self._stock), plain=smooth))
        self._ruled.mapper.SetInputData(stock_model.edges(mesh))

    def light_evenly(self) -> None:
        """Take most of the shade out, so that colours read as on their colour bar."""
        self._wood.prop.ambient, self._wood.prop.diffuse = 0.62, 0.42


def pictures_end_on(batch: Batch) -> list[NDArray[np.uint8]]:
    """Draw each mesh of a batch whole, its leading end in front, one picture each."""
    wide, high = batch.size
    plotter = canvas.open_canvas((wide * FINE, high * FINE))
    turned = TurnedStock(
        plotter.renderer, batch.stock, end_on(batch.stock).view(wide / high), stock_model.grain_texture(), 2.2
    )
    if batch.even:
        turned.light_evenly()
    pictures = []
    for mesh, colours, smooth in batch.meshes:
        turned.show(mesh, colours, smooth)
        pictures.append(np.asarray(Image.fromarray(canvas.shot(plotter)).reduce(FINE)))
    plotter.close()
    return pictures
