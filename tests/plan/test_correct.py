"""A cove that is being cut tells what was set: against a discrete blade, closed forms, and a maker who does as told."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from demos import SCENES, cornice_with
from fair import fair
from makers import Saw, edges_of, make, move_fence, random_scene, saw_of, set_and_found, tops
from oracles import Cut, disc_section_area, disc_section_width

from sweep.errors import SceneError, UnusableError
from sweep.plan.complete import complete, plan_setups
from sweep.plan.correct.correction import corrected, cut_up_to
from sweep.plan.correct.found import found_set_up
from sweep.plan.correct.from_table import answer
from sweep.plan.correct.measured import AfterPass, Sized, require_cove
from sweep.plan.correct.remaining import Remaining
from sweep.plan.correct.table import correction_table
from sweep.scene.model import WholeScene
from sweep.scene.read import read_scene, scene_from
from sweep.shape.feed import StraightFeed
from sweep.shape.section import edges_at_table

RADIUS, KERF = 127.0, 3.2
"""Sizes of the cornice's blade, mm."""


@cache
def scene_of(name: str = "corner-cupboard-cornice") -> WholeScene:
    """A demo scene with nothing left out."""
    return complete(read_scene(SCENES / f"{name}.toml")).scene


def after(number: int, **sizes: float | tuple[float, ...]) -> tuple[AfterPass, ...]:
    """What was measured after a pass, each within 0.1 mm."""
    every = {name: size if isinstance(size, tuple) else (size,) for name, size in sizes.items()}
    return (AfterPass(number, **{name: Sized(size, 0.1) for name, size in every.items()}),)


def found_widths(scene: WholeScene, angle: float, height: float, offset: float) -> dict[str, float]:
    """Width, depth and flat of a cove, by the exact section."""
    left, right = edges_at_table(scene.tool, StraightFeed(angle, offset), scene.tilt, height)
    half = scene.stock.width / 2
    flat = half - right if scene.setup.fence_side == "near" else half + left
    return {"width": right - left, "depth": height, "flat": flat}


def test_width_and_depth_tell_the_angle_as_the_closed_form_has_it():
    """The width is that of the angle found; its interval follows from the slopes of the closed form, kerf included."""
    found = found_set_up(scene_of(), after(5, width=51.9, depth=11.1))
    angle, height = found.fence_angle.value, found.blade_height.value
    slopes = [
        (disc_section_width(RADIUS, KERF + k, angle + a, height + h) - 51.9) / 1e-5
        for a, h, k in ((1e-5, 0, 0), (0, 1e-5, 0), (0, 0, 1e-5))
    ]

    assert disc_section_width(RADIUS, KERF, angle, height) == pytest.approx(51.9, abs=1e-6)
    assert math.degrees(angle) == pytest.approx(28.20, abs=0.005)
    wide = 1.96 * math.hypot(0.1, 0.1 * slopes[1], 0.05 * slopes[2]) / slopes[0]
    assert found.fence_angle.half == pytest.approx(wide, rel=1e-3)
    assert (height, found.blade_height.half) == (pytest.approx(11.1), pytest.approx(0.196, abs=1e-3))
    assert found.offset.half is None and found.offset.value == found.offset.meant


def test_intervals_hold_what_was_set_nineteen_times_of_twenty():
    """100 saws set wrong, cut by a discrete blade: each of the three within what chance allows in 999 of 1000."""
    chance, held = np.random.default_rng(20), np.zeros(3, int)
    for _ in range(100):
        held += [abs(one.value - true) <= one.half for one, true in set_and_found(chance, 2)]

    least, most = fair(100, 0.95)
    assert np.all((least <= held) & (held <= most)), held


def test_a_maker_who_does_as_told_comes_within_tolerance_and_is_never_told_to_go_too_deep():
    """Three jobs with fence, blade and offset set wrong; the 500 are in tests/bench/test_correct.py."""
    chance = np.random.default_rng(5)
    for _ in range(3):
        scene = random_scene(chance)
        made = make(scene, chance)

        assert made.first.in_reach
        assert made.apart <= scene.wanted.tolerance
        assert made.advised_beyond <= 0.01


@pytest.mark.parametrize(("by", "off", "side"), [(0.4, 1.0, "near"), (-2.0, -3.0, "far"), (5.0, 0.0, "near")])
def test_both_marks_moved_as_said_put_the_fence_where_it_belongs(by, off, side):
    """Marks cross front and rear edges, and front and side edges where the fence is steep."""
    for angle in ("28 deg", "62 deg"):
        scene = complete(scene_from(cornice_with(setup={"fence_angle": angle, "fence_side": side}, target=None))).scene
        setup = scene.setup
        saw = Saw(RADIUS, KERF, setup.fence_angle + math.radians(by), setup.offset + off, 4.8)
        sizes = found_widths(scene, saw.angle, saw.height, saw.offset)
        exact = [Sized((size,), 0.001) for size in sizes.values()]
        found = corrected(scene, (AfterPass(2, *exact),))
        first, second = found.moves
        move_fence(saw, scene, [(first, first.by), (second, second.by)])

        assert math.degrees(saw.angle - setup.fence_angle) == pytest.approx(0, abs=0.01)
        assert saw.offset == pytest.approx(setup.offset, abs=0.05)

        # one alone: the line through the other mark as it stands, at the angle that was meant
        for moved, other in ((first, second), (second, first)):
            half = scene.stock.width / 2 * (1 if side == "near" else -1)
            place = other.now, other.mark.y
            if other.mark.edge not in ("front", "rear"):
                place = other.mark.x, other.now
            across = place[0] * math.cos(setup.fence_angle) - place[1] * math.sin(setup.fence_angle)
            assert moved.alone == pytest.approx(setup.offset - (across - half), abs=0.01)


def test_what_is_left_keeps_within_the_limits_from_wherever_the_cove_stands():
    """Rising from above the cove to the top, no rise or area beyond its limit; areas by the closed form."""
    remaining = Remaining(scene_of(), 16.0)
    for depth in np.arange(1.0, 15.9, 0.23):
        heights = [depth, *remaining.left_from(depth, depth)]
        areas = [disc_section_area(RADIUS, KERF, math.radians(28), height) for height in heights]

        assert heights[-1] == 16.0
        assert min(np.diff(heights)) > 0.04
        assert max(np.diff(heights)) <= 3.2
        assert max(np.diff(areas)) <= 130.0


def test_no_pass_beside_a_cove_of_another_fence_takes_more_than_the_limit_of_area():
    """Wood that a discrete blade takes beside what another has taken, fence and place wrong; to half a step of height.

    One cove has only a sliver left beside it; one is widened at its depth; beside the last that would take 29 mm2.
    """
    rises = [f"{height:.1f} mm" for height in np.arange(0.4, 16.1, 0.4)]
    limited = cornice_with(passes={"heights": rises}, limits={"area": "22 mm2"}, target=None)
    scene = complete(scene_from(limited)).scene
    own = math.radians(28), 0.0
    begun, remaining = [], Remaining(scene, 16.0)
    for by, aside, depth in ((-0.3, 0.0, 8.0), (-0.6, 0.0, 8.0), (0.9, -0.8, 12.3), (-2.5, 0.0, 11.0)):
        taken = tops(RADIUS, KERF, own[0] + math.radians(by), depth, aside)
        start = cut_up_to(scene, own[0] + math.radians(by), depth, aside)
        heights = remaining.left_from(start, depth)
        for height in heights[:3]:
            after_it = np.maximum(taken, tops(RADIUS, KERF, own[0], height, 0.0))
            area = 0.02 * (np.maximum(after_it, 0.0) - np.maximum(taken, 0.0)).sum()

            assert area <= 22.0 + 0.05 * disc_section_width(RADIUS, KERF, own[0], height)
            taken = after_it
        begun.append(heights[0])
        assert heights[-1] == 16.0
    assert begun == pytest.approx([8.4, 8.0, 12.4, 9.6])


def test_what_is_left_has_the_feeds_of_the_passes_whose_wood_it_takes():
    """From 11.1 mm on the cornice's own three; the last as slow as it was to be, and rises as the blade goes up."""
    found = corrected(scene_of(), after(5, width=51.9, depth=11.1))

    assert [one.height for one in found.passes] == [13.0, 15.0, 16.0]
    assert [one.rise for one in found.passes] == pytest.approx([1.9, 2.0, 1.0])
    assert [one.feed_speed for one in found.passes] == pytest.approx([2000 / 60, 2000 / 60, 1000 / 60])
    assert [one.width for one in found.passes] == pytest.approx(
        [disc_section_width(RADIUS, KERF, math.radians(28), height) for height in (13, 15, 16)]
    )


def test_a_cove_of_another_fence_is_widened_at_its_depth_and_never_below_it():
    """26 deg where 28 were meant, 11 mm deep: again at 11 mm, then on; the sliver is far under the limit of area."""
    scene = scene_of()
    width = disc_section_width(RADIUS, KERF, math.radians(26), 11.0)
    found = corrected(scene, after(5, width=width, depth=11.0))
    sliver = disc_section_area(RADIUS, KERF, math.radians(28), 11.0) - disc_section_area(
        RADIUS, KERF, math.radians(26), 11.0
    )

    assert [one.height for one in found.passes] == pytest.approx([11.0, 13.0, 15.0, 16.0])
    assert sliver < 0.3 * 130.0
    assert [one.height for one in corrected(scene, after(5, width=width + 2.0, depth=11.0)).passes] == [13, 15, 16]


def test_a_pass_that_takes_too_much_is_parted():
    """A blade that stood 2.6 mm too low leaves more than one pass may rise."""
    scene = scene_from(cornice_with(passes={"heights": ["3 mm", "6 mm", "9 mm", "12 mm", "16 mm"]}))
    found = corrected(complete(scene).scene, after(2, width=28.0, depth=3.4))
    heights = [3.4, *(one.height for one in found.passes)]

    assert max(np.diff(heights)) <= 3.2
    assert heights[-1] == 16.0


def test_the_target_goes_out_of_reach_where_a_discrete_blade_first_cuts_beyond_it():
    """At the height told the cove is past the target by the tolerance, on its edges, and just below it is not."""
    scene = scene_of()
    found = corrected(scene, after(5, width=54.0, depth=11.0))
    angle = found.found.fence_angle.value
    target = tops(RADIUS, KERF, math.radians(28), 16.0, 0.0)
    gaps = [
        edges_of(tops(RADIUS, KERF, angle, height, 0.0))[1] - edges_of(target)[1]
        for height in (found.out_from - 0.05, found.out_from + 0.05)
    ]

    assert gaps[0] < scene.wanted.tolerance + 0.02 < gaps[1] + 0.04
    assert found.perhaps_from < found.out_from < 16.0
    assert found.in_reach and not found.is_well


def test_a_cove_beyond_the_target_is_out_of_reach_and_stays_as_far_beyond():
    """62 mm wide where 60.8 are wanted, 0.6 mm on each side: nothing brings it nearer."""
    found = corrected(scene_of(), after(8, width=62.0, depth=16.0))

    assert not found.in_reach
    assert found.beyond == pytest.approx(0.6, abs=0.005)
    assert found.closest == pytest.approx(0.6, abs=0.005)
    assert found.passes == ()


def test_no_pass_is_deeper_than_the_target_where_the_set_up_is():
    """A set-up of 16 mm for a cove 15 mm deep: what remains ends where the tolerance does."""
    scene = complete(scene_from(cornice_with(target={"depth": "15 mm", "width": "59 mm"}))).scene
    found = corrected(scene, after(3, width=41.9, depth=7.0))

    assert found.passes[-1].height <= 15.0 + scene.wanted.tolerance + 1e-6


def test_what_is_not_measured_is_taken_as_it_was_set_and_not_told():
    """A width alone tells the angle less exactly than with the depth, a flat alone the offset, a depth the height."""
    scene = scene_of()
    both, width, depth, flat = (
        found_set_up(scene, after(5, **sizes))
        for sizes in ({"width": 51.9, "depth": 11.0}, {"width": 51.9}, {"depth": 11.3}, {"flat": 21.3})
    )

    assert width.blade_height.half is None and width.blade_height.value == 11.0
    assert width.fence_angle.half > 1.5 * both.fence_angle.half
    assert depth.fence_angle.half is None and depth.blade_height.error == pytest.approx(0.3)
    assert flat.offset.error == pytest.approx(21.3 - (92 - disc_section_width(RADIUS, KERF, math.radians(28), 11)) / 2)


def test_a_leaning_blade_tells_its_fence_as_the_oracle_cuts():
    """Edges of the tilted demo's cove, halved out of the membership test that shares no code, tell the angle set."""
    scene = scene_of("tilted-cove")
    angle, offset = scene.setup.fence_angle + math.radians(0.6), scene.setup.offset + 0.8
    cut = Cut(scene.tool.profile, angle, 10.4, scene.tilt, offset)
    middle = np.array([[y, 1e-6] for y in np.linspace(-60, 60, 2401)])
    taken = middle[cut.takes_from_section(middle), 0]
    edges = []
    for inside, outside in ((taken[0], taken[0] - 1), (taken[-1], taken[-1] + 1)):
        for _ in range(40):
            between = (inside + outside) / 2
            held = cut.takes_from_section([[between, 1e-6]])[0]
            inside, outside = (between, outside) if held else (inside, between)
        edges.append(inside)
    flat = scene.stock.width / 2 + (-edges[1] if scene.setup.fence_side == "near" else edges[0])
    found = found_set_up(scene, after(4, width=edges[1] - edges[0], depth=10.4, flat=flat))

    assert math.degrees(found.fence_angle.error) == pytest.approx(0.6, abs=1e-3)
    assert found.offset.error == pytest.approx(0.8, abs=1e-3)


def test_passes_that_do_not_go_together_say_that_the_fence_slipped():
    """28 deg after pass 3, 29 after pass 5: the last alone counts; with 28 both together are more exact than one."""
    scene, third, fifth = scene_of(), after(3, width=41.87, depth=7.0), after(5, width=51.37, depth=11.0)
    slipped = corrected(scene, third + after(5, width=52.96, depth=11.0))
    together, alone = (corrected(scene, measured).found for measured in (third + fifth, fifth))

    assert slipped.slipped
    assert math.degrees(slipped.found.fence_angle.value) == pytest.approx(29.0, abs=0.03)
    assert together.together and together.fence_angle.half < 0.9 * alone.fence_angle.half
    assert together.fence_angle.as_meant


def test_points_of_the_profile_tell_angle_and_height():
    """Points of a discrete blade's cove and of the flat beside it, turned and moved as a scan has them."""
    chance = np.random.default_rng(8)
    cut = tops(RADIUS, KERF, math.radians(28.6), 11.2, 0.3)
    across = np.linspace(-45, 45, 6001)[::60]
    height = np.interp(across, np.linspace(-60, 60, len(cut)), np.maximum(cut, 0.0))
    points = np.column_stack([across, height]) + chance.normal(0, 0.05, (len(across), 2))
    turn = np.array([[math.cos(0.1), -math.sin(0.1)], [math.sin(0.1), math.cos(0.1)]])
    found = found_set_up(scene_of(), (AfterPass(5, points=points @ turn.T + (30, 7), points_accuracy=0.05),))

    assert abs(math.degrees(found.fence_angle.value) - 28.6) <= 2 * math.degrees(found.fence_angle.half)
    assert abs(found.blade_height.value - 11.2) <= 2 * found.blade_height.half
    assert math.degrees(found.fence_angle.half) < 0.6
    assert not found.fence_angle.as_meant


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "tilted-cove", "stopped-cove", "frieze-by-marks"])
def test_the_phones_table_says_what_the_command_says(name):
    """After any pass, each setting wrong: to a share of what measuring to 0.1 mm tells, and the same passes."""
    scene, chance = scene_of(name), np.random.default_rng(3)
    table = correction_table(scene, 250.0)
    saws = [saw_of(scene, chance) for _ in range(3)]
    for saw, shows_less in saws:
        number = int(chance.integers(1, len(scene.passes.heights) + 1))
        height = scene.passes.heights[number - 1] + shows_less
        meant = found_widths(scene, saw.angle, height, saw.offset)
        found = corrected(scene, after(number, **meant))
        told = answer(
            table, number, *(1000 * meant[size] for size in ("width", "depth", "flat")), (100.0, 100.0, 100.0)
        )
        settings = found.found

        assert told["angle"]["value"] == pytest.approx(math.degrees(settings.fence_angle.value), abs=0.02)
        assert told["angle"]["half"] == pytest.approx(math.degrees(settings.fence_angle.half), rel=0.03)
        assert told["height"]["value"] == pytest.approx(1000 * settings.blade_height.value, abs=1)
        assert told["offset"]["value"] == pytest.approx(1000 * settings.offset.value, abs=10)
        assert told["offset"]["half"] == pytest.approx(1000 * settings.offset.half, rel=0.06)
        for mark, move in zip(told["marks"], found.moves, strict=True):
            assert (mark["by"], mark["alone"]) == pytest.approx((1000 * move.by, 1000 * move.alone), abs=120)
        assert told["end"]["width"] == pytest.approx(1000 * found.left.width, abs=25)
        assert told["end"]["deviation"] == pytest.approx(1000 * found.left.deviation, abs=60)
        assert (told["beyond"], told["closest"]) == pytest.approx((1000 * found.beyond, 1000 * found.closest), abs=60)
        assert told["in_reach"] == found.in_reach
        for key, height_told in (("out_from", found.out_from), ("perhaps_from", found.perhaps_from)):
            top = max(scene.setup.blade_height, found.left.depth)
            expected = 1000 * (top if height_told is None else height_told)
            assert (told[key] or 1000 * top) == pytest.approx(expected, abs=200)
        assert [one["height"] for one in told["passes"]] == pytest.approx(
            [1000 * one.height for one in found.passes], abs=1
        )
    assert len(str(table)) < 60_000


def test_a_phone_has_no_answer_beyond_its_table():
    """A fence 12 deg off, and a width that no fence gives."""
    scene = scene_of()
    table = correction_table(scene, 250.0)
    widths = [disc_section_width(RADIUS, KERF, math.radians(40), 11.0), 120.0]

    assert [answer(table, 5, 1000 * width, 11000.0, None, (100.0, 100.0, 100.0)) for width in widths] == [None, None]


def test_of_several_set_ups_each_cove_between_flats_tells_its_own():
    """The base's first cove as planned stock has it; its rip, and a cove off the stock's edge, tell nothing."""
    large, small, *rips = plan_setups(read_scene(SCENES / "base-of-two-coves.toml"))
    height = large.scene.passes.heights[0]
    found = corrected(large.scene, after(1, **found_widths(large.scene, large.scene.setup.fence_angle, height, 0.0)))

    assert found.found.fence_angle.as_meant
    require_cove(small.scene)
    with pytest.raises(UnusableError, match="it is a rip"):
        require_cove(rips[0].scene)
    with pytest.raises(UnusableError, match="no flat on both sides"):
        require_cove(scene_of("off-the-edge"))
    assert correction_table(rips[0].scene, 250.0) is None


def test_a_width_that_no_fence_gives_is_refused_with_what_can_be():
    """51.9 mm at 1 mm deep: even square to the blade it is narrower."""
    with pytest.raises(SceneError, match=r"no fence angle gives 51\.9 mm"):
        found_set_up(scene_of(), after(5, width=51.9, depth=1.0))


def test_where_no_cove_may_be_cut_all_of_the_target_is_left():
    """The stock lies so far aside that the first shaving goes beyond the line: the table holds the target's depth."""
    scene = complete(scene_from(cornice_with(stock={"width": "200 mm"}, setup={"offset": "40 mm"}))).scene
    table = correction_table(scene, 250.0)

    assert (table["top"], table["closest"]) == (0, 16_000)
