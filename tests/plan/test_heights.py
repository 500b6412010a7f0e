"""The pass plan: within every limit, fewest, even, and settable."""

from __future__ import annotations

import copy
import tomllib
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from oracles import disc_section_area
from strategies import between

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.plan.complete import complete
from sweep.scene.read import scene_from
from sweep.tolerance import Fineness

CORNICE = tomllib.loads((Path(__file__).parents[2] / "scenes" / "corner-cupboard-cornice.toml").read_text())


def planned(**sections: dict):
    """The demo scene without its passes, planned."""
    table = copy.deepcopy(CORNICE)
    del table["passes"]
    for name, values in sections.items():
        table[name] = table.get(name, {}) | values
    return complete(scene_from(table))


@given(rise=between(1.5, 5), area=between(50, 250), motor=between(0.4, 2.5))
@settings(max_examples=25)
def test_no_planned_pass_is_flagged(rise, area, motor):
    """Cut and judged by the run's own sums, every pass keeps within rise, area, power and shaving."""
    completed = planned(limits={"rise": f"{rise} mm", "area": f"{area} mm^2"}, saw={"motor": f"{motor} kW"})

    assert judge(simulate(completed.scene, Fineness(chord=0.05))).flags == ()


@given(rise=between(1.5, 5), area=between(50, 250))
@settings(max_examples=20)
def test_no_plan_has_fewer_passes(rise, area):
    """Against the fewest steps on a fine grid of heights, by brute force from below: breadth first."""
    completed = planned(limits={"rise": f"{rise} mm", "area": f"{area} mm^2"}, saw={"motor": "9 kW"})
    heights = [0.0, *completed.scene.passes.heights]
    below_last = heights[-2]
    step = 0.02

    def area_to(h: float) -> float:
        return disc_section_area(127.0, 3.2, completed.scene.setup.fence_angle, h) if h > 0 else 0.0

    reach, count = 0.0, 0
    while reach < below_last - step:
        there = reach
        while (
            there + step <= below_last
            and there + step - reach <= rise
            and area_to(there + step) - area_to(reach) <= area
        ):
            there += step
        reach, count = there, count + 1

    assert len(heights) - 2 <= count


def test_the_burden_is_even_but_for_the_last_pass():
    """All but the last are within a few per cent of one another; even rises are not."""
    plan = planned().plan
    burdens = [one.burden for one in plan.planned[:-1]]

    assert max(burdens) - min(burdens) < 0.05
    assert max(one.burden for one in plan.even) > max(burdens) + 0.05
    assert plan.planned[-1].burden < 0.6 * min(burdens)


def test_each_pass_names_the_limit_that_governs_it():
    """Rise while the cove is narrow, area when it is wide; power when the motor is small."""
    assert [one.governed_by for one in planned().plan.planned] == ["rise"] * 2 + ["area"] * 4 + ["last pass"]
    assert "power" in {one.governed_by for one in planned(saw={"motor": "0.5 kW"}).plan.planned}


@pytest.mark.parametrize(
    ("sections", "step"),
    [
        ({"plan": {"round_to": "1/64 in"}}, 25.4 / 64),
        ({"plan": {"round_to": "0.1 mm"}}, 0.1),
        ({"plan": {"turn": "1/8"}, "saw": {"lift_per_turn": "4 mm"}}, 0.5),
    ],
)
def test_heights_are_multiples_of_what_can_be_set(sections, step):
    """All but the last, which the set-up gives."""
    for height in planned(**sections).scene.passes.heights[:-1]:
        assert height / step == pytest.approx(round(height / step), abs=1e-6)


def test_the_last_pass_is_the_lightest_and_the_slowest():
    """Even where all the others are small."""
    for area in ("130 mm^2", "40 mm^2"):
        passes = planned(limits={"area": area}).scene.passes
        rises = [b - a for a, b in pairwise((0.0, *passes.heights))]

        assert rises[-1] < min(rises[:-1])
        assert passes.last_feed_speed < passes.feed_speed


def test_the_feed_is_slowed_where_shavings_would_be_too_thick():
    """And the plan says so."""
    completed = planned(limits={"chip_thickness": "0.004 mm"})

    assert completed.plan.feed_limited
    assert "chip-thick" not in {flag.code for flag in judge(simulate(completed.scene, Fineness(chord=0.05))).flags}


def test_steps_too_coarse_for_the_limits_are_refused():
    """A step of 4 mm against a rise of 3.2 mm."""
    with pytest.raises(SceneError, match="no plan of passes keeps within them on steps of 4 mm"):
        planned(plan={"round_to": "4 mm"})
