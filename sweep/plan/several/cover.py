"""Which cuts of a pool together take the most waste: greedily, and then by exchange, one cut at a time.

Cuts overlap, so what one is worth depends on the others. Taking the best one each time loses several hundredths; after
it, each cut in turn is left out and the best one put in instead, for as long as that gains anything.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix

Array = NDArray[np.float64]
Cells = NDArray[np.bool_]

STARTS = 12
"""From how many choices made by chance, besides the greedy one, exchange begins anew; the seed is always the same."""

GAIN = 1e-9
"""A choice that is worth less than this more is no better: rounding."""


@dataclass(frozen=True, eq=False)
class Offer:
    """What may be chosen from.

    Parameters
    ----------
    takes : (n, p) bool
        Which cells each cut takes.
    weights : (p,) float, mm2
        Area of each cell.
    costs : (n,) int
        For how many set-ups each counts.
    prices : (n,) float, mm2
        How much waste its time at the saw is held to be worth.
    """

    takes: Cells
    weights: Array
    costs: NDArray[np.int64]
    prices: Array

    @cached_property
    def sums(self) -> csr_matrix:
        """The same as `takes`, to multiply with: most are naught, and one core does it sooner than several."""
        return csr_matrix(self.takes.astype(float))

    def worth(self, chosen: Iterable[int]) -> float:
        """Return the waste that some cuts take together, less their price, mm2."""
        which = list(chosen)
        return float(self.weights[self.takes[which].any(axis=0)].sum() - self.prices[which].sum())


def chosen_from(offer: Offer, most: int) -> list[int]:
    """Return a good choice of cuts that count for at most so many set-ups, in rising order."""
    shuffled = np.random.default_rng(1)
    starts = [greedy(offer, most)]
    starts += [_filled(offer, shuffled.permutation(len(offer.costs))[:most].tolist(), most) for _ in range(STARTS)]
    return sorted(max([exchanged(offer, start, most) for start in starts], key=offer.worth))


def greedy(offer: Offer, most: int) -> list[int]:
    """Return a choice made by taking each time what is worth most for each set-up that it counts for."""
    return _filled(offer, [], most)


def exchanged(offer: Offer, chosen: list[int], most: int) -> list[int]:
    """Return a choice in which no cut can be exchanged for another, or two for one, to any gain.

    It ends, for each exchange is worth more than the one before, and there are only so many choices.
    """
    best, worth, improved = chosen, offer.worth(chosen), True
    while improved:
        improved = False
        for k in range(len(best)):
            tried = _filled(offer, best[:k] + best[k + 1 :], most)
            if offer.worth(tried) > worth + GAIN:
                best, worth, improved = tried, offer.worth(tried), True
                break
    return best


def _filled(offer: Offer, chosen: list[int], most: int) -> list[int]:
    """Return a choice with more cuts, the one worth most for each set-up first, until none fits or gains."""
    chosen, room = list(chosen), most - int(offer.costs[chosen].sum())
    while room < 0:
        room += int(offer.costs[chosen.pop()])
    left = np.where(offer.takes[chosen].any(axis=0), 0.0, offer.weights)
    while room > 0:
        gains = (offer.sums @ left - offer.prices) / offer.costs
        gains[offer.costs > room] = -np.inf
        best = int(np.argmax(gains))
        if gains[best] <= GAIN:
            break
        chosen.append(best)
        room -= int(offer.costs[best])
        left[offer.takes[best]] = 0.0
    return chosen
