"""Views of the stock turned over, the cove up: as the maker lays it on the bench to look at it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator

import numpy as np
import pyvista as pv
from numpy.typing import NDArray
from PIL import Image

from sweep.scene.keys import Stock
from sweep.shape.mesh import Mesh
from sweep.show.pictures import canvas, stock_model

FINE = 2
"""Stills are drawn this many times larger and reduced, which smooths their edges."""

Coloured = tuple[Mesh, NDArray[np.float64], NDArray[np.bool_] | None]
"""A mesh, its colours, and which triangles are without grain; see `stock_model.surface`."""


def turning(stock: Stock) -> NDArray[np.float64]:
    """Return the motion that rolls the stock over about its length: the face that rode on the table is up, (4, 4)."""
    motion = np.diag([1.0, -1.0, -1.0, 1.0])
    motion[2, 3] = stock.thickness
    return motion


def corners(stock: Stock) -> NDArray[np.float64]:
    """Return the stock's eight corners, turned over, (8, 3), mm."""
    half = stock.width / 2
    return np.array(list(itertools.product((0.0, stock.length), (-half, half), (0.0, stock.thickness))))


def size_of(stock: Stock) -> tuple[float, float, float]:
    """Return (length, width, thickness), mm."""
    return stock.length, stock.width, stock.thickness


class TurnedStock:
    """The stock in one view of a canvas, to be changed from picture to picture."""

    def __init__(self, renderer: pv.Renderer, stock: Stock, view: canvas.View, grain: pv.Texture, line: float) -> None:
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


def end_on(
    stock: Stock, meshes: Iterable[Coloured], size: tuple[int, int], even: bool = False
) -> Iterator[NDArray[np.uint8]]:
    """Draw each mesh whole, its leading end in front, one picture of `size` pixels each.

    A near camera holds the whole length: the far end is small, and the profile at the leading end large.
    """
    distance = 2.4 * max(stock.width, 2 * stock.thickness) + 0.1 * min(stock.length, 15 * stock.width)
    middle = (0.0, 0.0, stock.thickness / 2)
    view = canvas.view_of(corners(stock), (-1.0, -0.55, 0.78), middle, distance, size[0] / size[1], 0.03)
    plotter = canvas.open_canvas((size[0] * FINE, size[1] * FINE))
    turned = TurnedStock(plotter.renderer, stock, view, stock_model.grain(), 2.2)
    if even:
        turned.light_evenly()
    for mesh, colours, smooth in meshes:
        turned.show(mesh, colours, smooth)
        yield np.asarray(Image.fromarray(canvas.shot(plotter)).reduce(FINE))
    plotter.close()
