"""Parts cut from bars of given lengths: the least total length, then the fewest bars, with the kerf of every cut.

The cutting-stock problem as Gilmore and Gomory put it (*Operations Research* 9 (1961) 849-859): one unknown for each
way to cut a bar, how often it is used. The ways are written out in full and the whole numbers are found by a
library solver, so the answer is the least there is, not merely a good one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement, islice

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import LinearConstraint, milp

from sweep.tolerance import SAME_LENGTH

MOST_WAYS = 20_000
"""Ways to cut a strip, or a bar of several strips, beyond which the solver would take longer than a few seconds."""

Way = tuple[tuple[int, int], ...]
"""How many parts of which sizes: (place of the size, count), the longest size first."""


class TooManyWaysError(ValueError):
    """The parts are of so many lengths that the ways to cut them cannot all be looked at."""


@dataclass(frozen=True, order=True)
class Part:
    """Something to be cut to length.

    Parameters
    ----------
    length : float, mm
    name : str
    """

    length: float
    name: str


@dataclass(frozen=True)
class Bar:
    """One bar and what is cut from it.

    Parameters
    ----------
    length : float, mm
        Of each of its strips.
    strips : tuple of tuples of Part
        Side by side in the width; along each, its parts in order.
    """

    length: float
    strips: tuple[tuple[Part, ...], ...]


def cut_from(parts: Sequence[Part], lengths: Sequence[float], kerf: float, side_by_side: int = 1) -> tuple[Bar, ...]:
    """Return bars of the least total length, and of those the fewest, from which every part is cut once.

    Parameters
    ----------
    parts : sequence of Part
        None of them longer than the longest bar.
    lengths : sequence of float, mm
        Of the bars that are to be had, any number of each.
    kerf : float, mm
        Lost between one part and the next.
    side_by_side : int
        Strips that one bar's width gives, each as long as the bar.

    Raises
    ------
    TooManyWaysError
        When there are more than `MOST_WAYS` ways to cut them.
    """
    if not parts:
        return ()
    if len(set(lengths)) == 1 and side_by_side > 1:  # the fewest strips make the fewest bars
        strips = [bar.strips[0] for bar in cut_from(parts, lengths, kerf)]
        return tuple(
            Bar(lengths[0], tuple(strips[first : first + side_by_side]))
            for first in range(0, len(strips), side_by_side)
        )
    wanted = Counter(part.length for part in parts)
    sizes = sorted(wanted, reverse=True)
    ways = []
    for length in sorted(set(lengths), reverse=True):
        bars = combinations_with_replacement(_ways(sizes, wanted, length, kerf), side_by_side)
        ways += [(length, bar) for bar in islice(bars, MOST_WAYS + 1 - len(ways))]
        if len(ways) > MOST_WAYS:
            raise TooManyWaysError(f"there are more than {MOST_WAYS} ways to cut bars of {side_by_side} strips")
    waiting = {size: iter(sorted(part for part in parts if part.length == size)) for size in sizes}
    bars = []
    for (length, bar), times in zip(ways, _fewest(ways, [wanted[size] for size in sizes]), strict=True):
        for _ in range(times):
            strips = [tuple(p for size, count in way for p in islice(waiting[sizes[size]], count)) for way in bar]
            bars.append(Bar(length, tuple(strip for strip in strips if strip)))
    return tuple(bar for bar in bars if bar.strips)


def _ways(sizes: list[float], wanted: Counter[float], length: float, kerf: float) -> list[Way]:
    """Return every way to cut a strip that leaves no room for one more part that is wanted."""

    def fill(first: int, room: float) -> Iterator[Way]:
        for size in range(first, len(sizes)):
            each = sizes[size] + kerf
            for count in range(min(wanted[sizes[size]], int(room // each)), 0, -1):
                for rest in fill(size + 1, room - count * each):
                    yield ((size, count), *rest)
        yield ()

    room = length + kerf + SAME_LENGTH  # the last part needs no cut behind it
    ways, smallest = [], range(len(sizes) - 1, -1, -1)
    for looked_at, way in enumerate(fill(0, room)):
        used = dict(way)
        left = room - sum(count * (sizes[size] + kerf) for size, count in way)
        spare = next((size for size in smallest if used.get(size, 0) < wanted[sizes[size]]), None)
        if way and (spare is None or sizes[spare] + kerf > left):
            ways.append(way)
        if looked_at > MOST_WAYS:
            raise TooManyWaysError(
                f"there are more than {MOST_WAYS} ways to cut {len(sizes)} lengths from {length:.4g} mm"
            )
    return ways


def _fewest(ways: list[tuple[float, tuple[Way, ...]]], wanted: list[int]) -> NDArray[np.int64]:
    """Return how often each way to cut a bar is used: least length of bars first, then fewest bars."""
    made = np.zeros((len(wanted), len(ways)))
    for column, (_, bar) in enumerate(ways):
        for size, count in (pair for way in bar for pair in way):
            made[size, column] += count
    lengths = np.array([length for length, _ in ways])
    found = _whole_numbers(lengths / lengths.max(), made, wanted)
    if np.ptp(lengths) == 0:
        return found
    no_longer = -(found @ lengths + SAME_LENGTH) / lengths.max()
    return _whole_numbers(np.ones(len(ways)), np.vstack([made, -lengths / lengths.max()]), [*wanted, no_longer])


def _whole_numbers(cost: ArrayLike, rows: ArrayLike, least: ArrayLike) -> NDArray[np.int64]:
    """Return the whole numbers, none negative, of the least cost for which every row comes to at least so much."""
    # without presolve: it is no slower here, and HiGHS's now and then leaves a line of its own on standard output
    options = {"mip_rel_gap": 0.0, "presolve": False}
    found = milp(cost, integrality=1, constraints=LinearConstraint(rows, least), options=options)
    return np.rint(found.x).astype(np.int64)
