"""Lines of a drawing that meet end to end, run together: a profile is drawn in pieces, straight ones and arcs."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from itertools import count, product

Line = list[tuple[float, float]]


def chained(lines: Sequence[Line], within: float) -> list[Line]:
    """Return lines run together wherever just two of their ends meet within so much, mm; where more do, none is.

    It ends: every line is taken once.
    """
    ends = _numbered_ends(lines, within)
    at: dict[int, list[int]] = defaultdict(list)
    for number, (first, last) in enumerate(ends):
        at[first].append(number)
        at[last].append(number)
    left, found = set(range(len(lines))), []
    for number in range(len(lines)):
        if number not in left:
            continue
        left.discard(number)
        run, (first, last) = list(lines[number]), ends[number]
        onwards = _onwards(last, at, ends, lines, left)
        backwards = _onwards(first, at, ends, lines, left)
        found.append([*reversed(backwards), *run, *onwards])
    return found


def _onwards(
    end: int, at: dict[int, list[int]], ends: list[tuple[int, int]], lines: Sequence[Line], left: set[int]
) -> Line:
    """Return the points that follow an end, itself left out; what is run through is taken from `left`."""
    run: Line = []
    while len(at[end]) == 2:
        following = [number for number in at[end] if number in left]
        if not following:
            break
        (number,) = following
        left.discard(number)
        first, last = ends[number]
        line, end = (lines[number], last) if first == end else (lines[number][::-1], first)
        run += line[1:]
    return run


def _numbered_ends(lines: Sequence[Line], within: float) -> list[tuple[int, int]]:
    """Return numbers of the places of both ends of each line; ends so near to one another have one number."""
    cells: dict[tuple[int, int], list[tuple[tuple[float, float], int]]] = defaultdict(list)
    numbers = count()

    def numbered(point: tuple[float, float]) -> int:
        x, y = (math.floor(value / within) for value in point)
        for right, up in product((-1, 0, 1), repeat=2):
            for place, number in cells.get((x + right, y + up), ()):
                if math.dist(place, point) <= within:
                    return number
        new = next(numbers)
        cells[x, y].append((point, new))
        return new

    return [(numbered(line[0]), numbered(line[-1])) for line in lines]
