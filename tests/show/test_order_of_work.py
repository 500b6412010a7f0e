"""The order of work at the saw: what comes before what, its figures, and where it is told."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from demos import DEMOS, SEVERAL, cornice_with
from hypothesis import given
from permission import permission_in
from reports import COARSE, report_of, setups_report_of
from strategies import fewer, scenes

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.show.say.at_saw.job import screens_of
from sweep.show.say.at_saw.screen import BANNERS
from sweep.show.say.cautions import cautions
from sweep.show.say.fence import lines_of, runs_of
from sweep.show.say.flags import sentence_of
from sweep.show.say.numbers.result import result_of
from sweep.show.say.order_of_work import order_of_work
from sweep.show.say.report import Report
from sweep.show.say.setups import report_of_setups
from sweep.show.say.steps import Step
from sweep.units import Units

ORDER = [
    "wood", "block", "height", "fence", "check", "clamps", "low", "guards", "plug", "pass", "pass", "height", "pass",
    "forced", "end",
]  # fmt: skip
"""Common practice: the saw is set unplugged, from the cove that is drawn on a block; the fence is checked again once it
is clamped; scrap goes first, and every blank at a height before the next."""


def report(scene: Scene, style: str = "mm") -> Report:
    """The report of a scene, cut coarsely."""
    return Report(judge(simulate(scene, COARSE)), Units(style))


def figures(step: Step) -> dict[str, float]:
    """The figures of a step by name, in the program's units."""
    return {one.name: one.figure.value for one in step.settings}


@fewer(1 / 20)
@given(scene=scenes())
def test_the_order_of_work_of_any_scene(scene):
    """Random scenes: the order, the plug, every pass in its turn, the figures of the scene, a stop where one is."""
    told = report(scene)
    steps, passes = told.steps, told.job.passes
    by_picture = {step.picture: step for step in steps}
    numbers = tuple(range(1, len(passes) + 1))
    stops = [one.stop for one in passes if one.stop is not None]

    shown = [step.picture for step in steps]
    assert shown == ORDER if len(passes) > 1 else [one for place, one in enumerate(ORDER) if place not in (11, 12)]
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    for step in steps[: shown.index("plug")]:
        assert not step.passes
        assert "pass of" not in step.words
    assert steps[10].passes == numbers
    if len(passes) > 1:
        assert steps[11].passes == numbers[1:]
        assert "from below" in steps[11].words
        assert steps[12].passes == numbers[-1:]
        slower = passes[-1].feed_speed < passes[0].feed_speed
        assert ("slowly" in steps[12].words) is slower

    setup, stock = scene.setup, scene.stock
    assert figures(by_picture["fence"])["fence_angle"] == setup.fence_angle
    assert figures(steps[2])["blade_height"] == setup.blade_height
    assert ("Tilt the blade" in steps[2].words) is (setup.blade_tilt != 0)
    assert figures(by_picture["plug"])["blade_height"] == passes[0].height
    length = stock.length if passes[0].stop is None else passes[0].stop
    assert figures(by_picture["guards"])["takes"] == pytest.approx(length / passes[0].feed_speed)
    for step in steps:
        assert [one.name for one in step.settings if one.shown not in step.words] == []
        assert "{" not in step.words

    stopped = [step.picture for step in steps if "stopped" in step.cautions]
    assert ("stop block" in by_picture["guards"].words) is bool(stops)
    assert stopped == (["wood", "guards", "pass"] if stops else [])
    asked = {key for step in steps for key in step.cautions}
    assert asked == {one.key for one in cautions(scene, told.layout, told.units)}


@pytest.mark.parametrize("side", ["near", "far"])
@pytest.mark.parametrize("angle", [0.5, 20, 44, 46, 75, 90])
def test_the_side_of_the_work_is_where_a_maker_before_the_saw_sees_it(side, angle):
    """Left and right of the fence at the same depth of the table, or before and behind one that runs more across."""
    scene = scene_from(cornice_with(setup={"fence_angle": f"{angle} deg", "fence_side": side}))
    told, along = report(scene), np.array([math.sin(math.radians(angle)), math.cos(math.radians(angle))])
    face = told.layout.face.across * np.array([along[1], -along[0]])
    to_stock = -face  # the stock's middle runs over the blade's centre
    said = runs_of(told.layout)

    assert along[0] > 0  # it runs to the right as it goes to the rear
    assert ("straight across" in said) is (angle == 90)
    if angle < 45:  # where the fence is as far to the rear as the blade's centre
        x_of_fence = (face - face[1] / along[1] * along)[0]
        assert ("to its left" in said, "to its right" in said) == (x_of_fence > 0, x_of_fence < 0)
    else:
        assert ("beyond it" in said, "on your side of it" in said) == (to_stock[1] > 0, to_stock[1] < 0)


def test_without_an_order_a_spare_blank_and_two_blocks_are_to_be_made_ready():
    """One spare and two blocks of 150 mm, or 6 in: common practice."""
    for style, block in (("mm", "150.0 mm"), ("in", "6 in")):
        wood = report(scene_from(cornice_with()), style).steps[0].words
        assert f"One blank more than you need at least, two set-up blocks of {block} (common practice)" in wood
    ordered = report_of("cornice-to-fit").steps[0].words
    assert "The blanks of the cut list, 1 of them spare, 2 set-up blocks of 150.0 mm" in ordered


def test_a_stopped_cut_is_warned_of_and_told_to_its_end():
    """HSE Woodworking Sheet 16, as a maker quotes it (not read in the original); the saw is stopped before the lift."""
    told = report_of("stopped-cove")
    warned = {one.key: one.words for one in cautions(told.scene, told.layout, told.units)}["stopped"]
    each = told.steps[10].words

    assert "should not be made on a circular saw: HSE Woodworking Sheet 16" in warned
    assert "Never lift the stock off a turning blade" in warned
    places = [each.index(words) for words in ("stop block", "switch off", "stands still", "pull the plug", "lift")]
    assert places == sorted(places)
    assert "300.00 mm past the blade's centre" in told.steps[7].words


@pytest.mark.parametrize("name", SEVERAL)
def test_a_rip_has_an_order_of_work_of_its_own(name):
    """Common practice: guard on where no wood is above, nothing that traps what is sawn off, no oblique fence."""
    for told in setups_report_of(name).reports:
        if told.scene.feed.along_blade:
            holds_to_a_rips_order(told)


def holds_to_a_rips_order(told: Report) -> None:
    """Assert all that the order of work of one rip must say and must not."""
    words = " ".join(one.words for one in (*told.steps, *cautions(told.scene, told.layout, told.units)))
    comes_out = told.scene.setup.blade_height > told.scene.stock.thickness
    through = comes_out or "cut 2" in told.scene.title  # the step comes free below the wood

    assert [step.picture for step in told.steps] == [
        "wood", "block", "height", "fence", "guards", "plug", "pass", "pass", "forced", "end",
    ]  # fmt: skip
    assert not told.layout.has_second  # whatever room there is: it would hold on to what is sawn off
    assert [name for name, _ in lines_of(told.layout)] == ["face of the fence"]
    assert "No second fence" in words
    assert not {"cove", "from front left", "both sides", "strips"} & set(words.split())
    assert ("riving knife and guard on." in words) is comes_out
    assert ("Wood stays above the blade: a riving knife no higher than the teeth" in words) is not comes_out
    assert ("stays where it is until the blade stands" in words) is through
    for step in told.steps:
        assert [one.name for one in step.settings if one.shown not in step.words] == []
        assert "{" not in step.words
    asked = {key for step in told.steps for key in step.cautions}
    assert asked == {one.key for one in cautions(told.scene, told.layout, told.units)}


def test_a_rip_fence_is_told_from_the_nearest_teeth():
    """The panel is 300 mm wide, with a runner of 40 mm beside the fence, and then with none."""
    rips = setups_report_of("coved-panel-edge").reports[2:]

    assert [figures(one.steps[3])["to_teeth"] for one in rips] == pytest.approx([340.0, 300.0])


def test_a_later_set_up_begins_with_what_the_one_before_left():
    """Nobody planes blanks again, and the block to set by is cut off the spare as it is by then."""
    first, *later = (one.steps[0].words for one in setups_report_of("base-of-two-coves").reports)

    assert "all planed to" in first
    for words in later:
        assert "as the set-up before left them" in words
        assert "Crosscut a set-up block of 6 in off the spare, which stays 12 in long or more" in words


def test_scrap_is_measured_where_a_cove_has_both_its_edges_and_looked_at_where_it_meets_an_earlier_cut():
    """The small cove has them; with the wood right of it gone its width cannot be laid off."""
    report = setups_report_of("base-of-two-coves").reports[1]
    first, *later = report.job.sections
    right = first.edges[1]
    gone = section.together(np.array([(right, 0.0), (right + 5, 0.0), (right + 5, 3.0), (right, 3.0)]))
    met = replace(report.job, sections=(replace(first, left=section.minus(first.left, gone)), *later))
    width, none = (
        next(one for one in steps if one.name == "Scrap first")
        for steps in (report.steps, order_of_work(met, report.layout, report.units))
    )

    assert figures(width)["width"] == pytest.approx(first.width)
    assert "measure: a cove 9/16 in wide" in width.words
    assert "width" not in figures(none)
    assert "Plug out, look: it cuts where it was drawn, or begin again" in none.words


def test_the_result_holds_the_steps_with_their_figures():
    """The cornice: 2 sin 28 sqrt(2 127 16 - 16^2) + 3.2 cos 28 between the strips, 27 s for 900 mm at 2 m/min."""
    steps = result_of(report_of("corner-cupboard-cornice")).model_dump()["order_of_work"]
    figure = {one["name"]: (one["value"], one["unit"]) for step in steps for one in step["settings"]}
    radians = math.radians(28)
    gap = 2 * math.sin(radians) * math.sqrt(2 * 127 * 16 - 16**2) + 3.2 * math.cos(radians)

    assert [step["picture"] for step in steps] == ORDER
    assert figure["gap"] == (pytest.approx(gap), "mm")
    assert figure["fence_angle"] == (pytest.approx(radians), "rad")
    assert [one["value"] for one in steps[7]["settings"] if one["name"] == "takes"] == [pytest.approx(27)]


@pytest.mark.parametrize("name", DEMOS + SEVERAL)
def test_nothing_that_is_said_at_the_saw_can_be_read_as_permission(name):
    """No 'ready', 'go', 'safe', 'ok' or the like on any screen of a phone, nor in any step of the sheet."""
    told = setups_report_of(name) if name in SEVERAL else report_of(name)
    found = list(BANNERS.values())
    for one in screens_of(told):
        found += [one.title, one.tick, *one.words, *(big.note for big in one.big), *(pace.words for pace in one.paces)]
        found += [f"{caution.name} {caution.words}" for caution in one.cautions]
        found += [sentence_of(flag, told.units) for flag in one.flags]
    for report in told.reports if name in SEVERAL else [told]:
        found += [step.words for step in report.steps]
    for text in found:
        assert permission_in(text) is None, text


def test_the_list_of_such_words_finds_them():
    """So that its silence says something."""
    for text in ("Ready: blade at 7 mm.", "Now go to the saw.", "All is safe.", "OK to cut."):
        assert permission_in(text) is not None


@pytest.mark.parametrize("straight", [False, True])
def test_where_the_fence_would_be_cut_the_work_and_the_flag_say_the_same(straight):
    """As far into it, and what mends it: the other side or wider stock; then no cut is on the phone, else all are."""
    for place, cut in (("far", False), ("near", True)):
        if straight:
            rip = {"do": "rip", "at": "42 mm" if cut else "39 mm", "blade_height": "5 mm"}  # its edge is at 42.5 mm
            scene = scene_from(
                cornice_with(setup=None, passes=None, target=None, stock={"width": "85 mm"}, setups=[rip])
            )
            told = report_of_setups(scene, Units("mm")).reports[0]
        else:
            told = report(scene_from(cornice_with(setup={"offset": "-20 mm", "fence_side": place})))
        words = next(step.words for step in told.steps if "ence" in step.name and step.picture == "fence")
        flags = [flag for flag in told.flags if flag.code == "fence-cut"]

        assert len(flags) == cut
        assert ("as it is set this is not cut" in words) == ("wider stock" in words) == cut
        assert {one.kind for one in screens_of(told) if one.kind in ("cut", "barred")} == {"barred" if cut else "cut"}
        for flag in flags:
            assert told.units.length(flag.value) in words
            assert sentence_of(flag, told.units).split(": ", 1)[1] in words.replace("Set", "set")
