"""The numbers of a run and of an answer: held to the schema that the program prints, and to the program itself."""

from __future__ import annotations

import json
import math
from functools import cache

import pytest
from demos import DEMOS, SCENES
from hypothesis import given
from jsonschema import Draft202012Validator
from reports import COARSE, report_of
from strategies import fewer, scenes
from terminal import sweep_here

from sweep.check.judge import judge
from sweep.check.panel import check_panel, flags_of_panel
from sweep.check.stock import small_stock
from sweep.cut.job import simulate
from sweep.plan.accuracy import care_needed
from sweep.plan.cutlist import cut_list
from sweep.plan.match import match_offcut
from sweep.scene.points import read_points
from sweep.shape.tool import flat_tips
from sweep.show.say.flags import sentence_of
from sweep.show.say.numbers.among import AmongAnswer
from sweep.show.say.numbers.answers import (
    CutListAnswer,
    FenceAnswer,
    SolveAnswer,
    cut_list_answer,
    fence_answer,
    solve_answer,
)
from sweep.show.say.numbers.correct import CorrectAnswer
from sweep.show.say.numbers.match import BladesAnswer, MatchAnswer, match_answer
from sweep.show.say.numbers.model import Numbers, all_under, schema_of, written
from sweep.show.say.numbers.result import Result, result_of
from sweep.show.say.report import Report
from sweep.units import Units

MODELS = (Result, SolveAnswer, FenceAnswer, CutListAnswer, MatchAnswer, BladesAnswer, AmongAnswer, CorrectAnswer)


@cache
def validator(model) -> Draft202012Validator:
    """An independent validator of what a model writes."""
    return Draft202012Validator(json.loads(schema_of(model)))


def complaints(model, text: str) -> list[str]:
    """What an independent validator has against a JSON text."""
    found = validator(model).iter_errors(json.loads(text, parse_constant=float))
    return [f"{'/'.join(map(str, one.path))}: {one.message}" for one in found]


def objects(schema: dict) -> list[dict]:
    """The schemas of all objects within a schema."""
    return [one for one in [schema, *schema["$defs"].values()] if one.get("type") == "object"]


@pytest.mark.parametrize("model", MODELS)
def test_a_schema_is_one_and_lets_no_key_be_missing_or_added(model):
    """By the dialect's own schema; every object is strict."""
    schema = validator(model).schema

    Draft202012Validator.check_schema(schema)
    for one in objects(schema):
        assert one["additionalProperties"] is False
        assert sorted(one["required"]) == sorted(one["properties"])


def test_every_key_of_the_schema_says_what_stands_below_it_in_the_source():
    """A table tells of its own keys and of those that it has from another; and no two tables share a name."""
    tables, names = validator(Result).schema["$defs"], [one.__name__ for one in all_under(Numbers)]
    words = {name: {key: one.get("description") for key, one in tables[name]["properties"].items()} for name in tables}

    assert len(set(names)) == len(names)
    assert words["BladeNumbers"]["diameter_mm"] == "Where it is greatest."
    assert words["BladeNumbers"]["teeth"] is None
    assert words["MarkNumbers"].items() >= words["PlaceNumbers"].items()
    assert sum(one is not None for table in words.values() for one in table.values()) > 100


@pytest.mark.parametrize("name", DEMOS)
def test_the_numbers_of_every_demo_scene_keep_to_their_schema(name):
    """The whole result, and what `fence` and `solve` answer."""
    report = report_of(name)

    assert complaints(Result, written(result_of(report))) == []
    assert complaints(FenceAnswer, written(fence_answer(report))) == []
    assert complaints(SolveAnswer, written(solve_answer(report.completed, None, report.care, report.units))) == []


@fewer(3 / 160)
@given(scene=scenes())
def test_the_numbers_of_any_scene_keep_to_the_schema_and_say_what_was_simulated(scene):
    """Random scenes: the schema, heights in order, forces within their bands, every flag with its figures."""
    report = Report(judge(simulate(scene, COARSE)), Units())
    result = result_of(report)
    read = json.loads(written(result))

    assert complaints(Result, written(result)) == []
    assert [one["height_mm"] for one in read["passes"]] == [one["height_mm"] for one in read["order_of_passes"]]
    assert math.fsum(one["share"] for one in read["passes"]) == pytest.approx(1.0)
    for one in read["passes"]:
        for force in ("feed", "fence", "lift", "side"):
            low, usual, high = (one[f"{force}_force{part}_n"] for part in ("_low", "", "_high"))
            assert usual is None or low <= usual <= high
    told = [flag for part in (read, *read["passes"]) for flag in part["flags"]]
    assert [(flag["code"], flag["value"], flag["limit"]) for flag in told] == [
        (flag.code, float(flag.value), float(flag.limit)) for flag in report.flags
    ]
    assert [flag["message"] for flag in told] == [sentence_of(flag, Units()) for flag in report.flags]


def test_the_result_holds_what_was_set_in_the_units_of_its_keys():
    """The cornice: figures of its scene file, and the chord of the speed of its rim."""
    result = result_of(report_of("corner-cupboard-cornice"))

    assert (result.stock.width_mm, result.stock.thickness_mm, result.stock.moisture) == (92.0, 22.5, 0.12)
    assert (result.blade.diameter_mm, result.blade.kerf_mm, result.blade.teeth) == (254.0, 3.2, 40)
    assert result.saw.speed_rpm == pytest.approx(4000.0)
    assert result.setup.rim_speed_m_per_s == pytest.approx(4000 / 60 * math.pi * 0.254)
    assert [one.feed_speed_mm_per_s for one in result.order_of_passes] == pytest.approx([2000 / 60] * 7 + [1000 / 60])
    assert result.limits.push_n == 130.0
    assert (result.target.shape, result.pass_plan, result.candidates) == ("cove", None, ())
    assert result.care.set_ups == 10_000


def test_a_plan_and_the_blades_tried_are_in_the_result_where_they_were_made():
    """The arc from a drawing leaves out both; the planned heights are those of the passes."""
    result = result_of(report_of("arc-from-drawing"))

    assert [one.height_mm for one in result.pass_plan.passes] == [one.height_mm for one in result.passes]
    assert max(one.burden for one in result.pass_plan.passes) <= 1.0
    assert result.candidates[0].blade_height_mm == result.setup.blade_height_mm
    assert result.candidates[0].deviation_mm == min(one.deviation_mm for one in result.candidates)


def test_the_chance_set_ups_are_tried_once_for_all_that_show_them(monkeypatch):
    """Numbers, sheet and terminal take the same care from the report."""
    import sweep.show.say.report as room

    asked, little = [], care_needed(report_of("corner-cupboard-cornice").scene, set_ups=1)
    monkeypatch.setattr(room, "care_needed", lambda scene: asked.append(scene) or little)
    old = report_of("corner-cupboard-cornice")
    report = Report(old.outcome, old.units, old.completed)

    assert report.care is report.care
    assert result_of(report).care.set_ups == 1
    assert len(asked) == 1


def test_the_cut_list_answers_with_what_the_result_holds():
    """Under the same keys."""
    report = report_of("cornice-to-fit")
    scene, result = report.scene, result_of(report)
    flags = [*small_stock(scene), *flags_of_panel(scene)]
    answer = cut_list_answer(scene, cut_list(report.job), check_panel(scene), flags, report.units)

    assert (answer.cut_list, answer.panel) == (result.cut_list, result.panel)
    assert complaints(CutListAnswer, written(answer)) == []


def test_an_offcut_answers_with_the_set_up_that_it_tells():
    """The demo's points were made with 25 deg and 13 mm."""
    points = read_points(SCENES / "measured-offcut.csv")
    tilts = (-math.pi / 4, math.pi / 4)
    answer = match_answer(match_offcut(flat_tips(127.0, 3.2), points, tilts, 0.1))

    assert answer.fence_angle.value_deg == pytest.approx(25.0, abs=0.1)
    assert answer.blade_height.value_mm == pytest.approx(13.0, abs=0.1)
    assert complaints(MatchAnswer, written(answer)) == []


@pytest.mark.parametrize(
    ("words", "model", "status"),
    [
        (("fence", "off-the-edge.toml"), FenceAnswer, 1),
        (("solve", "corner-cupboard-cornice.toml"), SolveAnswer, 0),
        (("cutlist", "cornice-to-fit.toml"), CutListAnswer, 0),
        (("match", "measured-offcut.csv", "--diameter", "254 mm", "--kerf", "3.2 mm"), MatchAnswer, 0),
    ],
    ids=lambda value: value[0] if isinstance(value, tuple) else None,
)
def test_json_is_all_that_is_printed_when_it_is_asked_for(tmp_path, words, model, status):
    """Its status is that of the same command in words."""
    run = sweep_here(words[0], SCENES / words[1], *words[2:], "--json", folder=tmp_path)

    assert (run.returncode, run.stderr) == (status, b"")
    assert complaints(model, run.stdout.decode("ascii")) == []


def test_the_schema_of_a_result_is_printed_by_the_program(tmp_path):
    """The same that the tests hold every run to."""
    run = sweep_here("schema", "result", folder=tmp_path)

    assert run.returncode == 0
    assert run.stdout.decode() == schema_of(Result)
