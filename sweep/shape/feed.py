"""The motion of the stock past the blade: straight, along a fence at an angle.

A thing of its own, so that a pivoted or guided feed can stand beside it one day.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class StraightFeed:
    """Stock moving along a straight fence.

    Parameters
    ----------
    fence_angle : float, rad
        Between the feed and the blade's plane, at most 90 deg; 0 runs along the blade, as a straight rip does.
    offset : float, mm
        Where the stock's centreline runs across, from the vertical plane along the feed through
        the machine's origin.
    """

    fence_angle: float
    offset: float = 0.0

    @property
    def along_blade(self) -> bool:
        """Whether the feed runs along the blade: the tool is then seen edge on, and its circles as straight lines."""
        return self.fence_angle == 0.0

    @property
    def direction(self) -> NDArray[np.float64]:
        """The way the stock moves, (3,), machine frame."""
        return np.array([math.sin(self.fence_angle), self._cosine, 0.0])

    @property
    def across(self) -> NDArray[np.float64]:
        """To the right, looking along the feed, (3,), machine frame."""
        return np.array([self._cosine, -math.sin(self.fence_angle), 0.0])

    @property
    def _cosine(self) -> float:
        """Nought at 90 deg, where rounding would leave 6e-17 and rim points all but on one line."""
        return 0.0 if self.fence_angle == math.pi / 2 else math.cos(self.fence_angle)

    def to_stock(self, points: ArrayLike, travel: float) -> NDArray[np.float64]:
        """Return machine-frame points as the stock sees them after some travel, (n, 3), mm.

        Travel is 0 when the leading end stands over the blade's centre. y and z do not depend on
        it, to the last bit: flanks cut by one feed lie exactly on one another.
        """
        points = np.asarray(points, float)
        return np.column_stack([travel - points @ self.direction, points @ self.across - self.offset, points[:, 2]])

    def stock_in_machine(self, travel: float) -> NDArray[np.float64]:
        """Return the rigid motion that takes stock coordinates to machine coordinates, (4, 4)."""
        matrix = np.eye(4)
        matrix[:3, 0] = -self.direction
        matrix[:3, 1] = self.across
        matrix[:3, 3] = travel * self.direction + self.offset * self.across
        return matrix
