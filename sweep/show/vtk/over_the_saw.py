"""The saw in one view of a canvas, with the stock going over it; all in the machine frame."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from vtkmodules.vtkRenderingCore import vtkRenderer

from sweep.cut.stages import mesh_of_all, stage
from sweep.scene.model import WholeScene
from sweep.shape.mesh import UNCUT
from sweep.show.draw.colours import ARROW, CAST_IRON, FENCE, PAPER, SLOT, STEEL, THROAT, TIP
from sweep.show.solids import saw as machine_model
from sweep.show.solids.light import PAINTED, WOOD_IN_LIGHT
from sweep.show.solids.stock import corner_normals, ruled_edges, stretch
from sweep.show.vtk.canvas import light_in, nearer
from sweep.show.vtk.surface import DrawnSurface, Lines, hide_below

CHORD = 0.05
"""mm, of the drawn rim: a tenth of a pixel."""

_SEEN_THROUGH = 0.36
"""Opacity of the stock: the cove's roof shows through the wood above it."""


class DrawnSaw:
    """Table, fence and blade, and the stock, to be changed from picture to picture.

    Parameters
    ----------
    renderer : vtkRenderer
    scene : WholeScene
    window : machine_model.Window
        In which the arrow along the feed lies.
    table, fence : machine_model.Shape
    colours : (n, 3) float
        Of faces by what cut them, passes counted on through all set-ups.
    chord : float, mm
        Of the drawn rim.
    slots : machine_model.Shape or None
        Mitre slots, where the whole table is drawn.
    """

    def __init__(
        self,
        renderer: vtkRenderer,
        scene: WholeScene,
        window: machine_model.Window,
        table: machine_model.Shape,
        fence: machine_model.Shape,
        colours: NDArray[np.float64],
        chord: float = CHORD,
        slots: machine_model.Shape | None = None,
    ) -> None:
        self._renderer, self._scene, self._chord = renderer, scene, chord
        self._colours = colours
        parts = (
            (table, CAST_IRON),
            *([] if slots is None else [(slots, THROAT)]),
            (machine_model.throat_plate(scene), THROAT),
            (machine_model.slot(scene), SLOT),
            (machine_model.feed_arrow(scene, window), ARROW),
            (fence, FENCE),
            *zip(machine_model.blade(scene), (STEEL, TIP), strict=True),
        )
        self._parts = []
        for shape, colour in parts:
            self._parts.append(DrawnSurface(renderer, PAINTED))
            self._parts[-1].put(shape.points[shape.triangles], np.array(colour))
        self.blade = self._parts[-2:]
        for part in self.blade:
            hide_below(part, -machine_model.PLATE / 2)
        self.cut, self.wood = DrawnSurface(renderer, WOOD_IN_LIGHT), DrawnSurface(renderer, WOOD_IN_LIGHT)
        self.wood.actor.GetProperty().BackfaceCullingOn()
        self._ruled = Lines(renderer, 1.5)
        self._motion = np.eye(4)
        self.let_through(_SEEN_THROUGH, _SEEN_THROUGH)

    def let_through(self, cut: float, wood: float) -> None:
        """Set how much the cove and the rest of the stock hide, 0 to 1."""
        for surface, opacity in ((self.cut, cut), (self.wood, wood)):
            surface.actor.GetProperty().SetOpacity(opacity)

    def seen(self, whether: bool) -> None:
        """Show the machine, or hide it with the stock on it; the stock is seen again once it is shown."""
        for actor in (*(part.actor for part in (*self._parts, self.cut, self.wood)), self._ruled.actor):
            actor.SetVisibility(whether)

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
        for shown in (self.cut, self.wood, self._ruled):
            shown.actor.SetVisibility(seen)
        if not seen:
            return
        scene = self._scene
        part = stretch(scene, first, last)
        mesh = mesh_of_all(part, stage(part, number, travel - first, self._chord))
        corners, normals, colours = mesh.vertices[mesh.triangles], corner_normals(mesh), self._colours[mesh.cut_by]
        place = corners[:, :, 0]
        for end, is_window in ((0.0, first > 0), (last - first, last < scene.stock.length)):
            colours[(np.abs(place - end) < 1e-6).all(axis=1) & is_window] = PAPER
        motion, cut = scene.feed.stock_in_machine(travel - first), mesh.cut_by != UNCUT
        for surface, its in ((self.cut, cut), (self.wood, ~cut)):
            surface.put(corners[its], colours[its], normals[its])
            surface.pose(motion)
        self._ruled.put(mesh.vertices, ruled_edges(mesh))
        self._motion = motion

    def set_blade(self, height: float, turned: float) -> None:
        """Raise the blade, mm, and turn it, rad."""
        for part in self.blade:
            part.pose(machine_model.blade_pose(self._scene, height, turned))

    def face(self) -> None:
        """Light everything, and rule the stock's edges so that they stand out, for the camera as it stands."""
        light = light_in(self._renderer)
        for surface in (*self._parts, self.cut, self.wood):
            surface.light(light)
        self._ruled.pose(nearer(light.eye) @ self._motion)
