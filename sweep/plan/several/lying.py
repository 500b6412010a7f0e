"""How the stock lies on the table: which face is down and which end leads, as motions of its section."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.scene.setups import Ends, Face
from sweep.shape.section import Figure, moved

Array = NDArray[np.float64]

_TURNS: dict[Face, tuple[tuple[int, int], tuple[int, int]]] = {
    "table": ((1, 0), (0, 1)),
    "top": ((-1, 0), (0, -1)),
    "left edge": ((0, -1), (1, 0)),
    "right edge": ((0, 1), (-1, 0)),
}
"""From the planed stock's section to that of the stock as it lies, about the middle of both; see `scene/setups.py`."""


@dataclass(frozen=True)
class Lying:
    """One way to lay the planed stock on the table.

    Parameters
    ----------
    face : Face
    ends : Ends
    stock : (width, thickness), mm
        Of the planed stock.
    """

    face: Face
    ends: Ends
    stock: tuple[float, float]

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the stock as it lies, mm."""
        width, thickness = self.stock
        return (thickness, width) if "edge" in self.face else (width, thickness)

    @property
    def _motion(self) -> tuple[Array, Array]:
        """The matrix and the vector that take (y, z) of the planed stock to (y, z) as it lies."""
        turn = np.array(_TURNS[self.face], float)
        if self.ends == "end for end":
            turn[0] *= -1
        return turn, (0.0, self.size[1] / 2) - turn @ (0.0, self.stock[1] / 2)

    def laid(self, points: Array) -> Array:
        """Return points of the planed stock's section as they lie, (n, 2) mm."""
        turn, shift = self._motion
        there: Array = points @ turn.T + shift
        return there

    def taken_up(self, figure: Figure) -> Figure:
        """Return a figure in the stock as it lies, as it is in the planed stock's section."""
        turn, shift = self._motion
        return moved(figure, turn.T, -turn.T @ shift)
