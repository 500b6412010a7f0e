"""From the profile to the set-up: round trips, optimality, and honest words where the saw cannot come close."""

from __future__ import annotations

import math
import tomllib
from itertools import pairwise

import numpy as np
import pytest
from demos import SCENES, cornice_with
from hypothesis import assume, example, given
from hypothesis import strategies as st
from oracles import disc_section_width
from scipy.optimize import differential_evolution
from strategies import between, fewer

from sweep.check.profile import check_profile
from sweep.check.target import target_line
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.plan.closeness import largest, sampled
from sweep.plan.complete import complete
from sweep.plan.dense import dense_check
from sweep.plan.fit import Range, fit_blade, settle
from sweep.plan.setup import check_candidate, find_setups
from sweep.scene.read import read_scene, scene_from
from sweep.shape import outline
from sweep.shape.cove import angle_for_width
from sweep.shape.tool import alternate_bevel, flat_tips
from sweep.tolerance import Fineness

ANYWHERE = (math.radians(0.1), math.pi / 2)


def unsolved(target: dict, **sections: dict):
    """The demo scene without its set-up and passes, with another target and some values changed."""
    return scene_from(cornice_with(setup=None, passes=None, **sections) | {"target": target})


@given(radius=between(60, 180), kerf=between(1, 6), angle=between(1, 85), share=st.floats(0.02, 0.6))
def test_the_closed_form_gives_back_the_angle_that_made_the_width(radius, kerf, angle, share):
    """Width and depth to angle, kerf flat included, to a millionth of a degree."""
    height = radius * share
    theta = math.radians(angle)
    chord = 2 * math.sqrt(2 * radius * height - height**2)
    assume(angle < 89 - math.degrees(math.atan2(kerf, chord)))  # beyond it a wider angle is narrower
    width = disc_section_width(radius, kerf, theta, height)

    assert math.degrees(angle_for_width(flat_tips(radius, kerf), 0.0, height, width)) == pytest.approx(angle, abs=1e-6)


@given(angle=between(5, 80), tilt=between(-40, 40), height=between(4, 20))
@fewer(1 / 8)
def test_a_tilted_blade_gives_back_the_width_too(angle, tilt, height):
    """By bisection: the width at the angle found is the width asked for."""
    tool, beta = alternate_bevel(127, 3.2, 0.2), math.radians(tilt)
    left, right = outline.edges(tool, outline.settings(math.radians(angle), beta, height))
    found = angle_for_width(tool, beta, height, float(right[0] - left[0]))
    low, high = outline.edges(tool, outline.settings(found, beta, height))

    assert high[0] - low[0] == pytest.approx(right[0] - left[0], abs=1e-6)


@given(
    angle=between(8, 60), height=between(5, 25), tilt=between(-35, 35), offset=between(-10, 10), radius=between(90, 160)
)
@example(angle=41.0, height=5.0, tilt=0.0, offset=0.0, radius=90.0)
@example(angle=56.0, height=8.0, tilt=0.0, offset=0.0, radius=156.5543611726062)
@fewer(1 / 20)
def test_a_section_that_was_cut_is_solved_back_to_the_set_up_that_cut_it(angle, height, tilt, offset, radius):
    """Angle and tilt to 0.001 deg, height and offset to 0.001 mm, without noise."""
    tool = flat_tips(radius, 3.0)
    line = outline.curves(tool, outline.settings(math.radians(angle), math.radians(tilt), height, offset), 120)[0]
    allowed = Range(ANYWHERE, (0.1, 60.0), (math.radians(-45), math.radians(45)))
    fit = settle(tool, line, allowed, fit_blade(tool, line, allowed))

    assert fit.deviation < 5e-4
    assert math.degrees(fit.fence_angle) == pytest.approx(angle, abs=1e-3)
    assert fit.blade_height == pytest.approx(height, abs=1e-3)
    assert math.degrees(fit.blade_tilt) == pytest.approx(tilt, abs=1e-3)
    assert fit.offset == pytest.approx(offset, abs=1e-3)


@given(width=between(25, 80), share=st.floats(0.15, 0.5), tilts=st.booleans(), skew=between(0.6, 1.6))
@fewer(3 / 160)
def test_no_set_up_of_a_dense_grid_comes_closer(width, share, tilts, skew):
    """Brute force wherever depth and edges leave room, for arcs leaned over to one side."""
    y = np.linspace(0, 1, 25)
    line = np.column_stack([width * (y - 0.5), width * share * np.maximum(0, np.sin(np.pi * y**skew))])
    tool = flat_tips(127, 3.2)
    allowed = Range(ANYWHERE, (0.1, 80.0), (math.radians(-45), math.radians(45)) if tilts else (0.0, 0.0))
    fit = settle(tool, line, allowed, fit_blade(tool, line, allowed))

    assert dense_check(tool, line, allowed, fit).closest >= fit.deviation - 1e-4


def test_scipys_global_optimiser_finds_nothing_closer_to_an_arc():
    """Differential evolution on the same measure, 58 x 14 mm arc, 254 mm blade: as close, no closer."""
    scene = unsolved({"shape": "arc", "width": "58 mm", "depth": "14 mm"})
    tool = scene.blade.tool
    line = target_line(scene.target, tool, tilt=0.0)
    best = find_setups(scene)[0].fit
    drawn, points = sampled(line, 200), sampled(line, 120)

    def measure(x: np.ndarray) -> np.ndarray:
        s = outline.settings(x[0], 0.0, x[1], x[2])
        return largest(outline.curves(tool, s, 20), drawn, points)

    peer = differential_evolution(
        measure,
        [(0.2, 1.2), (12.0, 16.0), (-2.0, 2.0)],
        vectorized=True,
        updating="deferred",
        rng=1,
        tol=1e-8,
        maxiter=60,
        popsize=6,
        polish=False,
    )

    assert best.deviation == pytest.approx(peer.fun, abs=2e-3)
    assert best.deviation <= peer.fun + 2e-4


def test_the_best_fit_to_an_arc_alternates_as_chebyshev_says():
    """An error that is least in its maximum touches it with changing sign more often than there are settings."""
    fit = find_setups(unsolved({"shape": "arc", "width": "58 mm", "depth": "14 mm"}))[0].fit
    signs = [gap > 0 for _, gap in fit.tight]

    assert len(fit.tight) >= 4  # angle, height and offset, and one more
    assert sum(a != b for a, b in pairwise(signs)) >= 3


@pytest.mark.parametrize("name", ["arc-from-drawing", "leaning-cove", "out-of-reach"])
def test_the_solid_that_is_cut_deviates_no_more_than_was_said(name):
    """The set-up found, cut as a solid and checked as a mesh: the same deviation, but for the chords."""
    completed = complete(read_scene(SCENES / f"{name}.toml"))
    check = check_profile(simulate(completed.scene, Fineness(chord=5e-4)))

    assert check.max_deviation <= completed.candidates[0].fit.deviation + 0.006
    assert check.max_deviation == pytest.approx(completed.candidates[0].fit.deviation, abs=0.01)


@given(width=between(20, 90), share=st.floats(0.1, 0.45), shape=st.sampled_from(["cove", "arc", "ellipse"]))
@fewer(1 / 32)
def test_no_solution_is_ever_reported_whose_solid_deviates_more(width, share, shape):
    """For any plain shape: what is stated is kept, in the mesh, within the chord tolerance."""
    depth = round(width * share, 3)
    target = {"shape": shape, "width": f"{width} mm", "depth": f"{depth} mm"}
    try:
        completed = complete(unsolved(target, stock={"thickness": f"{depth + 12} mm", "width": "200 mm"}))
    except SceneError:
        assume(False)
    check = check_profile(simulate(completed.scene, Fineness(chord=5e-4)))

    assert check.max_deviation <= completed.candidates[0].fit.deviation + 0.006


def test_the_smallest_rim_comes_closest_to_an_arc_and_stands_first():
    """The blades are ranked by how close they come."""
    candidates = find_setups(read_scene(SCENES / "arc-from-drawing.toml"))

    assert candidates[0].blade.name == "160 mm trim blade"
    assert [one.fit.deviation for one in candidates] == sorted(one.fit.deviation for one in candidates)


def test_tilt_is_used_only_where_the_scene_allows_it_and_then_it_helps():
    """The leaning cove is out of tolerance with an upright blade."""
    table = tomllib.loads((SCENES / "leaning-cove.toml").read_text())
    leaning = find_setups(scene_from(table))[0]
    del table["saw"]["tilts"]
    upright = find_setups(scene_from(table))[0]

    table["saw"]["tilts"] = ["0 deg", "3 deg"]
    limited = find_setups(scene_from(table))[0]

    assert "tilt that the scene allows" in limited.stopped_by.said()
    assert upright.fit.blade_tilt == 0.0
    assert leaning.fit.deviation < 0.6 < upright.fit.deviation
    assert math.degrees(leaning.fit.blade_tilt) > 10


def test_heights_are_set_in_steps_of_the_wheel_where_the_scene_says_so():
    """An eighth of a turn of 4 mm is 0.5 mm, for the set-up and for every pass."""
    completed = complete(read_scene(SCENES / "leaning-cove.toml"))

    assert all((height / 0.5) == pytest.approx(round(height / 0.5)) for height in completed.scene.passes.heights)
    assert (
        check_candidate(completed.scene, completed.candidates[0]).closest
        >= completed.candidates[0].fit.deviation - 1e-3
    )


@pytest.mark.parametrize(
    ("target", "sections", "says"),
    [
        ({"width": "60 mm", "depth": "19 mm"}, {}, "target.depth: .* only 16.5 mm may be cut away if 6 mm of wood"),
        ({"width": "60 mm", "depth": "15 mm"}, {"saw": {"max_height": "14 mm"}}, "the saw raises the blade to 14 mm"),
        ({"width": "160 mm", "depth": "10 mm"}, {}, "target.width: .* the widest there is 98.84 mm"),
        ({"width": "60 mm", "depth": "15 mm", "across": "80 mm"}, {}, "target.across: the target lies outside"),
        ({"width": "60 mm", "depth": "5 mm"}, {"stock": {"thickness": "6 mm"}}, "no wood may be cut away"),
    ],
)
def test_a_cove_out_of_reach_is_refused_with_the_limit_and_the_nearest(target, sections, says):
    """Which limit stops it, and what can be had."""
    with pytest.raises(SceneError, match=says):
        find_setups(unsolved({"shape": "cove"} | target, **sections))


@pytest.mark.parametrize(
    ("target", "sections", "says"),
    [
        ({"width": "60 mm", "depth": "20 mm"}, {}, "only 16.5 mm may be cut away"),
        (
            {"width": "110 mm", "depth": "10 mm"},
            {"stock": {"width": "200 mm", "thickness": "60 mm"}},
            "the fence stands square",
        ),
        (
            {"width": "36 mm", "depth": "16 mm"},
            {"stock": {"thickness": "40 mm"}, "saw": {"tilts": ["0 deg", "45 deg"]}},
            "no setting",  # upright is an end of the tilts, but not what is in the way
        ),
    ],
)
def test_what_keeps_an_arc_out_of_tolerance_is_said(target, sections, says):
    """Beside the nearest set-up there is."""
    assert says in find_setups(unsolved({"shape": "arc"} | target, **sections))[0].stopped_by.said()


@pytest.mark.parametrize("side", ["near", "far"])
def test_the_fence_of_a_worked_out_set_up_is_on_the_side_that_is_asked_for(side):
    """The same cove from either side."""
    target = {"shape": "cove", "width": "50 mm", "depth": "11 mm"}

    assert complete(unsolved(target, plan={"fence_side": side})).scene.setup.fence_side == side


def test_a_target_that_overhangs_is_found_with_the_blade_tilted():
    """The base moulding's own points, drawn to a tenth of a mm from 18 deg, 18 mm and 45 deg of tilt."""
    tables = tomllib.loads((SCENES / "tilted-cove.toml").read_text())
    tables["saw"]["tilts"] = ["0 deg", "45 deg"]
    del tables["setup"], tables["passes"]
    found = complete(scene_from(tables, SCENES)).scene.setup

    assert math.degrees(found.fence_angle) == pytest.approx(18, abs=0.3)
    assert math.degrees(found.blade_tilt) == pytest.approx(45, abs=0.5)
    assert found.blade_height == pytest.approx(18, abs=0.15)
