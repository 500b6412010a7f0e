"""How the planed stock lies on the table for a cut: which face is down, and which end leads."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sweep.scene.setups import Ends, Face
from sweep.shape.lying import Lying, face_down

Array = NDArray[np.float64]


@dataclass(frozen=True)
class OnFace:
    """One way to lay the planed stock on the table, its middle on the centreline.

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

    @cached_property
    def motion(self) -> Lying:
        """From the planed stock's section to that of the stock as it lies; in the plane, for no length is known."""
        turned = face_down(self.face, self.ends == "end for end", 0.0)
        middle = np.array(turned.turn, float) @ (0.0, self.stock[1] / 2)
        return turned.moved(-float(middle[0]), self.size[1] / 2 - float(middle[1]))

    def laid(self, points: Array) -> Array:
        """Return points of the planed stock's section as they lie, (..., 2) mm."""
        there: Array = points @ np.array(self.motion.turn, float).T + self.motion.shift
        return there
