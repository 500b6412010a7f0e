"""The set-ups for whole mouldings: what they take, how long finding them takes, what greed alone does."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

import mouldings
import numpy as np
import pytest
import shapely

from sweep.errors import SceneError
from sweep.plan.several.candidates import Pool, pool_of
from sweep.plan.several.choose import curve_of
from sweep.plan.several.cover import Offer, chosen_from, greedy
from sweep.plan.several.wanted import Wanted, wanted_of
from sweep.plan.several.wood_left import left_by
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.tolerance import CHORD

PROFILES = {
    "ogee with bead and fillets, 70 x 20": (mouldings.ogee_with_bead, 70, 20, 0.90),
    "cove with ovolo and quirk, 90 x 25": (mouldings.cove_with_ovolo, 90, 25, 0.88),
}
"""Profiles of our own, their stock, and the goal: the share of the waste that four set-ups take at least."""


@pytest.mark.parametrize("name", PROFILES)
def test_four_set_ups_reach_the_goal(name: str, write_row: Callable[[str, Sequence[str], Sequence[str]], None]):
    """Two blades, tilts on both sides; more than greed and exchange over the same cuts, in exact areas too."""
    make, width, thickness, goal = PROFILES[name]
    scene = scene_from(mouldings.scene_of(make(), width, thickness))
    began, busy = time.perf_counter(), time.process_time()
    curve = curve_of(scene)
    took, worked = time.perf_counter() - began, time.process_time() - busy
    wanted = wanted_of(scene)
    pool = pool_of(scene, wanted)
    offer = Offer(pool.takes, np.full(len(wanted.cells), wanted.cell), pool.costs, np.zeros(len(pool.cuts)))
    for row in curve.rows:
        alone, exchanged = (_exact(way(offer, row.setups), pool, wanted) for way in (greedy, chosen_from))
        write_row(
            "Set-ups for a whole moulding: share of the waste",
            (
                "profile",
                "set-ups",
                "greedy",
                "exchanged",
                "chosen, moved, in order",
                "proven",
                "at the saw",
                "found in",
            ),
            (
                name,
                str(row.setups),
                f"{100 * alone:.1f} %",
                f"{100 * exchanged:.1f} %",
                f"{100 * row.share:.1f} %",
                str(row.proven),
                f"{row.seconds / 60:.0f} min",
                f"{took:.1f} s ({worked:.1f} s of a core), all of them",
            ),
        )

        assert row.share >= max(alone, exchanged)

    assert curve.choice.share >= goal
    assert curve.choice.setups <= 4


def _exact(chosen: list[int], pool: Pool, wanted: Wanted) -> float:
    """The share of the waste that cuts of a pool take, by exact sections as the curve tells it, not by cells."""
    wood = section.stock_section(*wanted.stock)
    for k in chosen:
        wood = left_by(pool.cuts[k], wood, wanted.kept)
    return 1 - section.area(section.within(wanted.waste, wood)) / section.area(wanted.waste)


def test_on_300_random_profiles_no_exact_section_comes_too_near(
    write_row: Callable[[str, Sequence[str], Sequence[str]], None],
):
    """By one blade at two tilts, every number of set-ups; the least distance less what is to be left."""
    solved, nearest, shares, began = 0, np.inf, [], time.process_time()
    for seed in range(1000):
        points, width, thickness = mouldings.at_random(np.random.default_rng(seed))
        try:
            scene = scene_from(mouldings.scene_of(points, width, thickness, blades=1, tilts=15, most_setups=1))
            rows = curve_of(scene).rows
        except SceneError:
            continue  # a line that crosses itself, or that no blade can follow
        wanted = wanted_of(scene)
        above = shapely.box(-width / 2, 1e-4, width / 2, thickness)  # touching the table takes nothing
        took = [section.within(cut.figure(), above) for row in rows for cut in row.ordered.cuts]
        nearest = min([nearest, *(float(shapely.distance(one, wanted.kept)) - scene.plan.leave for one in took)])
        shares.append(rows[0].share)
        solved += 1
        if solved == 300:
            break
    write_row(
        "300 random profiles, one set-up by one blade",
        ("nearest, beyond what is left", "mean share", "each"),
        (
            f"{1000 * nearest:+.2f} um",
            f"{100 * np.mean(shares):.0f} %",
            f"{(time.process_time() - began) / solved:.2f} s",
        ),
    )

    assert solved == 300
    assert nearest >= -CHORD
