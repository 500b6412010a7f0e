"""The pass plan: within every limit, fewest, even, and settable."""

from __future__ import annotations

from itertools import pairwise

import pytest
from demos import cornice_with
from hypothesis import example, given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.cut.load import loads_after
from sweep.errors import SceneError
from sweep.plan import heights
from sweep.plan.complete import complete
from sweep.plan.grid import height_step
from sweep.scene.read import scene_from
from sweep.show.say.planning import planning_sentence
from sweep.tolerance import Fineness
from sweep.units import Units


def planned(**sections: dict):
    """The demo scene without its passes, planned."""
    return complete(scene_from(cornice_with(passes=None, **sections)))


GRIDS = st.sampled_from(
    [
        {},
        *({"plan": {"round_to": step}} for step in ("0.1 mm", "0.5 mm", "1/64 in", "1/32 in")),
        {"plan": {"turn": "1/8"}, "saw": {"lift_per_turn": "4 mm"}},
    ]
)


@given(
    grid=GRIDS,
    angle=between(15, 60),
    top=st.sampled_from([12.25, 12.5, 5 / 8 * 25.4]) | between(0.05, 18),
    rise=between(0.4, 5),
    area=between(20, 250),
    motor=between(0.2, 2.5),
)
@example(grid={}, angle=15.0, top=0.5, rise=1.0, area=20.0, motor=1.0)  # one pass, so thin that it must be fed faster
@fewer(1 / 40)
def test_every_plan_can_be_set_and_no_pass_of_it_is_flagged(grid, angle, top, rise, area, motor):
    """Cut and judged by the run's own sums: within rise, area, power and shaving, on the steps, up to the top."""
    sections = {
        "setup": {"fence_angle": f"{angle} deg", "blade_height": f"{top} mm"},
        "limits": {"rise": f"{rise} mm", "area": f"{area} mm^2"},
        "saw": {"motor": f"{motor} kW"} | grid.get("saw", {}),
        "plan": grid.get("plan", {}),
    }
    try:
        scene = planned(**sections).scene
    except SceneError as wrong:
        assert wrong.field == "limits"
        return
    found, step = scene.passes.heights, height_step(scene)
    job = simulate(scene, Fineness(chord=0.05))

    assert found[-1] == scene.setup.blade_height
    assert all(height / step == pytest.approx(round(height / step), abs=1e-6) for height in found[:-1])
    allowed = {"last-pass-heavy"} if step > rise / 4 else set()  # the steps may be too coarse for a lighter one
    assert {flag.code for flag in judge(job).flags if flag.number is not None} <= allowed


@pytest.mark.parametrize(
    "sections",
    [
        {
            "stock": {"length": "900 mm", "width": "150 mm", "thickness": "22.5 mm"},
            "saw": {"speed": "4000 rpm"},
            "setup": {"fence_angle": "60 deg", "blade_height": "12.25 mm"},
            "plan": {"round_to": "0.5 mm"},
        },
        {"setup": {"fence_angle": "30 deg", "blade_height": "5/8 in"}, "plan": {"round_to": "1/32 in"}},
        {"plan": {"turn": "1/8"}, "saw": {"lift_per_turn": "4 mm"}, "limits": {"area": "56 mm^2"}},
    ],
)
def test_steps_on_which_a_lighter_last_pass_would_land_again_are_planned(sections):
    """Three scenes on which the search once repeated itself for ever."""
    completed = planned(**sections)

    assert completed.scene.passes.heights[-1] == completed.scene.setup.blade_height


@pytest.mark.parametrize("limits", [{"rise": "0.1 mm"}, {"area": "5 mm^2"}, {"side_deflection": "0.003 mm"}])
def test_hundreds_of_passes_cost_few_sums_of_forces_each(limits, monkeypatch):
    """The slow part of planning is counted: more than 100 passes come in a second, few sums to a pass and few times."""
    looked_at, times = [], []

    def counted(scene, passes, *given):
        looked_at.extend(passes)
        times.append(len(passes))
        return loads_after(scene, passes, *given)

    monkeypatch.setattr(heights, "loads_after", counted)
    found = planned(limits=limits, plan={"round_to": "0.01 mm"}).scene.passes.heights

    assert len(found) > 100
    assert len(looked_at) < 25 * len(found)
    assert len(times) < 4 * len(found)


def test_passes_looked_at_together_burden_as_each_does_alone():
    """From the table, from above it and over nothing, in any order, with alternate bevels: to the last digit."""
    scene = planned(blade={"tip": "alternate bevel", "bevel": "15 deg"}).scene
    passes = [(3.0, 5.2), (0.0, 2.4), (15.0, 16.0), (0.0, 16.0), (5.2, 5.2)]
    together = heights.Burden(scene, 30.0)
    together.look_at(passes)

    for one in passes:
        assert together.shares(*one) == pytest.approx(heights.Burden(scene, 30.0).shares(*one), rel=1e-12)


def test_stock_so_heavy_that_friction_passes_the_limit_is_planned_all_the_same():
    """No number of passes takes friction away: the run flags it, and the plan is that of light stock."""
    light, heavy = (
        planned(stock={"length": length}, limits={"push": "60 N"}).scene.passes.heights for length in ("900 mm", "12 m")
    )

    assert heavy == light


def test_the_burden_is_even_but_for_the_last_pass():
    """All but the last are within a few per cent of one another; even rises are not."""
    plan = planned(plan={"round_to": "0.01 mm"}).plan
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
        ({}, 0.1),
        ({"stock": {"length": "36 in"}}, 25.4 / 64),
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


@pytest.mark.parametrize(
    ("limits", "says"), [({"chip_thickness": "0.004 mm"}, "slower than"), ({"thin_chip": "0.008 mm"}, "fewer teeth")]
)
def test_a_feed_other_than_the_one_asked_for_is_said_with_its_reason(limits, says):
    """Slower where shavings would be too thick; faster where an edge would rub, and what lets it be slower."""
    completed = planned(limits=limits)

    assert says in planning_sentence(completed.plan, completed.scene.plan, Units())
    assert planning_sentence(planned().plan, completed.scene.plan, Units()).endswith("1.00 m/min.")


def test_the_feed_is_slowed_where_shavings_would_be_too_thick():
    """And the plan says so."""
    completed = planned(limits={"chip_thickness": "0.004 mm"})

    assert completed.plan.feed_limited
    assert "chip-thick" not in {flag.code for flag in judge(simulate(completed.scene, Fineness(chord=0.05))).flags}


def test_steps_too_coarse_for_the_limits_are_refused():
    """A step of 4 mm against a rise of 3.2 mm."""
    with pytest.raises(SceneError, match="no plan of at most 500 passes keeps within them on steps of 4 mm"):
        planned(plan={"round_to": "4 mm"})
