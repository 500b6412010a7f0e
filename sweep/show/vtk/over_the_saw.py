"""The saw in one view of a canvas, with the stock going over it; all in the machine frame."""

from __future__ import annotations

import numpy as np
import pyvista as pv
from numpy.typing import ArrayLike

from sweep.cut.stages import stage
from sweep.scene.model import WholeScene
from sweep.shape.mesh import UNCUT
from sweep.show.draw.colours import ARROW, CAST_IRON, FENCE, PAPER, SLOT, STEEL, THROAT, TIP, cut_colours
from sweep.show.solids import saw as machine_model
from sweep.show.solids.stock import size_of, stretch
from sweep.show.vtk import canvas, stock_model

CHORD = 0.05
"""mm, of the drawn rim: a tenth of a pixel."""

_SEEN_THROUGH = 0.36
"""Opacity of the stock: the cove's roof shows through the wood above it."""


class Saw:
    """Table, fence and blade, and the stock, to be changed from picture to picture.

    Parameters
    ----------
    renderer : pv.Renderer
    scene : WholeScene
    window : machine_model.Window
        In which the arrow along the feed lies.
    table, fence : machine_model.Shape
    chord : float, mm
        Of the drawn rim.
    """

    def __init__(
        self,
        renderer: pv.Renderer,
        scene: WholeScene,
        window: machine_model.Window,
        table: machine_model.Shape,
        fence: machine_model.Shape,
        chord: float = CHORD,
    ) -> None:
        self._scene, self._chord = scene, chord
        self._colours = cut_colours(len(scene.passes.heights))
        for shape, colour in (
            (table, CAST_IRON),
            (machine_model.throat_plate(scene), THROAT),
            (machine_model.slot(scene), SLOT),
            (machine_model.feed_arrow(scene, window), ARROW),
            (fence, FENCE),
        ):
            canvas.add_plain(renderer, canvas.triangles(shape.points, shape.triangles), colour)
        self.blade = [
            canvas.add_plain(renderer, canvas.triangles(part.points, part.triangles), colour, gloss=0.3)
            for part, colour in zip(machine_model.blade(scene), (STEEL, TIP), strict=True)
        ]
        for part in self.blade:
            canvas.hide_below(part, -machine_model.PLATE / 2)
        self.cut = canvas.add_surface(renderer, pv.PolyData())
        self.wood = canvas.add_surface(renderer, pv.PolyData())
        self.wood.prop.culling = "back"
        self.cut.prop.opacity = self.wood.prop.opacity = _SEEN_THROUGH
        self._ruled = canvas.add_lines(renderer, pv.PolyData(), 1.5)

    def show(self, number: int, travel: float, first: float, last: float) -> None:
        """Show the stock in the middle of a pass, sawn off outside a stretch of it.

        Parameters
        ----------
        number : int
        travel : float, mm
        first, last : float, mm
            Where the stretch begins and ends, from the leading end.
        """
        seen = last - first > 0.5
        for actor in (self.cut, self.wood, self._ruled):
            actor.visibility = seen
        if not seen:
            return
        scene = self._scene
        mesh = stage(stretch(scene, first, last), number, travel - first, self._chord).mesh
        colours = self._colours[mesh.cut_by]
        place = mesh.vertices[mesh.triangles][:, :, 0]
        sawn_off = np.zeros(len(colours), bool)
        for end, is_window in ((0.0, first > 0), (last - first, last < scene.stock.length)):
            sawn_off |= (np.abs(place - end) < 1e-6).all(axis=1) & is_window
        colours[sawn_off] = PAPER
        drawn = stock_model.surface(mesh, colours, size_of(scene.stock))
        cut = mesh.cut_by != UNCUT
        self.cut.mapper.SetInputData(drawn.extract_cells(cut).extract_surface(algorithm=None))
        self.wood.mapper.SetInputData(drawn.extract_cells(~cut).extract_surface(algorithm=None))
        self._ruled.mapper.SetInputData(stock_model.edges(mesh))
        self.cut.user_matrix = self.wood.user_matrix = scene.feed.stock_in_machine(travel - first)

    def face(self, position: ArrayLike) -> None:
        """Rule the stock's edges so that they stand out for a camera at a place, (3,), mm."""
        self._ruled.user_matrix = canvas.nearer(position) @ self.cut.user_matrix

    def set_blade(self, height: float, turned: float) -> None:
        """Raise the blade, mm, and turn it, rad."""
        for part in self.blade:
            part.user_matrix = machine_model.blade_pose(self._scene, height, turned)
