"""How stock lies on the table: rigid motions that keep it lengthwise, as data.

Stock is rolled about its length by right angles, and turned end for end where it lies. Both are rotations, so solids
keep their hand: turned end for end, y changes its sign with x. Frames are those of `frame.py`: x from the leading end
backwards, y to the right looking along the feed, z up from the table.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Turn = tuple[tuple[int, int], tuple[int, int]]

_ROLLS: dict[str, Turn] = {
    "table": ((1, 0), (0, 1)),
    "top": ((-1, 0), (0, -1)),
    "left edge": ((0, -1), (1, 0)),
    "right edge": ((0, 1), (-1, 0)),
}
"""From (y, z) to how they run with a face down, before they are moved to the table."""


@dataclass(frozen=True)
class Lying:
    """A rigid motion from one way in which stock lies to another.

    Parameters
    ----------
    turn : 2 by 2 whole numbers
        What becomes of (y, z).
    shift : (float, float), mm
        Then added to it.
    end_for_end : bool
        Whether x runs the other way, from the other end.
    length : float, mm
        Of the stock.
    """

    turn: Turn
    shift: tuple[float, float]
    end_for_end: bool
    length: float

    @property
    def motion(self) -> NDArray[np.float64]:
        """The same as a matrix of homogeneous coordinates, (4, 4)."""
        matrix = np.eye(4)
        if self.end_for_end:
            matrix[0, 0], matrix[0, 3] = -1.0, self.length
        matrix[1:3, 1:3], matrix[1:3, 3] = self.turn, self.shift
        return matrix

    @property
    def back(self) -> Lying:
        """The motion that undoes this one."""
        (a, b), (c, d) = self.turn
        y, z = self.shift
        return Lying(((a, c), (b, d)), (-(a * y + c * z), -(b * y + d * z)), self.end_for_end, self.length)

    def after(self, first: Lying) -> Lying:
        """Return the motion that does another one first and then this one."""
        turn = np.array(self.turn) @ np.array(first.turn)
        shift = np.array(self.turn) @ np.array(first.shift) + np.array(self.shift)
        (a, b), (c, d) = turn.tolist()
        return Lying(
            ((a, b), (c, d)), (float(shift[0]), float(shift[1])), self.end_for_end != first.end_for_end, self.length
        )

    def moved(self, y: float, z: float) -> Lying:
        """Return the motion followed by a move within the section, mm."""
        return Lying(self.turn, (self.shift[0] + y, self.shift[1] + z), self.end_for_end, self.length)


def face_down(face: str, end_for_end: bool, length: float) -> Lying:
    """Return how stock is turned to lie on a face, and from there end for end; it is not yet moved to the table.

    Parameters
    ----------
    face : str
        ``"table"``, on which it lies already, ``"top"``, ``"left edge"`` or ``"right edge"``, looking along the feed.
    end_for_end : bool
    length : float, mm
        Of the stock.
    """
    (a, b), (c, d) = _ROLLS[face]
    return Lying(((-a, -b) if end_for_end else (a, b), (c, d)), (0.0, 0.0), end_for_end, length)
