"""The face that lay on the table, found in an outline: its hollow, the flats beside it, and points along them.

A hollow is where the outline leaves its convex hull; the hull's edge over it is its mouth. The flats are what lies
along the mouth on either side of it, and the face's line is that which lies closest to them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from sweep.errors import SceneError
from sweep.figure import length
from sweep.trace.reader import Seen
from sweep.trace.scale import Scale

Array = NDArray[np.float64]
Side = Literal["bottom", "top", "left", "right"]
Kind = Literal["points", "cove", "whole"]

OUTWARDS: dict[Side, tuple[float, float]] = {
    "bottom": (0.0, -1.0),
    "top": (0.0, 1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}
"""Where the face looks that lay on the table, y to the right and z upwards in the picture."""

SMALLEST = 4.0
"""mm2. A hollow takes at least so much of the section."""

AS_LARGE = 0.4
"""A second hollow that takes this share of the largest, or more, may be meant as well."""

ALONG = 0.4
"""mm. What lies nearer to the mouth is flat, or three pixels where these are more."""

CORNER = 0.6
"""mm. How much of a flat is left out at the stock's edges, whose corners wear round."""

MOST, MOST_WHOLE = 240, 600
"""Points that are written of a face: more are neighbours that lie off together; and of a whole outline, whose corners
fewer would round."""

SOFT = 0.05
"""Share of an outline that may be soft: a knot, a splinter; our choice."""

READ = 0.3
"""Pixels. How far an edge may lie off beside its roughness, one standard deviation: what light and lens do to it; our
choice."""


@dataclass(frozen=True, eq=False)
class Traced:
    """Points along the wood.

    Parameters
    ----------
    pixels : (n, 2) float
        In the picture: x to the right, y downwards.
    kind : str
        Whether they run along the face, along its cove alone, or round the whole outline.
    origin, along : (2,) float
        Pixels, and of length 1: a place on the face's line, abreast of the middle, and the way along it, seen with the
        wood above the face.
    scale : Scale
    accuracy : float, mm
        Standard deviation of a point, square to the outline; without what scale, lens and angle do.
    compressed : float, mm
        What of it the compression of a JPEG does; 0 of a PNG.
    side : str
        Of the picture, on which the face lies.
    width : float, mm
        Of the wood along the face.
    straight : float, mm
        Root mean square distance of the flats from one line; nan where there are none.
    soft : float
        Share of the wood's outline that is soft, as shade leaves it.
    grain : float, mm
        How wide a pixel is as the picture was looked at.
    """

    pixels: Array
    kind: Kind
    origin: Array
    along: Array
    scale: Scale
    accuracy: float
    compressed: float
    side: Side
    width: float
    straight: float
    soft: float
    grain: float

    @property
    def is_clear(self) -> bool:
        """Whether next to none of the outline is soft."""
        return self.soft <= SOFT

    def placed(self, pixels: Array) -> Array:
        """Return points of the picture as (y, z) in mm: y along the face to the right, z into the wood."""
        off = (pixels - self.origin) * self.scale.mm_per_pixel
        into = np.array([self.along[1], -self.along[0]])
        return np.column_stack([off @ self.along, off @ into])


@dataclass(frozen=True)
class _Hollow:
    """A stretch of an outline off its hull, between two of its points, and how much lies between, mm2."""

    first: int
    last: int
    area: float
    side: Side


def trace(seen: Seen, scale: Scale, side: Side | None, kind: Kind) -> Traced:
    """Return points along the face that lay on the table, of its cove alone, or of the whole outline.

    Raises
    ------
    SceneError
        When there is no hollow, or it is not clear which side is meant.
    """
    size = scale.mm_per_pixel
    outline = seen.outline * (size, -size)  # mm, z upwards
    if _area(outline) < 0:
        outline = outline[::-1]
    hollow = _chosen(_hollows(outline), side)
    outline = np.roll(outline, -hollow.first, axis=0)
    last = (hollow.last - hollow.first) % len(outline)
    along = _unit(outline[last] - outline[0])
    near = max(ALONG, 3 * seen.pixel * size)
    before, after = _flats(outline, last, along, near)
    path = np.roll(outline, before, axis=0)[: before + last + after + 1]
    origin, along, straight = _levelled(path, slice(before, before + last + 1), outline[0], along, near)
    level = _in_frame(path, origin, along)
    raised = np.flatnonzero(level[before : before + last + 1, 1] > near / 2)
    if len(raised) < 2:
        raise SceneError(
            "IMAGE", "its hollow is shallower than {limit}", "give the scale of this picture", limit=length(near)
        )
    cove = before + raised[[0, -1]]
    origin = origin + float(level[cove, 0].mean()) * along
    if kind == "cove":
        path = path[cove[0] : cove[1] + 1]
    elif kind == "points":
        path = _without_corners(path, level, cove)
    else:
        path = outline
    points = _thinned(path, kind == "whole", max(3 * seen.pixel * size, 0.1))
    across = _in_frame(outline, origin, along)[:, 0]
    return Traced(
        pixels=points / (size, -size),
        kind=kind,
        origin=origin / (size, -size),
        along=along * (1.0, -1.0),
        scale=scale,
        accuracy=math.hypot(seen.roughness, READ * seen.pixel, seen.compressed) * size,
        compressed=seen.compressed * size,
        side=hollow.side,
        width=float(np.ptp(np.quantile(across, (0.02, 0.98)))),  # along its upright sides, whatever single points do
        straight=straight,
        soft=seen.soft,
        grain=seen.pixel * size,
    )


def _hollows(outline: Array) -> list[_Hollow]:
    """Return where an outline that runs anticlockwise leaves its hull, the largest first."""
    corners = np.sort(ConvexHull(outline).vertices)
    found = []
    for first, last in zip(corners, np.roll(corners, -1), strict=True):
        between = np.take(outline, np.arange(first, last + 1 + (len(outline) if last < first else 0)), 0, mode="wrap")
        area = -_area(between)
        if area >= SMALLEST:
            way = between[-1] - between[0]
            outwards = (way[1], -way[0])
            side = max(OUTWARDS, key=lambda one: float(np.dot(outwards, OUTWARDS[one])))
            found.append(_Hollow(int(first), int(last), area, side))
    return sorted(found, key=lambda one: -one.area)


def _chosen(hollows: list[_Hollow], side: Side | None) -> _Hollow:
    """Return the largest hollow of a side, or of all where none is told and one is clearly the largest."""
    those = [one for one in hollows if side in (None, one.side)]
    if not those:
        where = f" on the {side}" if side else ""
        sides = {one.side for one in hollows}
        remedy = f"there is one on the {sorted(sides)[0]}" if sides else "photograph the end that shows the cove"
        raise SceneError("--table" if side else "IMAGE", f"the wood has no hollow{where}", remedy)
    others = [one for one in those[1:] if one.side != those[0].side and one.area >= AS_LARGE * those[0].area]
    if others:
        raise SceneError(
            "--table",
            f"there is a hollow on the {those[0].side} and on the {others[0].side}",
            "say which side of the picture lay on the saw's table",
        )
    return those[0]


def _flats(outline: Array, last: int, along: Array, near: float) -> tuple[int, int]:
    """Return how many points lie along the mouth before its first point, 0, and after its last one."""
    off = np.abs(_in_frame(outline, outline[0], along)[:, 1]) <= near
    beyond = np.concatenate([off[last + 1 :], [False]])
    after = int(np.argmin(beyond))
    before = int(np.argmin(np.concatenate([beyond[:-1][::-1], [False]])))
    return before, after


def _levelled(path: Array, mouth: slice, origin: Array, along: Array, near: float) -> tuple[Array, Array, float]:
    """Return the line that lies closest to the flats, by a point and a direction, and how straight they are, mm."""
    straight = math.nan
    for _ in range(4):  # each time the flats of the line before
        level = _in_frame(path, origin, along)
        flat = path[_flat(level, mouth, near)]
        if len(flat) < 8 or np.ptp(_in_frame(flat, origin, along)[:, 0]) < 0.3 * np.ptp(level[:, 0]):
            break
        middle = flat.mean(axis=0)
        way = np.linalg.svd(flat - middle, full_matrices=False)[2][0]
        along, origin = way * np.sign(way @ along), middle
        straight = float(np.sqrt((_in_frame(flat, origin, along)[:, 1] ** 2).mean()))
    return origin, along, straight


def _flat(level: Array, mouth: slice, near: float) -> NDArray[np.bool_]:
    """Return which points of a face lie on its flats, clear of the cove's edges and the stock's corners."""
    hollow = mouth.start + np.flatnonzero(level[mouth, 1] > near)
    y = level[:, 0]
    if not len(hollow):
        return np.zeros(len(y), bool)
    outside = (y < y[hollow[0]] - CORNER) | (y > y[hollow[-1]] + CORNER)
    flat: NDArray[np.bool_] = (np.abs(level[:, 1]) <= near) & outside & (y > y[0] + CORNER) & (y < y[-1] - CORNER)
    return flat


def _without_corners(path: Array, level: Array, cove: NDArray[np.intp]) -> Array:
    """Return a face without the last bit of its flats, where these are long enough to spare it."""
    y, (first, last) = level[:, 0], cove
    left = y[0] + (CORNER if y[first] - y[0] > 3 * CORNER else 0.0)
    right = y[-1] - (CORNER if y[-1] - y[last] > 3 * CORNER else 0.0)
    inside = (y >= left) & (y <= right)
    start, end = int(np.argmax(inside[: first + 1])), len(y) - int(np.argmax(inside[last:][::-1]))
    kept: Array = path[start:end]
    return kept


def _thinned(path: Array, closed: bool, least: float) -> Array:
    """Return points evenly along a path, each the mean of those about it, at least `least` mm apart."""
    whole = np.vstack([path, path[:1]]) if closed else path
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(whole, axis=0).T))])
    count = int(np.clip(along[-1] / least, 12, MOST_WHOLE if closed else MOST))
    lot = np.minimum((along / along[-1] * count).astype(int), count - 1)
    own = along[:-1] if closed else along
    lot = lot[: len(own)]
    sizes = np.maximum(np.bincount(lot, minlength=count), 1)
    means = [np.bincount(lot, weights=path[:, k], minlength=count) / sizes for k in (0, 1)]
    return np.column_stack(means)[np.bincount(lot, minlength=count) > 0]


def _in_frame(points: Array, origin: Array, along: Array) -> Array:
    """Return points along a line and to its left, mm."""
    off = points - origin
    return np.column_stack([off @ along, off @ np.array([-along[1], along[0]])])


def _unit(way: Array) -> Array:
    found: Array = way / np.hypot(*way)
    return found


def _area(line: Array) -> float:
    """Return the area to the left of a closed line."""
    y, z = line.T
    return float(y @ np.roll(z, -1) - z @ np.roll(y, -1)) / 2
