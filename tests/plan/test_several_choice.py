"""The choice of cuts: no other of them is worth more, which is tried by brute force where there are few."""

from __future__ import annotations

import itertools

import mouldings
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer

from sweep.plan.several.candidates import pool_of
from sweep.plan.several.cover import Offer, chosen_from, exchanged, greedy
from sweep.plan.several.proof import best_choice
from sweep.plan.several.wanted import wanted_of
from sweep.scene.read import scene_from


def every_choice(offer: Offer, most: int) -> list[tuple[int, ...]]:
    """Every choice that counts for at most so many set-ups."""
    numbers = range(len(offer.costs))
    choices = itertools.chain.from_iterable(itertools.combinations(numbers, count) for count in range(most + 1))
    return [chosen for chosen in choices if offer.costs[list(chosen)].sum() <= most]


@given(st.integers(0, 2**32 - 1))
@fewer(1 / 8)
def test_the_choice_is_the_best_there_is_and_is_proven(seed):
    """Against every choice of up to nine cuts that take cells by chance, some of which count for two set-ups."""
    chance = np.random.default_rng(seed)
    cuts, cells, most = chance.integers(1, 10), chance.integers(1, 60), int(chance.integers(1, 5))
    scale = chance.choice([1.0, 0.02])  # choices that are nearly alike too
    offer = Offer(
        chance.random((cuts, cells)) < chance.uniform(0.05, 0.6),
        chance.uniform(0.1, 2, cells) * scale,
        np.where(chance.random(cuts) < 0.3, 2, 1),
        chance.uniform(0, 1, cuts) * (chance.random() < 0.5) * scale,
    )
    best = max(offer.worth(chosen) for chosen in every_choice(offer, most))
    good = chosen_from(offer, most)
    for known in (good, greedy(offer, most), []):  # from a good choice, another, and none
        found = best_choice(offer, known, most)
        assert found.is_proven and offer.worth(found.chosen) == pytest.approx(best, abs=1e-3)
        assert offer.costs[list(found.chosen)].sum() <= most
    assert offer.worth(greedy(offer, most)) <= offer.worth(good) + 1e-9 <= best + 2e-9
    assert found.bound >= best - 1e-9


def test_of_the_cuts_for_an_ogee_no_pair_is_worth_more_than_the_choice():
    """All pairs of some three hundred, by one product of matrices."""
    scene = scene_from(mouldings.scene_of(mouldings.ogee_with_bead(), 70, 20, blades=1))
    wanted = wanted_of(scene)
    pool = pool_of(scene, wanted)
    offer = Offer(pool.takes, np.full(len(wanted.cells), wanted.cell), pool.costs, np.zeros(len(pool.cuts)))
    single = pool.takes[pool.costs == 1].astype(float) * wanted.cell**0.5
    alone = (single**2).sum(axis=1)
    pairs = alone[:, None] + alone - single @ single.T
    found = best_choice(offer, chosen_from(offer, 2), 2)

    assert len(single) > 100
    assert found.is_proven and found.worth == pytest.approx(max(pairs.max(), alone.max()), abs=1e-3)
    assert offer.worth(greedy(offer, 2)) < found.worth  # taking the best one first is not enough here


def test_exchange_leaves_no_single_exchange_that_gains():
    """Among random cuts; greedy is where it begins."""
    chance = np.random.default_rng(5)
    offer = Offer(chance.random((30, 400)) < 0.1, np.ones(400), np.ones(30, int), np.zeros(30))
    chosen = exchanged(offer, greedy(offer, 4), 4)
    others = [chosen[:k] + [j] + chosen[k + 1 :] for k in range(4) for j in range(30)]

    assert max(map(offer.worth, others)) <= offer.worth(chosen) + 1e-9
