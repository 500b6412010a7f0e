"""A legend: marks, each with what it stands for, in rows as wide as they may be."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

from sweep.show.draw.fonts import width_of
from sweep.show.draw.sketch import Part, box, dot, path, words

Mark = Callable[[float, float], list[Part]]
"""From where the middle of a mark stands, mm, to its parts."""

_MARK, _GAP, _APART, _ROW = 3.6, 1.4, 4.4, 4.8  # width of a mark, to its words, to the next mark, to the next row, mm
_HALF = 1.3  # half the height of a swatch, mm


def swatch(fill: str, stroke: str = "") -> Mark:
    """Return a patch of a colour."""
    return lambda x, y: [box(x - _MARK / 2, y - _HALF, _MARK, 2 * _HALF, stroke, fill)]


def bar(colour: str, height: float = 0.5) -> Mark:
    """Return a piece of a line of a colour, so many mm thick."""
    return lambda x, y: [box(x - _MARK / 2, y - height / 2, _MARK, height, "", colour)]


def ring(radius: float, stroke: str, fill: str) -> Mark:
    """Return a round mark."""
    return lambda x, y: [dot(x, y, radius, stroke, fill)]


def triangle(side: float, colour: str) -> Mark:
    """Return a triangle that points up, with what is beyond a diagram's end."""
    return lambda x, y: [pointing_up(x, y, side, colour)]


def pointing_up(x: float, y: float, side: float, colour: str) -> Part:
    """Return a triangle about a place, mm."""
    half = side / 2
    return path([(x - half, y + half), (x + half, y + half), (x, y - half)], "", colour, closed=True)


def legend(
    entries: Sequence[tuple[Mark, str]], left: float, middle: float, width: float, size: float, centred: bool = False
) -> list[Part]:
    """Return marks with their words, in as few rows as fit that room.

    Parameters
    ----------
    entries : sequence of (Mark, str)
    left, middle : float, mm
        Where the first mark begins, and the middle of all rows.
    width : float, mm
        Room for a row.
    size : float, points
    centred : bool
        Whether the rows stand in the middle of that room.
    """
    count = next(n for n in range(len(entries), 0, -1) if n == 1 or sum(_columns(entries, n, size)) - _APART <= width)
    columns, rows = _columns(entries, count, size), math.ceil(len(entries) / count)
    start = left + (width - sum(columns) + _APART) / 2 if centred else left
    places = list(itertools.accumulate([start, *columns]))
    parts = []
    for k, (mark, label) in enumerate(entries):
        row, column = divmod(k, count)
        level = middle + (row - (rows - 1) / 2) * _ROW
        parts += mark(places[column] + _MARK / 2, level)
        parts.append(words(label, places[column] + _MARK + _GAP, level, "left", size))
    return parts


def _columns(entries: Sequence[tuple[Mark, str]], count: int, size: float) -> list[float]:
    """Return how wide each of so many columns is, mm, with the room between them."""
    return [
        _MARK + _GAP + _APART + max(width_of(label, size) for _, label in entries[column::count])
        for column in range(count)
    ]
