"""Parts cut from bars of given lengths: the least total length, then the fewest bars, with the kerf of every cut.

The cutting-stock problem as Gilmore and Gomory put it (*Operations Research* 9 (1961) 849-859): one unknown for each
way to cut a bar, how often it is used. The ways are written out in full, and a library's solver finds the whole
numbers. So the answer is the least there is. Where the time for that runs out it is the best found, and says so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations_with_replacement, islice

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.errors import UnusableError
from sweep.figure import Figure
from sweep.tolerance import SAME_LENGTH
from sweep.units import LENGTH

MOST_WAYS = 20_000
"""Ways to cut a strip, or a bar of several strips, beyond which the solver would take longer than a few seconds."""

MOST_SECONDS = 3.0
"""For each of the solver's two questions, how short and how few: a maker waits that long, and seldom has to."""

Way = tuple[tuple[int, int], ...]
"""How many parts of which sizes: (place of the size, count), the longest size first."""


class TooManyWaysError(UnusableError):
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


@dataclass(frozen=True)
class Cutting:
    """Bars from which every part is cut.

    Parameters
    ----------
    bars : tuple of Bar
    least : bool
        Whether no less would do: False where the time for looking ran out, and these are the best found.
    """

    bars: tuple[Bar, ...]
    least: bool


def cut_from(parts: Sequence[Part], lengths: Sequence[float], kerf: float, side_by_side: int = 1) -> Cutting:
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
    return _cut_from(tuple(parts), tuple(sorted(set(lengths), reverse=True)), kerf, side_by_side)


@lru_cache(maxsize=16)  # every output of a run asks, and is told the same even where the time ran out
def _cut_from(parts: tuple[Part, ...], lengths: tuple[float, ...], kerf: float, side_by_side: int) -> Cutting:
    if not parts:
        return Cutting((), least=True)
    if len(lengths) == 1 and side_by_side > 1:  # the fewest strips make the fewest bars
        single = _cut_from(parts, lengths, kerf, 1)
        strips = [bar.strips[0] for bar in single.bars]
        lots = [strips[first : first + side_by_side] for first in range(0, len(strips), side_by_side)]
        return Cutting(tuple(Bar(lengths[0], tuple(lot)) for lot in lots), single.least)
    wanted = Counter(part.length for part in parts)
    sizes = sorted(wanted, reverse=True)
    ways = _ways_of_bars(sizes, wanted, lengths, kerf, side_by_side)
    times, least = _fewest(ways, [wanted[size] for size in sizes])
    handy = _handiest(parts, lengths, kerf, side_by_side)
    if times is None:
        return Cutting(handy, least=False)
    waiting = {size: iter(sorted(part for part in parts if part.length == size)) for size in sizes}
    bars = []
    for (length, bar), count in zip(ways, times, strict=True):
        for _ in range(count):
            strips = [tuple(p for size, count in way for p in islice(waiting[sizes[size]], count)) for way in bar]
            bars.append(Bar(length, tuple(strip for strip in strips if strip)))
    found = tuple(bar for bar in bars if bar.strips)
    return Cutting(found if least else min(found, handy, key=_total), least)


def _total(bars: tuple[Bar, ...]) -> tuple[float, int]:
    return round(sum(bar.length for bar in bars), 6), len(bars)


def _handiest(parts: Sequence[Part], lengths: Sequence[float], kerf: float, side_by_side: int) -> tuple[Bar, ...]:
    """Return bars as a maker would cut them: the longest part first, into the first strip with room for it."""
    strips: list[list[Part]] = []
    rooms: list[float] = []
    for part in sorted(parts, reverse=True):
        place = next((place for place, room in enumerate(rooms) if part.length <= room + SAME_LENGTH), len(rooms))
        if place == len(rooms):
            strips.append([])
            rooms.append(lengths[0])
        strips[place].append(part)
        rooms[place] -= part.length + kerf
    bars = []
    for first in range(0, len(strips), side_by_side):
        beside = tuple(map(tuple, strips[first : first + side_by_side]))
        used = max(sum(part.length for part in strip) + kerf * (len(strip) - 1) for strip in beside)
        bars.append(Bar(min(length for length in lengths if used <= length + SAME_LENGTH), beside))
    return tuple(bars)


def _ways_of_bars(
    sizes: list[float], wanted: Counter[float], lengths: tuple[float, ...], kerf: float, side_by_side: int
) -> list[tuple[float, tuple[Way, ...]]]:
    """Return the ways to cut a bar, each with the shortest length of bar that does."""
    ways: dict[tuple[tuple[int, int], ...], tuple[float, tuple[Way, ...]]] = {}
    looked_at = 0
    for length in lengths:  # the longest first, so that a shorter one that gives the same takes its place
        for bar in combinations_with_replacement(_ways(sizes, wanted, length, kerf), side_by_side):
            looked_at += 1
            if looked_at > MOST_WAYS:
                raise TooManyWaysError(
                    f"there are more than {MOST_WAYS} ways to cut bars of {side_by_side} strips",
                    "name fewer lengths, or narrower boards",
                )
            given: Counter[int] = Counter()
            for size, count in (pair for way in bar for pair in way):
                given[size] += count
            ways[tuple(sorted((size, min(count, wanted[sizes[size]])) for size, count in given.items()))] = length, bar
    return list(ways.values())


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
                f"there are more than {MOST_WAYS} ways to cut {len(sizes)} lengths from {{value}}",
                "order in two parts, or make like lengths the same",
                value=Figure(length, LENGTH),
            )
    return ways


def _fewest(ways: list[tuple[float, tuple[Way, ...]]], wanted: list[int]) -> tuple[NDArray[np.int64] | None, bool]:
    """Return how often each way to cut a bar is used, least length of bars first, then fewest bars; and if it is that.

    None instead of the numbers where the time ran out before any were found.
    """
    made = np.zeros((len(wanted), len(ways)))
    for column, (_, bar) in enumerate(ways):
        for size, count in (pair for way in bar for pair in way):
            made[size, column] += count
    lengths = np.array([length for length, _ in ways])
    found, least = _whole_numbers(lengths / lengths.max(), made, wanted)
    if found is None or np.ptp(lengths) == 0:
        return found, least
    no_longer = -(found @ lengths + SAME_LENGTH) / lengths.max()
    fewer, fewest = _whole_numbers(
        np.ones(len(ways)), np.vstack([made, -lengths / lengths.max()]), [*wanted, no_longer]
    )
    return (found, False) if fewer is None else (fewer, least and fewest)


def _whole_numbers(cost: ArrayLike, rows: ArrayLike, least: ArrayLike) -> tuple[NDArray[np.int64] | None, bool]:
    """Return whole numbers, none negative, for which every row comes to at least so much; and if no cost is less."""
    from scipy.optimize import LinearConstraint, milp  # here, for it takes long to load and few jobs have an order

    # without presolve: it is no slower here, and HiGHS's now and then leaves a line of its own on standard output
    options = {"mip_rel_gap": 0.0, "presolve": False, "time_limit": MOST_SECONDS}
    found = milp(cost, integrality=1, constraints=LinearConstraint(rows, least), options=options)
    return (None if found.x is None else np.rint(found.x).astype(np.int64)), found.status == 0
