"""The pieces at any moment of a finishing operation, as if it went along the moulding once, from its leading end.

For the moving picture: how an operation is really done, and in how many passes, is not told.
"""

from __future__ import annotations

from dataclasses import dataclass

from sweep.cut.finish import SoFar, Unfinished, steps
from sweep.cut.stages import mesh_of
from sweep.scene.keys import Stock
from sweep.scene.model import SetUpScene
from sweep.shape import section, solid
from sweep.shape.mesh import Mesh
from sweep.tolerance import CLEAR_OF_END

_BEYOND, _OFF = 0.05, 0.001
"""mm. While it is under way, what goes is drawn so far beyond the wood and so far off what stays: no two faces lie on
each other, on which the kernel may lose a strip."""


@dataclass(frozen=True, eq=False)
class OperationMoments:
    """A finishing operation from its beginning to its end.

    Parameters
    ----------
    mark : int
        What its faces are cut by: its number, counted on after the passes.
    stock : Stock
        As it was planed.
    before, after : tuple of SoFar
        The pieces, from left to right.
    """

    mark: int
    stock: Stock
    before: tuple[SoFar, ...]
    after: tuple[SoFar, ...]

    def at(self, share: float) -> tuple[Mesh, ...]:
        """Return the pieces when it has gone so far along the stock, 0 to 1; an offcut goes with what is cut."""
        if share >= 1.0:
            return tuple(mesh_of(piece.body, piece.marks, self.stock) for piece in self.after)
        return tuple(self._under_way(piece, share * self.stock.length) for piece in self.before)

    def _under_way(self, piece: SoFar, far: float) -> Mesh:
        gone = piece.outline.figure
        for one in self.after:
            gone = section.minus(gone, one.outline.figure)
        if far <= 0 or not section.parts(gone):
            return mesh_of(piece.body, piece.marks, self.stock)
        gone = section.grown(gone, _BEYOND)
        for one in self.after:
            gone = section.minus(gone, section.grown(one.outline.figure, _OFF))
        drawn = solid.prism([ring for part in section.parts(gone) for ring in section.rings(part)], far, CLEAR_OF_END)
        cutter, mark = solid.marked(drawn)
        return mesh_of(solid.subtract(piece.body, [cutter]), piece.marks | {mark: self.mark}, self.stock)


def operations_of(scene: SetUpScene, begun: Unfinished) -> tuple[OperationMoments, ...]:
    """Return every operation of a scene; see `finish_from`."""
    found, before = [], list(begun.pieces)
    for after, done in steps(scene, begun):
        found.append(OperationMoments(begun.passes + done.number, scene.stock, tuple(before), tuple(after)))
        before = after
    return tuple(found)
