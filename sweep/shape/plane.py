"""The planes across the feed in which the section of a tool is simple: true circles, or straight lines edge on.

A circle of radius r at axial offset a, tilted by beta, its centre at height zc, projects along the feed to

    u(p) = (zc tan beta + r sin p sin beta + a cos beta) cos theta - r cos p sin theta
    z(p) =  zc          + r sin p cos beta - a sin beta

With u' = u - z tan(beta) cos(theta), X = u' / sin(theta) and Z = z / cos(beta) that is the true circle of
radius r about (a cos(theta) / (cos(beta) sin(theta)), (zc - a sin(beta)) / cos(beta)).

A feed along the blade, theta = 0, sees the tool edge on. With a along the arbor and s up in the blade's plane from the
table,

    u = a cos beta + s sin beta,    z = s cos beta - a sin beta,

a circle is a straight line from below the table up to s = zc / cos(beta) + r.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class Plane:
    """The plane in which every circle of the tool projects to a true circle.

    Parameters
    ----------
    fence_angle, tilt : float, rad
    """

    fence_angle: float
    tilt: float

    def to_section(self, x: NDArray[np.float64], z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return points of this plane as (u, z), (n, 2), mm."""
        height = z * math.cos(self.tilt)
        u = x * math.sin(self.fence_angle) + height * math.tan(self.tilt) * math.cos(self.fence_angle)
        return np.column_stack([u, height])

    def circle(self, a: float, r: float, centre: float) -> tuple[float, float, float]:
        """Return (x, z, r) of one circle of the tool in this plane, mm."""
        x = a * math.cos(self.fence_angle) / (math.cos(self.tilt) * math.sin(self.fence_angle))
        return x, (centre - a * math.sin(self.tilt)) / math.cos(self.tilt), r


@dataclass(frozen=True)
class EdgeOn:
    """The plane across a feed along the blade, (a, s): along the arbor, and up in the blade's plane from the table.

    Parameters
    ----------
    tilt : float, rad
    """

    tilt: float

    def to_section(self, a: NDArray[np.float64], s: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return points of this plane as (u, z), (n, 2), mm."""
        cos, sin = math.cos(self.tilt), math.sin(self.tilt)
        return np.column_stack([a * cos + s * sin, s * cos - a * sin])

    def top(self, r: ArrayLike, centre: float) -> NDArray[np.float64]:
        """Return how far up circles of the tool reach, s in mm."""
        return np.asarray(centre / math.cos(self.tilt) + np.asarray(r, float))
