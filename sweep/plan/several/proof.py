"""The best choice of cuts, proven: an integer programme over those few that could be in it.

The programme is: take cells worth the most, each only with a cut that takes it, and cuts that count for no more set-ups
than there may be. Alone it takes ten seconds. So first a bound: a multiplier u for each cell prices what a cut takes,
and however the multipliers are,

    sum of (w - u) over all cells + the best choice of cuts at the prices sum of u

is no less than any choice is worth (Lagrangian relaxation; Fisher, Management Science 27, 1981, from memory). They are
moved down the subgradient. A cut is left out where the bound with it forced in is less than a choice that is known.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix, hstack, identity

from sweep.plan.several.cover import Offer

Array = NDArray[np.float64]

ROUNDS, PATIENCE = 200, 12
"""How often multipliers are moved, and after how many moves without gain they are moved less far."""

FEW, NODES = 160, 100
"""The most cuts that are left for the programme, and its largest search: numbers, so that every machine finds the same.
"""

SECONDS = 30.0
"""s. A last bound on its search, that no machine is expected to reach."""


@dataclass(frozen=True)
class Choice:
    """Cuts that are chosen.

    Parameters
    ----------
    chosen : tuple of int
        In rising order.
    worth : float, mm2
    bound : float, mm2
        No choice is worth more.
    """

    chosen: tuple[int, ...]
    worth: float
    bound: float

    @property
    def is_proven(self) -> bool:
        """Whether no other choice is worth more, to a thousandth of a mm2."""
        return self.bound <= self.worth + 1e-3


def best_choice(offer: Offer, known: list[int], most: int) -> Choice:
    """Return the best choice of cuts that count for at most so many set-ups, or the known one where it takes long.

    Parameters
    ----------
    offer : Offer
    known : list of int
        A good choice.
    most : int
    """
    worth = offer.worth(known)
    bound, with_it = _bounds(offer, worth, most)
    few = np.flatnonzero(with_it > worth + 1e-6)
    if bound <= worth + 1e-6 or len(few) == 0:
        return Choice(tuple(sorted(known)), worth, worth)
    if len(few) > FEW:
        return Choice(tuple(sorted(known)), worth, bound)
    found, limit = _programme(offer, few, most)
    if found is not None and offer.worth(found) > worth:
        known, worth = found, offer.worth(found)
    return Choice(tuple(sorted(known)), worth, max(worth, min(bound, limit)))


def _bounds(offer: Offer, worth: float, most: int) -> tuple[float, Array]:
    """Return a bound on every choice, and bounds on those with each cut in them, mm2."""
    takes, weights = offer.sums, offer.weights
    multipliers = weights / 2
    best, kept, priced, step, idle = np.inf, multipliers, np.zeros(len(offer.costs)), 1.0, 0
    for _ in range(ROUNDS):
        values = takes @ multipliers - offer.prices
        chosen = _dearest(values, offer.costs, most)
        bound = float((weights - multipliers).sum() + values[chosen].sum())
        if bound < best - 1e-6:
            best, kept, priced, idle = bound, multipliers, values, 0
        else:
            idle += 1
            if idle >= PATIENCE:
                step, multipliers, idle = step / 2, kept, 0
                continue
        slope = offer.takes[chosen].sum(axis=0) - 1.0
        along = float(slope @ slope)
        if along == 0.0 or best <= worth:
            break
        multipliers = np.clip(multipliers - step * (bound - worth) / along * slope, 0.0, weights)
    rest = best - _value(priced, _dearest(priced, offer.costs, most))
    by_cost = {cost: _value(priced, _dearest(priced, offer.costs, most - cost)) for cost in set(offer.costs.tolist())}
    return best, rest + priced + np.array([by_cost[cost] for cost in offer.costs.tolist()])


def _dearest(values: Array, costs: NDArray[np.int64], most: int) -> NDArray[np.int64]:
    """Return the cuts worth most together that count for at most so many set-ups, one or two each."""
    singles, doubles = (np.flatnonzero((costs == cost) & (values > 0)) for cost in (1, 2))
    singles = singles[np.argsort(-values[singles], kind="stable")][:most]
    doubles = doubles[np.argsort(-values[doubles], kind="stable")][: most // 2]
    ways = [np.concatenate([doubles[:k], singles[: most - 2 * k]]) for k in range(len(doubles) + 1)]
    best: NDArray[np.int64] = max(ways, key=lambda way: float(values[way].sum()))
    return best


def _value(values: Array, chosen: NDArray[np.int64]) -> float:
    return float(values[chosen].sum())


def _programme(offer: Offer, few: NDArray[np.int64], most: int) -> tuple[list[int] | None, float]:
    """Return the best choice among a few cuts, if any was found, and a bound on all of them, mm2."""
    patterns, place = np.unique(np.packbits(offer.takes[few], axis=0), axis=1, return_inverse=True)
    takes = np.unpackbits(patterns, axis=0, count=len(few)).astype(float)
    weights = np.bincount(place.ravel(), weights=offer.weights, minlength=takes.shape[1])
    takes, weights = takes[:, takes.any(axis=0)], weights[takes.any(axis=0)]
    cuts, cells = takes.shape
    taken = LinearConstraint(hstack([csr_matrix(-takes.T), identity(cells)]).tocsr(), -np.inf, 0.0)
    counted = LinearConstraint(csr_matrix(np.concatenate([offer.costs[few], np.zeros(cells)])), 0, most)
    solved = milp(
        np.concatenate([offer.prices[few], -weights]),
        constraints=[taken, counted],
        integrality=np.concatenate([np.ones(cuts), np.zeros(cells)]),
        bounds=Bounds(0, 1),
        options={"node_limit": NODES, "time_limit": SECONDS, "mip_rel_gap": 0.0},
    )
    if solved.x is None:
        return None, np.inf
    return few[solved.x[:cuts] > 0.5].tolist(), -solved.mip_dual_bound
