"""What a cut takes away, point by point: truth in plain numpy that shares no code with `sweep`.

Everything is in the stock frame of the package: x from the leading end backwards, y across and to the
right looking along the feed (0 on the centreline), z up from the table; mm and rad. `Cut.takes` rides
with a point along the feed, `Cut.takes_from_section` looks along the feed at a drawing of the tool:
two derivations that meet only in the answer. Nothing here is approximate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class Cut:
    """One pass of the stock over a tool.

    Parameters
    ----------
    profile : tuple of (a, r), mm
        The tool, a solid of revolution: offsets along the arbor (rising) and radii there (positive).
    fence_angle : float, rad
        Between the feed and the blade's plane; above 0, at most 90 deg.
    blade_height : float, mm
        Of the tool's highest point above the table.
    tilt : float, rad
        Of the blade about the table's y axis of the machine; positive leans its top towards the machine's +x.
    offset : float, mm
        Of the stock's centreline, across, from the vertical plane along the feed through the blade's centre.
    start, stop : float, mm
        First and last travel; 0 is where the leading end stands over the blade's centre.
    """

    profile: tuple[tuple[float, float], ...]
    fence_angle: float
    blade_height: float
    tilt: float = 0.0
    offset: float = 0.0
    start: float = -math.inf
    stop: float = math.inf

    @property
    def centre_height(self) -> float:
        """Height of the tool's centre above the table, mm; below the table it is negative."""
        return self.blade_height - max(r * math.cos(self.tilt) - a * math.sin(self.tilt) for a, r in self.profile)

    def takes(self, points: ArrayLike, grow: float = 0.0) -> NDArray[np.bool_]:
        """Return whether the tool passes through each point of the stock.

        As the stock moves, a point runs along a straight line. It is abreast of one band of the tool, a
        frustum, for one interval of the travel, and there (distance from the arbor)^2 - (radius)^2 is a
        quadratic in the travel. The band takes the point when the quadratic's least value there is not positive.

        Parameters
        ----------
        points : (n, 3) float, mm
            In the stock frame.
        grow : float, mm
            Added to every radius, the centre staying where it is.

        Returns
        -------
        (n,) bool
        """
        x, y, z = np.asarray(points, float).T
        sin, cos = math.sin(self.fence_angle), math.cos(self.fence_angle)
        lean, upright = math.sin(self.tilt), math.cos(self.tilt)
        # where the point is at travel 0, machine frame: -x along the feed, y + offset across
        east, north = -x * sin + (y + self.offset) * cos, -x * cos - (y + self.offset) * sin
        # the same from the tool's centre: along the arbor, up in the blade's plane, and north
        middle = self.centre_height / upright
        along, up = east * upright - z * lean, east * lean + z * upright - middle
        along_rate, up_rate, north_rate = sin * upright, sin * lean, cos

        taken = np.zeros(len(x), bool)
        for (a1, r1), (a2, r2) in pairwise(self.profile):
            slope = (r2 - r1) / (a2 - a1) if a2 > a1 else 0.0
            first = np.maximum((a1 - along) / along_rate, self.start)
            last = np.minimum((a2 - along) / along_rate, self.stop)
            radius = (r1 if a2 > a1 else max(r1, r2)) + grow + slope * (along - a1)
            radius_rate = slope * along_rate
            square = up_rate**2 + north_rate**2 - radius_rate**2
            half = up * up_rate + north * north_rate - radius * radius_rate
            rest = up**2 + north**2 - radius**2
            lowest = np.clip(-half / square, first, np.maximum(first, last)) if square > 0 else first
            least = np.minimum.reduce([(square * t + 2 * half) * t + rest for t in (first, last, lowest)])
            taken |= (first <= last) & (least <= 0.0)
        return taken

    def takes_from_section(self, points: ArrayLike, grow: float = 0.0) -> NDArray[np.bool_]:
        """Return whether a pass that goes right through takes each point of the section.

        Looking along the feed, a circle of the tool is an ellipse. Sheared by the tilt and stretched, it is a
        true circle again, and a band is every circle between its first and its last: centre and
        radius both run straight from one to the other, so the nearest approach is the least of a quadratic.

        Parameters
        ----------
        points : (n, 2) float, mm
            (y, z) in the stock frame.
        grow : float, mm
            Added to every radius, the centre staying where it is.

        Returns
        -------
        (n,) bool
        """
        y, z = np.asarray(points, float).T
        sheared = y + self.offset - z * math.tan(self.tilt) * math.cos(self.fence_angle)
        across, height = sheared / math.sin(self.fence_angle), z / math.cos(self.tilt)
        circles = [
            (
                a / (math.tan(self.fence_angle) * math.cos(self.tilt)),
                self.centre_height / math.cos(self.tilt) - a * math.tan(self.tilt),
                r + grow,
            )
            for a, r in self.profile
        ]
        taken = np.zeros(len(y), bool)
        for (x1, z1, r1), (x2, z2, r2) in pairwise(circles):
            dx, dz, dr = x2 - x1, z2 - z1, r2 - r1
            square = dx**2 + dz**2 - dr**2
            half = -(across - x1) * dx - (height - z1) * dz - r1 * dr
            rest = (across - x1) ** 2 + (height - z1) ** 2 - r1**2
            lowest = np.clip(-half / square, 0.0, 1.0) if square > 0 else np.zeros(len(y))
            least = np.minimum.reduce([(square * s + 2 * half) * s + rest for s in (0.0, 1.0, lowest)])
            taken |= least <= 0.0
        return taken


def in_stock(points: ArrayLike, length: float, width: float, thickness: float) -> NDArray[np.bool_]:
    """Return whether each point, (n, 3) mm in the stock frame, lies in the planed stock."""
    x, y, z = np.asarray(points, float).T
    return (0 <= x) & (x <= length) & (np.abs(y) <= width / 2) & (0 <= z) & (z <= thickness)


def disc_section_width(radius: float, kerf: float, fence_angle: float, blade_height: float) -> float:
    """The width at the table of an untilted, flat-topped blade's cut, mm: a closed form.

    2 sin(theta) sqrt(2 R h - h^2) + k cos(theta); the chord of the rim at the table, seen obliquely, and the kerf.
    """
    chord = 2 * math.sqrt(2 * radius * blade_height - blade_height**2)
    return math.sin(fence_angle) * chord + kerf * math.cos(fence_angle)


def disc_section_area(radius: float, kerf: float, fence_angle: float, blade_height: float) -> float:
    """The area above the table of an untilted, flat-topped blade's cut, mm2: a closed form.

    The circular segment, seen obliquely, and the kerf.
    """
    segment = radius**2 * math.acos(1 - blade_height / radius) - (radius - blade_height) * math.sqrt(
        2 * radius * blade_height - blade_height**2
    )
    return math.sin(fence_angle) * segment + kerf * blade_height * math.cos(fence_angle)
