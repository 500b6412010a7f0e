"""One view in the place of both others: the whole stock, turned for a set-up or under a finishing operation."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sweep.scene.keys import Stock
from sweep.shape.mesh import Mesh
from sweep.show.pictures.two_views import FINE
from sweep.show.solids.light import WOOD_IN_LIGHT
from sweep.show.solids.views import Viewpoint
from sweep.show.vtk.canvas import Canvas
from sweep.show.vtk.grain import grain_texture
from sweep.show.vtk.turned_over import TurnedStock


class WholeView:
    """The whole stock in one view, to be changed from picture to picture.

    Parameters
    ----------
    stock : Stock
    viewpoint : Viewpoint
    width, height : int, pixels
    """

    def __init__(self, stock: Stock, viewpoint: Viewpoint, width: int, height: int) -> None:
        self._canvas = Canvas((round(width * FINE), round(height * FINE)))
        view = viewpoint.view(width / height)
        self._stock = TurnedStock(self._canvas.renderers[0], stock, view, grain_texture(), 1.5, WOOD_IN_LIGHT)

    def close(self) -> None:
        """Let the window go."""
        self._canvas.close()

    def picture(self, mesh: Mesh, colours: NDArray[np.float64], motion: NDArray[np.float64]) -> Image.Image:
        """Return the stock as a motion, (4, 4), brings it, its triangles coloured, (m, 3); `FINE` times as large."""
        self._stock.pose(motion)
        self._stock.show(mesh, colours)
        return Image.fromarray(self._canvas.shot())
