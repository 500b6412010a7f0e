"""The finished wood against a whole moulding: what is known by hand, and what a mesh must agree on."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scene.test_whole import with_points

from sweep.check.judge import judge
from sweep.check.whole import laid_against, left_on
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.read import scene_from
from sweep.shape import section

GROOVE = [[-20, 0], [-8, 0], [-8, 6], [8, 6], [8, 0], [20, 0]]
"""A groove 16 wide and 6 deep in stock 40 x 12 mm: 96 mm2."""


def figure(*corners: tuple[float, float]) -> section.Figure:
    """A polygon."""
    return section.together(np.array(corners, float))


def grooved(half: float, depth: float, aside: float = 0.0) -> section.Figure:
    """The stock with a groove in it."""
    groove = figure((aside - half, -1), (aside + half, -1), (aside + half, depth), (aside - half, depth))
    return section.minus(section.stock_section(40, 12), groove)


def check(wood: section.Figure, leave: str = "0 mm"):
    """Lay wood against the groove."""
    scene = scene_from(with_points(GROOVE) | {"plan": {"leave": leave}})
    return laid_against(scene, wood, wood)


def test_a_groove_as_wanted_leaves_nothing_and_cuts_nothing():
    """Exactly: the whole waste is gone."""
    found = check(grooved(8, 6))

    assert (found.deepest_cut, found.thickest_left, found.left) == (0.0, 0.0, ())
    assert (found.waste_area, found.waste_share) == (pytest.approx(96), pytest.approx(1))
    assert np.abs(found.above).max() < 1e-9


def test_a_groove_too_small_leaves_wood_and_says_where_and_for_which_tool():
    """1 mm at the sides and 2 at the bottom: 56 of 96 mm2 gone."""
    found = check(grooved(7, 4))

    assert found.deepest_cut == 0
    assert found.thickest_left == pytest.approx(2.0, abs=1e-9)
    assert found.thickest_at[1] == pytest.approx(4.0)
    assert sum(left.area for left in found.left) == pytest.approx(96 - 14 * 4)
    assert found.waste_share == pytest.approx(14 * 4 / 96)
    assert {left.tool for left in found.left} == {"plane", "scraper"}


def test_a_groove_too_deep_on_one_side_is_cut_into_the_profile():
    """0.5 mm to the right and 0.25 up: the deepest is at the corner, hypot(0.5, 0.25) off the air that is wanted."""
    found = check(grooved(8, 6.25, aside=0.5))

    assert found.deepest_cut == pytest.approx(math.hypot(0.5, 0.25))
    assert found.deepest_at == pytest.approx((8.5, 6.25))
    assert found.thickest_left == pytest.approx(0.5)
    assert found.above.min() == pytest.approx(-0.5, abs=1e-9)  # of a wall
    assert found.is_whole is False


def test_what_is_to_be_left_is_no_waste():
    """0.5 mm round a groove 16 by 6, its inner corners square and its edges at the table round."""
    found = check(grooved(8, 6), leave="0.5 mm")

    assert found.waste_area == pytest.approx(15 * 5.5, abs=0.2)
    assert found.waste_share == pytest.approx(1)


def test_a_round_is_for_the_plane_and_a_hollow_for_the_scraper():
    """A quarter round of 6 mm left of a quarter hollow, both with 0.3 mm of wood on them."""
    turn = np.linspace(0, math.pi / 2, 60)
    hollow = np.column_stack([20 - 8 * np.cos(turn), 8 * np.sin(turn)])
    round_ = np.column_stack([-20 + 6 - 6 * np.cos(turn), 6 - 6 * np.sin(turn)])
    points = np.vstack([round_, hollow])
    scene = scene_from(with_points(points.tolist()))
    kept = laid_against(scene, section.stock_section(40, 12), section.stock_section(40, 12)).kept
    wood = section.within(section.grown(kept, 0.3), section.stock_section(40, 12))
    found = {left.tool: left for left in laid_against(scene, wood, wood).left}

    assert found["scraper"].area == pytest.approx(0.3 * (8 * math.pi / 2 - 1), rel=0.1)
    assert found["plane"].area == pytest.approx(0.3 * (6 * math.pi / 2 + 1), rel=0.15)
    assert found["scraper"].where[0] > 12


def test_mesh_and_section_of_a_cut_scene_are_laid_against_the_moulding_alike():
    """One cove in a groove that it cannot fill: the mesh takes at most the chord tolerance less than the section."""
    scene = complete(
        scene_from(with_points(GROOVE) | {"setup": {"fence_angle": "8 deg", "blade_height": "7 mm", "offset": "1 mm"}})
    ).scene
    outcome = judge(simulate(scene))
    exact = outcome.whole
    alone = laid_against(scene, outcome.job.pieces[0].outline.figure, outcome.job.pieces[0].outline.figure)
    on = left_on(outcome.job.pieces[0].mesh, exact.kept)

    assert outcome.profile is None and not outcome.is_well
    assert exact.deepest_cut == pytest.approx(alone.deepest_cut, abs=0.005)
    assert exact.deepest_cut == pytest.approx(1.0, abs=1e-6)  # 7 mm high where 6 are wanted
    assert exact.thickest_left == pytest.approx(alone.thickest_left, abs=0.02)
    assert np.nanmin(on) == pytest.approx(-exact.deepest_cut, abs=0.02)
    assert 0 < exact.waste_share < 1
