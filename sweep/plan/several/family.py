"""Cuts of one blade at one angle and tilt, which differ in place and height only, many at once.

In the sheared plane of `shape/section.py`, X square to the feed and Z along the tilted blade, raising the blade moves
the cut straight up, and moving the stock across moves it along X. Above the table the cut is all that lies under a roof
of arcs and straight lines. So a point (X, Z) is in the cut from the blade height (Z - roof(X)) cos(tilt) on, and the
greatest height that keeps clear of a polygon is the least of these over its outline: a closed form, since between two
corners of the roof and of the outline it is least at an end or where arc and line have one slope. A rip is the same
with X along the arbor, and the profile of the blade for a roof.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sweep.plan.several.on_face import OnFace
from sweep.shape.frame import highest_setting
from sweep.shape.plane import Plane
from sweep.shape.tool import Tool

Array = NDArray[np.float64]

AT_A_WALL = 1e-6
"""mm. By how much less than its width a kerf is held against the body: it may lie along an upright wall of it."""

ALONG = 1e-3
"""mm. A side of the body whose ends lie so close to one plane of the blade stands along it."""

ROUNDING = 1e-9
"""mm. How far within the ends of a roof it is looked at, so that rounding does not carry a place beside it."""


@dataclass(frozen=True, eq=False)
class Family:
    """Cuts that differ in place and height only.

    Parameters
    ----------
    lying : OnFace
    blade : int
        Which blade of the scene, counted from 0.
    tool : Tool
    fence_angle : float, rad
        0 for rips.
    tilt : float, rad
    """

    lying: OnFace
    blade: int
    tool: Tool
    fence_angle: float
    tilt: float

    @property
    def is_rip(self) -> bool:
        """Whether the stock runs along the blade, not obliquely over it."""
        return self.fence_angle == 0.0

    @property
    def highest(self) -> float:
        """The height below which the cut widens towards the table, mm."""
        return highest_setting(self.tool, self.tilt)

    @property
    def per_mm(self) -> float:
        """How far X goes with 1 mm across the stock."""
        return math.cos(self.tilt) if self.is_rip else 1 / math.sin(self.fence_angle)

    def plane_of(self, laid: Array) -> tuple[Array, Array]:
        """Return X and Z, mm, of points of the stock as it lies, the cut's place being 0."""
        lean = math.tan(self.tilt) * math.cos(self.fence_angle)
        return (laid[..., 0] - lean * laid[..., 1]) * self.per_mm, laid[..., 1] / math.cos(self.tilt)

    @cached_property
    def _circles(self) -> tuple[Array, Array, Array]:
        """X, Z and radius of the tool's circles at a blade height of 0, (k,) each."""
        centre = -self.tool.rise_above_centre(self.tilt)
        plane = Plane(self.fence_angle, self.tilt)
        x, z, r = np.array([plane.circle(a, r, centre) for a, r in self.tool.profile]).T
        return x, z, r

    @cached_property
    def _profile(self) -> tuple[Array, Array]:
        """X and Z of a rip's roof at a blade height of 0, (k,) each."""
        a, r = np.array(self.tool.profile).T
        return a, r - a * math.tan(self.tilt) - self.tool.rise_above_centre(self.tilt) / math.cos(self.tilt)

    @cached_property
    def reach(self) -> tuple[float, float]:
        """The least and the greatest X under the roof."""
        if self.is_rip:
            a, _ = self._profile
            return float(a[0]) + AT_A_WALL, float(a[-1]) - AT_A_WALL
        x, _, r = self._circles
        return float((x - r).min()), float((x + r).max())

    def roof(self, at: Array) -> Array:
        """Return the height of the roof over each X at a blade height of 0; minus infinity beside the cut."""
        low, high = self.reach
        if self.is_rip:
            a, z = self._profile
            return np.where((at >= low) & (at <= high), np.interp(at, a, z), -np.inf)
        x, z, r = self._circles
        roof = np.full(at.shape, -np.inf)
        with np.errstate(invalid="ignore"):  # beside a circle there is none of its roof: no number
            for k in range(len(r)):
                over = at - x[k]
                over *= over
                np.sqrt(np.subtract(r[k] * r[k], over, out=over), out=over)
                over += z[k]
                np.fmax(roof, over, out=roof)
        for x1, z1, x2, z2 in self._tangents:
            if x2 != x1:
                line = at - x1
                line *= (z2 - z1) / (x2 - x1)
                line += z1
                line[(at < min(x1, x2)) | (at > max(x1, x2))] = -np.inf
                np.maximum(roof, line, out=roof)
        return roof

    @cached_property
    def _tangents(self) -> tuple[tuple[float, float, float, float], ...]:
        """The ends (X, Z, X, Z) of the straight piece over each band."""
        x, z, r = self._circles
        found = []
        for k in range(len(r) - 1):
            dx, dz, dr = x[k + 1] - x[k], z[k + 1] - z[k], r[k] - r[k + 1]
            apart2 = dx * dx + dz * dz
            if apart2 <= dr * dr:
                continue  # one circle hides the other
            rise = math.sqrt(apart2 - dr * dr) * (1 if dx >= 0 else -1)
            nx, nz = (dx * dr - dz * rise) / apart2, (dz * dr + dx * rise) / apart2
            found.append((x[k] + r[k] * nx, z[k] + r[k] * nz, x[k + 1] + r[k + 1] * nx, z[k + 1] + r[k + 1] * nz))
        return tuple(found)

    def heights_to_reach(self, points: Array, places: Array) -> Array:
        """Return from which blade height on each point is in the cut, (o, n) mm; infinite where it never is.

        Parameters
        ----------
        points : (n, 2) float, mm
            In the planed stock's section, inside the stock.
        places : (o,) float, mm
            Across the stock as it lies: where the blade's centre runs along it.
        """
        x, z = self.plane_of(self.lying.laid(points))
        roof = self.roof(x - self.per_mm * places[:, None])
        return (z - roof) * math.cos(self.tilt)

    def greatest_heights(self, sides: Array, places: Array) -> Array:
        """Return the greatest blade heights that keep clear of a polygon in the stock, (o,) mm; infinite beside it.

        Parameters
        ----------
        sides : (n, 2, 2) float, mm
            Both ends of each side of all its outlines, in the planed stock's section, inside the stock.
        places : (o,) float, mm
        """
        x, z = self.plane_of(self.lying.laid(sides[:, 0]))
        run, rise = (
            end - start for end, start in zip(self.plane_of(self.lying.laid(sides[:, 1])), (x, z), strict=True)
        )
        shift = self.per_mm * places[:, None]
        least = (z - self.roof(x - shift)).min(axis=1)
        level = np.abs(run) > 1e-12  # any other side is least at its ends
        x, z, run, rise = x[level], z[level], run[level], rise[level]
        slope = rise / run
        low, high = self.reach[0] + ROUNDING, self.reach[1] - ROUNDING
        if self.is_rip:
            knots = np.broadcast_to(np.clip(self._profile[0], low, high)[:, None], (len(self._profile[0]), len(x)))
        else:
            cx, _, cr = self._circles
            touch = cx[:, None] - cr[:, None] * (slope / np.sqrt(1 + slope * slope))
            knots = np.vstack([touch, np.full((1, len(x)), low), np.full((1, len(x)), high)])
        first, last = np.minimum(x, x + run), np.maximum(x, x + run)
        for knot in knots:
            at = np.clip(knot + shift, first, last)
            there = z + (at - x) * slope - self.roof(at - shift)
            np.minimum(least, there.min(axis=1), out=least)
        heights: Array = least * math.cos(self.tilt)
        return heights

    def places_along(self, sides: Array) -> Array:
        """Return the places at which a wall of a rip's kerf lies along a side of a polygon or beside it, (o,) mm."""
        start, _ = self.plane_of(self.lying.laid(sides[:, 0]))
        end, _ = self.plane_of(self.lying.laid(sides[:, 1]))
        walls, (a, _) = np.abs(end - start) < ALONG, self._profile
        to_right, to_left = np.maximum(start, end)[walls] - a[0], np.minimum(start, end)[walls] - a[-1]
        beside = [start.max() - a[0] + ROUNDING, start.min() - a[-1] - ROUNDING]
        return np.unique(np.concatenate([to_right, to_left, beside]) / self.per_mm)

    def heights_through(self, places: Array) -> Array:
        """Return from which blade height on all of a rip comes out of the planed stock, (o,) mm."""
        width, high = self.lying.size
        faces = np.array([(-width / 2, 0), (-width / 2, high), (width / 2, high), (width / 2, 0)])
        x, z = self.plane_of(faces)
        knots, roof = self._profile
        middle = self.per_mm * places[:, None]
        out = np.full((len(places), len(knots)), -np.inf)
        for k in range(4):
            run, rise = x[(k + 1) % 4] - x[k], z[(k + 1) % 4] - z[k]
            if abs(run) > 1e-12:
                share = np.clip((knots + middle - x[k]) / run, 0.0, 1.0)
                from_middle = x[k] + share * run - middle
                over = z[k] + share * rise - np.interp(from_middle, knots, roof)
                in_kerf = (from_middle >= knots[0] - 1e-9) & (from_middle <= knots[-1] + 1e-9)
                np.maximum(out, np.where(in_kerf, over, -np.inf), out=out)
        heights: Array = out.max(axis=1) * math.cos(self.tilt)
        return heights

    def beyond(self, points: Array, places: Array, body: Array) -> NDArray[np.bool_]:
        """Return which points are in the kerf of a rip or on its side away from the body, (o, n).

        Parameters
        ----------
        points : (n, 2) float, mm
            In the planed stock's section.
        places : (o,) float, mm
        body : (2,) float, mm
            A point of the body, none of which is in the kerf.
        """
        x, _ = self.plane_of(self.lying.laid(points))
        own, _ = self.plane_of(self.lying.laid(body))
        low, high = self.reach
        middle = self.per_mm * places[:, None]
        return np.where(own > middle, x <= middle + high, x >= middle + low)
