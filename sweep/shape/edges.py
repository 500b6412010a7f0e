"""Corners of a plane figure and what may be taken off them: chamfers, rabbets, flats, half-planes.

Figures are in (y, z), mm. Each function returns the outline of all that a cut takes. The outline reaches a little
beyond the wood, so that no face of it lies on a face of the wood. Nothing here knows of wood, scenes or solids.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.errors import UnusableError
from sweep.figure import length
from sweep.tolerance import BELOW_TABLE, BESIDE_FACE, SAME_POINT

Array = NDArray[np.float64]

CREASE = math.radians(25.0)
"""A turn of the outline sharper than this is a corner; one less sharp belongs to a curve."""

FAR = 1e4
"""mm. Beyond any stock."""


@dataclass(frozen=True, eq=False)
class Corner:
    """A corner of an outline and the faces that meet there.

    Parameters
    ----------
    point : (2,) float, mm
    onward, backward : (n, 2) float, mm
        From the corner to the next one, with the wood on the left and on the right.
    """

    point: Array
    onward: Array
    backward: Array


@dataclass(frozen=True)
class Line:
    """A line through a point, with a direction of unit length, in (y, z)."""

    point: tuple[float, float]
    direction: tuple[float, float]

    def distances(self, points: ArrayLike) -> Array:
        """Return how far points lie to the left of the line, (n,) mm."""
        y, z = (np.asarray(points, float) - self.point).T
        left: Array = self.direction[0] * z - self.direction[1] * y
        return left


def clean(ring: Array) -> Array:
    """Return an outline running with the figure on its left, without points that repeat the one before."""
    y, z = ring.T
    if np.dot(y, np.roll(z, -1)) < np.dot(z, np.roll(y, -1)):
        ring = ring[::-1]
    return apart(ring)


def apart(ring: Array) -> Array:
    """Return an outline without points that repeat the one before."""
    steps: Array = np.hypot(*(ring - np.roll(ring, 1, axis=0)).T)
    return ring[steps > SAME_POINT]


def turns(ring: Array) -> Array:
    """Return how far the outline turns at each of its points, (n,) rad; positive at a corner that stands out."""
    into = ring - np.roll(ring, 1, axis=0)
    out = np.roll(into, -1, axis=0)
    turned: Array = np.arctan2(into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0], (into * out).sum(axis=1))
    return turned


def corner_at(ring: Array, point: ArrayLike) -> Corner:
    """Return the corner of an outline nearest to a point.

    Parameters
    ----------
    ring : (n, 2) float, mm
        An outline from `clean`.
    point : (2,) float, mm

    Raises
    ------
    UnusableError
        When the outline runs on smoothly there, or turns inwards.
    """
    first = int(np.argmin(np.hypot(*(ring - np.asarray(point, float)).T)))
    turned = np.roll(turns(ring), -first)
    if turned[0] < CREASE:
        raise UnusableError("there is no corner any more", "leave this out, or do it before what took the corner away")
    others = np.flatnonzero(np.abs(turned) > CREASE)[1:]
    walk = np.vstack([np.roll(ring, -first, axis=0), ring[first]])  # once round, the corner at both ends
    onward = walk[: others[0] + 1] if len(others) else walk
    backward = walk[others[-1] :] if len(others) else walk
    return Corner(ring[first], onward, backward[::-1])


def chamfer(corner: Corner, size: float) -> Array:
    """Return what a flat across a corner takes, set back `size` along both faces, (3, 2) mm.

    Raises
    ------
    UnusableError
        When a face is narrower than that.
    """
    ends = np.array([_along(face, size) for face in (corner.backward, corner.onward)])
    across = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    return np.array([ends[0] - BESIDE_FACE * across, outside(corner), ends[1] + BESIDE_FACE * across])


def beyond(line: Line) -> Array:
    """Return all that lies to the right of a line, as far as any stock reaches, (4, 2) mm."""
    point, along = np.array(line.point), FAR * np.array(line.direction)
    right = np.array([along[1], -along[0]])
    return np.array([point - along, point - along + right, point + along + right, point + along])


def rabbet(corner: ArrayLike, width: float, depth: float, left: bool, table: bool) -> Array:
    """Return what a rabbet takes: all that lies further out than `width` across and `depth` up or down, (4, 2) mm.

    Parameters
    ----------
    corner : (2,) float, mm
        From which width and depth are measured.
    width, depth : float, mm
    left, table : bool
        Whether it is a corner on the left, and one on the table.
    """
    y, z = np.asarray(corner, float)
    inner, outer = (y + width, -FAR) if left else (y - width, FAR)
    deep, open_ = (z + depth, -FAR) if table else (z - depth, FAR)
    return np.array([[inner, deep], [outer, deep], [outer, open_], [inner, open_]])


def flat_across(corner: Corner, back: Array, side: Array, slope: float, width: float) -> Line:
    """Return the line of a flat between a back and a side that meet in a corner, the corner on its right.

    Parameters
    ----------
    corner : Corner
    back, side : (n, 2) float, mm
        Its two faces.
    slope : float, rad
        Between the flat and the back.
    width : float, mm
        Of the flat, from face to face.

    Raises
    ------
    UnusableError
        When the faces are too narrow for it.
    """
    inward, down = (unit(face[1] - face[0]) for face in (back, side))
    between = math.acos(max(-1.0, min(1.0, float(inward @ down))))
    if slope + between >= math.pi:
        raise UnusableError("the side leans so far in that this flat never meets it", "write a smaller spring angle")
    # the sine rule in the triangle of corner, back and side
    across = width * math.sin(slope + between) / math.sin(between)
    deep = width * math.sin(slope) / math.sin(between)
    start, end = _along(back, across), _along(side, deep)
    direction = unit(end - start)
    line = Line(tuple(start.tolist()), tuple(direction.tolist()))
    if line.distances([corner.point])[0] > 0:
        line = Line(line.point, tuple((-direction).tolist()))
    return line


def _along(face: Array, distance: float) -> Array:
    """Return the point of a face at a distance from its corner, straight across."""
    away = np.hypot(*(face - face[0]).T)
    if distance + SAME_POINT >= away.max():
        raise UnusableError(
            "it needs {value} of a face that is {limit} wide",
            "write less",
            value=length(distance),
            limit=length(float(away.max())),
        )
    after = int(np.argmax(away > distance))
    start, step = face[after - 1] - face[0], face[after] - face[after - 1]
    # |start + share step| = distance
    a, b, c = step @ step, start @ step, start @ start - distance * distance
    share = (-b + math.sqrt(b * b - a * c)) / a
    there: Array = face[after - 1] + share * step
    return there


def outside(corner: Corner) -> Array:
    """Return a point beside the corner, off both its faces."""
    inward = unit(unit(corner.onward[1] - corner.point) + unit(corner.backward[1] - corner.point))
    return corner.point - (BESIDE_FACE + BELOW_TABLE) * inward


def unit(vector: Array) -> Array:
    """Return a vector in its direction, of length 1."""
    scaled: Array = vector / np.hypot(*vector)
    return scaled
