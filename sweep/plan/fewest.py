"""The fewest, even passes up to a height in steps that can be set, the last of them the lightest.

Nothing here knows of wood. A burden says how hard a pass from one height to another is, 1 at a limit. It must not fall
as a pass reaches higher, nor as it starts lower. So a pass that starts higher may also end higher, and passes that each
go as far as allowed are the fewest.

Heights are counted in whole steps, 0 to n - 1, and n is the top, which may lie between two steps. Every loop below
runs over a counted range, but for `furthest`, which narrows a range of whole numbers each time.

Many passes are looked at in little more time than one, so what is likely to be asked for next is looked at with it.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable
from itertools import pairwise

import numpy as np

from sweep.tolerance import SAME_HEIGHT

MOST_PASSES = 500

MOST_LASTS = 64
"""How many last passes are tried, at most: all where there are no more steps than that, else as even shares."""

EVENINGS, EVENED = 8, 400
"""How often the burden is lowered to even the passes, at most, and how many passes are looked at for that: the more
there are, the more alike they are from the start."""

AT_FIRST, AHEAD = 8, 32
"""How many passes are looked at together, at first and at most: twice as many each time as far as they go."""

EVEN = 0.02
"""Share of the burden by which the last of the even passes may fall short of the others."""


class Steps:
    """Heights from 0 to a top in steps, and the burden of going from one to another.

    Parameters
    ----------
    top, step : float, mm
    burdens : callable
        Of pairs of heights in mm, the lower first: the burden of the pass between each.
    beyond : callable
        Of a height in mm and a burden: a height that no pass within that burden goes beyond.
    """

    def __init__(
        self,
        top: float,
        step: float,
        burdens: Callable[[list[tuple[float, float]]], list[float]],
        beyond: Callable[[float, float], float],
    ) -> None:
        self.top, self.step = top, step
        self.count = max(1, math.ceil((top - SAME_HEIGHT) / step))
        self._burdens, self._beyond = burdens, beyond
        self._known: dict[tuple[int, int], float] = {}
        self._reached: dict[tuple[int, float], int] = {}
        self._rise, self._ahead = 0, AT_FIRST

    def height(self, place: int) -> float:
        """Return the height of a step, mm."""
        return self.top if place == self.count else place * self.step

    def burdens(self, passes: Iterable[tuple[int, int]]) -> list[float]:
        """Return the burden of each of some passes from one step to another."""
        passes = list(passes)
        asked = [one for one in dict.fromkeys(passes) if one not in self._known]
        if asked:
            found = self._burdens([(self.height(low), self.height(high)) for low, high in asked])
            self._known.update(zip(asked, found, strict=True))
        return [self._known[one] for one in passes]

    def burden(self, low: int, high: int) -> float:
        """Return the burden of a pass from one step to another."""
        return self.burdens([(low, high)])[0]

    def furthest(self, low: int, most: float) -> int:
        """Return the highest step below the top to which a pass stays within a burden; `low` itself where none does.

        Notes
        -----
        Ends, for the range between a step known to be within and one known to be beyond loses a step each time; and
        soon, for where a straight line between the two misses, every third look halves the range.
        """
        if (low, most) in self._reached:
            return self._reached[low, most]
        within, past = low, self._never_beyond(low, most)
        share_within, share_past, looks = 0.0, math.inf, 0
        middle = low + self._rise  # where the pass before went: likely near
        if past > low:
            # where the pass before stopped short of where it could ever go, this one likely does so about as high
            near = [] if self._ahead > 1 else _about(middle, low, past)
            ways = [*self._on_from(low, past, most), *((low, place) for place in near)]
            share_past = self.burdens(ways)[0]
            if share_past <= most:
                within = past
            self._ahead = min(2 * self._ahead, AHEAD) if within == past else 1
        while past - within > 1:
            near = _about(min(max(middle, within + 1), past - 1), within, past)
            for place, share in zip(near, self.burdens((low, place) for place in near), strict=True):
                if share > most:
                    past, share_past = place, share
                    break
                within, share_within = place, share
            looks += 1
            share = 0.5 if looks % 3 == 0 else (most - share_within) / max(share_past - share_within, 1e-12)
            middle = within + int(share * (past - within))
        self._rise = within - low
        self._reached[low, most] = within
        return within

    def _never_beyond(self, low: int, most: float) -> int:
        """Return a step, below the top, that no pass within a burden goes beyond."""
        return min(math.floor(self._beyond(self.height(low), most) / self.step + 1e-9), self.count - 1)

    def _on_from(self, low: int, high: int, most: float) -> list[tuple[int, int]]:
        """Return a pass and those that would follow it, each as far as it could ever go: many of them do go so far."""
        passes = [(low, high)]
        while passes[-1] not in self._known and len(passes) < self._ahead:
            low, high = high, self._never_beyond(high, most)
            if high <= low:
                break
            passes.append((low, high))
        return passes


def _about(place: int, low: int, high: int) -> range:
    """Return a step and its neighbours, of those between two others."""
    return range(max(place - 1, low + 1), min(place + 2, high))


def fewest_even(steps: Steps, wish: float, most: float) -> list[float] | None:
    """Return the heights of the fewest passes within a burden, the top last; None when no plan keeps within it.

    Parameters
    ----------
    steps : Steps
    wish : float, mm
        How much the last pass is to rise: on steps, the least not below it, or less.
    most : float
        The greatest burden of any pass.

    Notes
    -----
    A lighter last pass starts higher, and so needs no fewer passes below it; of the last passes, the heaviest first,
    the first below which the fewest passes can all be made heavier than it is therefore gives the fewest of all. Where
    none can, the steps are about as coarse as the limits, and the fewest passes are taken as they come.
    """
    ladder = _ladder(steps, most)
    lowest = min(max(math.floor((steps.top - wish) / steps.step + 1e-9), 0), steps.count - 1)
    lasts = _some(lowest, steps.count)
    for lightest in (True, False):
        for below in lasts:
            if steps.burden(below, steps.count) > most:
                continue
            passes = bisect_left(ladder, below)
            rise = steps.top - steps.height(below)
            least = math.floor((rise + SAME_HEIGHT) / steps.step) + 1 if lightest else 1
            if passes < len(ladder) and _climb(steps, below, passes, most, least) is not None:
                climbed = _evened(steps, below, passes, most, least)
                return [*map(steps.height, climbed), steps.top]
    return None


def _ladder(steps: Steps, most: float) -> list[int]:
    """Return the steps that passes reach from the table when each goes as far as allowed, 0 first."""
    ladder = [0]
    for _ in range(MOST_PASSES - 1):
        there = steps.furthest(ladder[-1], most)
        if there == ladder[-1]:
            break
        ladder.append(there)
    return ladder


def _some(lowest: int, top: int) -> list[int]:
    """Return steps below the top from which a last pass may start, the lowest first."""
    if top - lowest <= MOST_LASTS:
        return list(range(lowest, top))
    return [top - rise for rise in sorted({round(n) for n in np.geomspace(1, top - lowest, MOST_LASTS)}, reverse=True)]


def _climb(steps: Steps, below: int, passes: int, most: float, least: int) -> list[int] | None:
    """Return the steps after each of so many passes up to the step `below`; None where no such climb was found.

    Each pass goes as far as the burden `most` allows, `least` steps at least, and leaves room for those to come. In a
    cove, where rises within a burden only shrink from some height on, this finds a climb if there is one: after each of
    its passes no other climb stands higher.
    """
    places = [0]
    for to_come in reversed(range(passes)):
        there = min(steps.furthest(places[-1], most), below - to_come * least)
        if there - places[-1] < least:
            return None
        places.append(there)
    return places[1:] if places[-1] == below else None


def _evened(steps: Steps, below: int, passes: int, most: float, least: int) -> list[int]:
    """Return a climb at the least burden that needs no more passes, near enough."""
    low, high = 0.0, most
    climb = _climb(steps, below, passes, most, least) or []
    for _ in range(min(EVENINGS, 1 + EVENED // passes) if passes > 1 else 0):
        shares = steps.burdens(pairwise([0, *climb]))
        short = 1.0 - shares[-1] / high
        if short < EVEN or high - low < EVEN * high / passes:
            break
        # most of what the last falls short of, spread over all; by halves once that was too much
        lower = high * (1.0 - 0.9 * short / passes) if low == 0.0 else (low + high) / 2
        lighter = _climb(steps, below, passes, lower, least)
        low, high, climb = (low, lower, lighter) if lighter is not None else (lower, high, climb)
    return climb
