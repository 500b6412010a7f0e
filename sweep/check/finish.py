"""Flags of the finishing operations: one that takes nothing, breaks into the cove, or leaves little wood.

The wood left is measured square to the new face, to the first face behind it that the new one does not meet. Where a
new face meets an old one at an acute angle it leaves a feather edge; that is not flagged.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from sweep.check.flag import Code, Flag
from sweep.cut.finish import Change, Finishing
from sweep.cut.moulding import Made
from sweep.figure import Named, count, named
from sweep.scene.finish import Rip
from sweep.shape import edges, section
from sweep.tolerance import AS_MUCH, SAME_POINT
from sweep.units import LENGTH

FACE_SAMPLE = 0.25
"""mm. Spacing of the places on a new face at which the wood behind it is measured."""

FINISH_CODES: tuple[Code, ...] = ("finish-nothing", "finish-through", "finish-thin")
"""The codes of the flags raised here."""

_PLACES = (1e-4, 0.5, 1 - 1e-4)
"""Shares of a piece of the face at which it is measured: all but at its ends, where the least is, and in the middle."""

_OPENED = 1e-3
"""mm. So much of the cove's line must be gone before it is said to be broken into."""


def flags_of_finishing(made: Made) -> list[Flag]:
    """Return the flags of every finishing operation, in order; they belong to the whole job."""
    return [flag for one in made.finishing for flag in _flags_of(made, one)]


def _flags_of(made: Made, one: Finishing) -> list[Flag]:
    do, number, flags = one.operation.do, named(number=count(one.number)), []
    if not any(section.parts(section.within(change.before, change.taken)) for change in one.changes):
        return [Flag("finish-nothing", None, 0.0, 0.0, LENGTH, do, number)]
    meant = isinstance(one.operation, Rip) or getattr(one.operation, "edge", "").startswith("cove")
    if not meant:
        opened, change = max(((_cove_opened(made, change), change) for change in one.changes), key=lambda pair: pair[0])
        if opened > _OPENED:
            flags.append(Flag("finish-through", None, opened, 0.0, LENGTH, do, (*number, *_piece(change))))
    left, change = min(((wood_behind(change), change) for change in one.changes), key=lambda pair: pair[0])
    least = made.scene.limits.finish_wood
    if left < least - AS_MUCH:
        flags.append(Flag("finish-thin", None, left, least, LENGTH, do, (*number, *_piece(change))))
    return flags


def _piece(change: Change) -> Named:
    """Return which piece it is, where there were several."""
    return () if change.piece is None else named(piece=count(change.piece))


def _cove_opened(made: Made, change: Change) -> float:
    """Return how much of the cove's line an operation takes, mm."""
    if made.pieces[0].outline.cove.is_empty:
        return 0.0
    cove = shapely.boundary(made.pieces[0].outline.cove)
    before = shapely.intersection(cove, shapely.buffer(change.before, SAME_POINT))
    return float(shapely.intersection(before, change.taken).length)


def wood_behind(change: Change) -> float:
    """Return the least thickness of wood behind a new face, mm; infinite where there is no face behind it to count."""
    new = shapely.intersection(shapely.boundary(change.taken), change.before)
    lines = shapely.get_parts(shapely.segmentize(shapely.line_merge(new), FACE_SAMPLE))
    starts, ends = _segments(*shapely.get_coordinates(lines, return_index=True))
    steps = ends - starts
    across = np.column_stack([-steps[:, 1], steps[:, 0]]) / np.hypot(*steps.T)[:, None]
    taken = shapely.contains_xy(change.taken, *((starts + ends) / 2 + 1e-3 * across).T)
    inward = np.tile(np.where(taken[:, None], -across, across), (3, 1))
    places = np.vstack([starts + share * steps for share in _PLACES])
    rays = shapely.linestrings(np.stack([places + SAME_POINT * inward, places + edges.FAR * inward], axis=1))
    first = np.asarray(shapely.get_geometry(shapely.intersection(rays, change.after), 0), object)
    known = ~(shapely.is_missing(first) | shapely.is_empty(first))
    if not known.any():
        return math.inf
    exits = shapely.get_point(first[known], -1)
    deep = shapely.distance(exits, shapely.points(places[known]))
    counted = shapely.distance(exits, _faces_met(change, new)) > 1e-6
    return float(deep[counted].min()) if counted.any() else math.inf


def _segments(points: NDArray[np.float64], line: NDArray[np.int64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the starts and ends of the segments of several lines, those that are no more than points left out."""
    one = (np.diff(line) == 0) & (np.hypot(*np.diff(points, axis=0).T) > 1e-6)
    return points[:-1][one], points[1:][one]


def _faces_met(change: Change, new: shapely.Geometry) -> shapely.Geometry:
    """Return the faces of the piece as it was that the new face runs into."""
    ring = edges.clean(section.rings(change.before)[0])
    corners = np.flatnonzero(np.abs(edges.turns(ring)) > edges.CREASE)
    walk = np.roll(ring, -corners[0], axis=0)
    stops = np.append(corners - corners[0], len(ring))
    faces = [np.vstack([walk, walk[:1]])[a : b + 1] for a, b in pairwise(stops)]
    ends = shapely.boundary(shapely.line_merge(new))
    face = np.repeat(np.arange(len(faces)), [len(f) for f in faces])
    lines = np.asarray(shapely.linestrings(np.vstack(faces), indices=face), object)
    return shapely.union_all(lines[shapely.distance(lines, ends) < 1e-6])
