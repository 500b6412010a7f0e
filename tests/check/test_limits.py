"""Each flag: raised just beyond its limit, silent just within it, and helpful in its words."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from demos import SCENES, cornice_with

from sweep.check.judge import judge
from sweep.check.limits import find_flags
from sweep.cut.job import Job, simulate
from sweep.plan.complete import complete
from sweep.scene.read import read_scene, scene_from
from sweep.show.say.flags import sentence_of
from sweep.tolerance import Fineness
from sweep.units import Units

COARSE = Fineness(chord=0.05, section_chord=1e-3, angles=512)
LARGE = {"stock_width": "80 mm", "stock_thickness": "25 mm"}


def flags(**sections: dict) -> dict[str, list]:
    """The flags of the demo scene with some values changed, by code."""
    scene, found = scene_from(cornice_with(**sections)), {}
    job = replace(cut_as_it_is(), scene=scene) if set(sections) <= {"limits"} else simulate(scene, COARSE)
    for flag in find_flags(job):
        found.setdefault(flag.code, []).append(flag)
    return found


@cache
def cut_as_it_is() -> Job:
    """The demo scene, cut: other limits change nothing of it."""
    return simulate(scene_from(cornice_with()), COARSE)


def test_the_demo_scene_is_not_flagged():
    """The plan that the README shows is within common practice."""
    assert flags() == {}


@pytest.mark.parametrize(
    ("code", "beyond", "within"),
    [
        (
            "rise-large",
            {"passes": {"heights": [*(f"{h} mm" for h in (3.3, 6, 8, 10, 12, 14, 15.2, 16))]}},
            {"passes": {"heights": [*(f"{h} mm" for h in (3.2, 6, 8, 10, 12, 14, 15.2, 16))]}},
        ),
        ("chip-thick", {"limits": {"chip_thickness": "0.0058 mm"}}, {"limits": {"chip_thickness": "0.0059 mm"}}),
        ("area-large", {"limits": {"area": "114 mm^2"}}, {"limits": {"area": "115 mm^2"}}),
        ("wood-above-thin", {"stock": {"thickness": "21.9 mm"}}, {"stock": {"thickness": "22.1 mm"}}),
        ("shoulder-narrow", {"stock": {"width": "72.7 mm"}}, {"stock": {"width": "72.8 mm"}}),
        ("stock-short", {"stock": {"length": "299 mm"}}, {"stock": {"length": "300 mm"}}),
        # the cove is 60.77 mm wide: 31.23 mm of flat beside it in stock of 92 mm
        ("contact-small", {"limits": {"contact": "31.3 mm"}}, {"limits": {"contact": "31.2 mm"}}),
        (
            "stock-narrow",
            {"stock": {"width": "79.9 mm"}, "limits": LARGE},
            {"stock": {"width": "80 mm"}, "limits": LARGE},
        ),
        (
            "stock-thin",
            {"stock": {"thickness": "24.9 mm"}, "limits": LARGE},
            {"stock": {"thickness": "25 mm"}, "limits": LARGE},
        ),
        ("fence-steep", {"limits": {"fence_angle": "27.9 deg"}}, {"limits": {"fence_angle": "28 deg"}}),
        ("rim-fast", {"blade": {"max_speed": "3999 rpm"}}, {"blade": {"max_speed": "4001 rpm"}}),
        ("power-high", {"saw": {"motor": "1.0 kW"}}, {"saw": {"motor": "1.04 kW"}}),
        ("push-hard", {"limits": {"push": "45 N"}}, {"limits": {"push": "46 N"}}),
        ("plate-bends", {"limits": {"side_deflection": "0.06 mm"}}, {"limits": {"side_deflection": "0.07 mm"}}),
        ("gullet-full", {"limits": {"gullet_fill": 0.014}}, {"limits": {"gullet_fill": 0.016}}),
        ("edge-rubs", {"limits": {"thin_chip": "0.0059 mm"}}, {"limits": {"thin_chip": "0.0058 mm"}}),
        ("moisture-unknown", {"stock": {"moisture": "30 %"}}, {"stock": {"moisture": "13 %"}}),
        ("off-the-fence", {"setup": {"fence_side": "far"}}, {"setup": {"fence_side": "near"}}),
        (
            "last-pass-heavy",
            {"passes": {"heights": [*(f"{h} mm" for h in (2, 5, 7, 9, 11, 13, 14, 16))]}},
            {"passes": {"heights": [*(f"{h} mm" for h in (2, 5, 7, 9, 11, 13, 15.1, 16))]}},
        ),
    ],
)
def test_a_flag_is_raised_beyond_its_limit_and_not_within_it(code, beyond, within):
    """1/8 in of rise, 1/4 in of wood above and beside, 12 in of length: common practice; the rest is the scene's."""
    assert code in flags(**beyond)
    assert code not in flags(**within)


def test_one_pass_that_pulls_the_work_off_the_fence_is_enough():
    """However well the others hold it there; the flag tells the worst of them."""
    job = simulate(scene_from(cornice_with()), COARSE)
    pulls = [3.0, -8.0, 5.0, -2.0]
    loads = tuple(replace(job.loads[0], usual=replace(job.loads[0].usual, fence=pull)) for pull in pulls)
    found = [flag for flag in find_flags(replace(job, loads=loads + job.loads[4:])) if flag.code == "off-the-fence"]

    assert [flag.value for flag in found] == [-8.0]


def test_work_pulled_off_a_fence_that_no_second_one_can_help_is_said_to_be_unsafe():
    """The blade runs off the edge where a second fence would stand."""
    (flag,) = flags(setup={"fence_side": "far", "offset": "-20 mm"})["off-the-fence"]

    assert flag.figure("second_fence_cut") == pytest.approx(20 - (46 - 30.38), abs=0.01)
    assert "nothing holds the work safely" in sentence_of(flag, Units())
    assert not flags(setup={"fence_side": "far"})["off-the-fence"][0].has("second_fence_cut")


def test_a_light_last_pass_is_not_heavy_though_an_earlier_one_was_lighter():
    """No more than plan.last_rise is light, 0.8 mm unless the scene says otherwise."""
    heights = [2.4, 2.9, 5.4, 8, 10.5, 13, 15.3]
    light = {"heights": [f"{height} mm" for height in [*heights, 16]]}
    first = {"heights": [f"{height} mm" for height in [0.5, *heights, 16]]}

    assert "last-pass-heavy" not in flags(passes=light)
    assert "last-pass-heavy" not in flags(passes=first)
    assert "last-pass-heavy" in flags(passes=first, plan={"last_rise": "0.6 mm"})


def test_a_rim_faster_than_any_blade_is_flagged_though_the_blade_bears_no_mark():
    """Without a mark, 100 m/s is the limit: 254 mm at 7600 rpm is 101 m/s."""
    slow = {"feed_speed": "4 m/min", "last_feed_speed": "2 m/min"}  # as many mm a tooth as before
    table = cornice_with(blade={"max_speed": None}, passes=slow) | {"saw": {"speed": "7600 rpm"}}
    found = [flag.code for flag in judge(simulate(scene_from(table), COARSE)).flags]

    assert found == ["rim-fast"]


def test_a_message_says_the_figure_the_limit_and_what_to_do_in_the_makers_units():
    """In inches for who thinks in inches."""
    found = flags(passes={"heights": ["1/4 in", "16 mm"]}, stock={"length": "11 in"})

    rise, short = (sentence_of(found[code][0], Units("in")) for code in ("rise-large", "stock-short"))
    assert rise == "it rises 1/4 in, more than 1/8 in: take it in 2 passes"
    assert short.startswith("the stock is 11 in long, too short to pass safely under 12 in")


def test_following_the_advice_on_feed_takes_the_flag_away():
    """The feed named is the fastest that keeps the shaving thin enough."""
    limits = {"limits": {"chip_thickness": "0.004 mm", "thin_chip": "0.001 mm"}}
    advice = sentence_of(flags(**limits)["chip-thick"][0], Units())
    feed = advice.split("feed at ")[1].split(" or slower")[0]

    assert "chip-thick" not in flags(**limits, passes={"feed_speed": feed, "last_feed_speed": feed})


def test_a_slower_feed_is_offered_against_force_only_where_shavings_stay_thick():
    """Force falls with the feed while shavings are thick; once the edge rubs a slower feed would only burn."""
    cases = (("12 m/min", "1.2 kW"), ("2 m/min", "0.9 kW"))
    fast, slow = (
        flags(saw={"motor": motor}, passes={"feed_speed": feed, "last_feed_speed": "1 m/min"})["power-high"]
        for feed, motor in cases
    )

    assert all(flag.has("feed_speed") for flag in fast)
    assert not any(flag.has("feed_speed") for flag in slow)
    offered = min(flag.figure("feed_speed") for flag in fast)
    assert 2000 / 60 < offered < 12_000 / 60


def test_a_cut_that_frees_a_piece_is_flagged():
    """Tilted 45 deg at the very edge, the blade leaves a strip that hangs on nothing."""
    setup = {"fence_angle": "5 deg", "blade_tilt": "45 deg", "blade_height": "16 mm", "offset": "-36 mm"}
    found = flags(setup=setup, passes={"heights": ["8 mm", "16 mm"]})

    assert found["piece-freed"][0].value == 2
    assert "can throw" in sentence_of(found["piece-freed"][0], Units())


def test_fewer_teeth_come_before_a_faster_feed_against_rubbing_and_serve():
    """A shaving grows as teeth are left out; so many as are named take the flag away, one more does not."""
    limits = {"thin_chip": "0.007 mm"}
    found = flags(limits=limits)["edge-rubs"]
    first, said = found[0], sentence_of(found[0], Units())
    teeth = min(round(flag.figure("teeth")) for flag in found)

    assert first.number == 1
    assert said.index("fewer teeth") < said.index("take more in a pass") < said.index("feed at")
    assert "edge-rubs" not in flags(limits=limits, blade={"teeth": teeth})
    assert "edge-rubs" in flags(limits=limits, blade={"teeth": teeth + 1})


def test_a_cove_taken_in_one_pass_is_flagged_unless_that_pass_is_light():
    """A single pass has nothing before it; 0.8 mm is what a last one may rise."""
    tall, light = ({"blade_height": height} for height in ("2.4 mm", "0.8 mm"))

    assert flags(setup=tall, passes={"heights": ["2.4 mm"]})["single-pass"][0].value == pytest.approx(2.4)
    assert "single-pass" not in flags(setup=light, passes={"heights": ["0.8 mm"]})
    assert "single-pass" not in flags(setup=tall, passes={"heights": ["1.6 mm", "2.4 mm"]})


def test_stock_too_small_to_be_held_is_flagged_though_its_cove_is_small():
    """24 x 12 mm of pine with a cove 7 mm wide and 2 mm deep: 8 mm of flat at each side, 10 mm of wood above."""
    setup = {"fence_angle": "5 deg", "blade_height": "2 mm"}
    cove = {"setup": setup, "passes": {"heights": ["1.4 mm", "2 mm"]}, "target": None}
    stock = {"species": "pine", "width": "24 mm", "thickness": "12 mm"}
    (contact,) = flags(stock=stock, **cove)["contact-small"]

    assert {"stock-narrow", "stock-thin", "contact-small"} <= set(flags(stock=stock, **cove))
    turn, chord = math.radians(5), 2 * math.sqrt(2 * (254 - 2))
    assert contact.value == pytest.approx(24 - (chord * math.sin(turn) + 3.2 * math.cos(turn)), abs=0.01)
    assert not {"stock-narrow", "stock-thin", "contact-small"} & set(flags(**cove))


@pytest.mark.parametrize(("offset", "gap"), [(-77.0, 77 - 46 - 30.384), (80.0, 80 - 46 - 30.384)])
def test_a_blade_that_misses_the_stock_is_flagged_for_that_alone(offset, gap):
    """The cove would be 60.77 mm wide; it lies beside stock of 92 mm."""
    found = flags(setup={"offset": f"{offset} mm"})
    missed = found["stock-missed"]

    assert missed[0].value == pytest.approx(gap, abs=0.001)
    assert f"passes {gap:.2f} mm beside the stock and cuts nothing" in sentence_of(missed[0], Units())
    assert set(found) <= {"stock-missed", "fence-cut", "second-fence-cut"}


def test_a_narrow_shoulder_names_its_side():
    """Offset to one side, only that shoulder is narrow."""
    found = flags(setup={"offset": "-12 mm"})["shoulder-narrow"]

    assert len(found) == 1
    assert "on the right" in sentence_of(found[0], Units())


def test_a_pull_off_the_fence_that_comes_only_as_the_blade_enters_or_leaves_is_flagged():
    """The arc out of reach: in the steady middle too little to flag, at its ends more than the limit."""
    job = simulate(complete(read_scene(SCENES / "out-of-reach.toml")).scene)
    (flag,) = [flag for flag in find_flags(job) if flag.code == "off-the-fence"]

    assert flag.value < flag.limit <= flag.figure("steady") == min(load.usual.fence for load in job.loads)
    assert flag.value == min(one.forces.fence for ends in job.ends for one in ends)
    assert sentence_of(flag, Units()).startswith("as it enters or leaves the stock the blade pulls the work off")
