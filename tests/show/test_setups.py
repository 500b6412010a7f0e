"""Several set-ups in every output: each with what one set-up alone has, and the whole beside them."""

from __future__ import annotations

import csv
import json
import tomllib
from functools import cache

import pytest
import shapely
from demos import SCENES, SEVERAL
from jsonschema import Draft202012Validator
from reports import report_of, setups_report_of
from terminal import sweep_here

from sweep.cut.passes import passes_of
from sweep.cut.stages import travel_range
from sweep.plan.complete import complete_and_cut
from sweep.plan.cutlist import cut_list
from sweep.scene.read import scene_from
from sweep.show.files.folder import mesh_files
from sweep.show.say.numbers.answers import FenceAnswer, fence_answer, fences_answer
from sweep.show.say.numbers.model import schema_of, written
from sweep.show.say.numbers.result import Result, result_of

PANEL = SCENES / "coved-panel-edge.toml"


@cache
def validator(model) -> Draft202012Validator:
    """An independent validator of what a model writes."""
    return Draft202012Validator(json.loads(schema_of(model)))


@pytest.mark.parametrize("name", SEVERAL)
def test_the_numbers_of_every_set_up_keep_to_the_schema(name):
    """The whole result, and what `fence` answers, by an independent validator."""
    report = setups_report_of(name)
    for model, numbers in ((Result, result_of(report)), (FenceAnswer, fences_answer(report))):
        found = validator(model).iter_errors(json.loads(written(numbers)))
        assert [one.message for one in found] == []


@pytest.mark.parametrize("name", SEVERAL)
def test_the_numbers_add_up_over_the_set_ups(name):
    """What each takes, what falls off and what is left make the stock; flags are those of the outcomes."""
    report = setups_report_of(name)
    result, stock = result_of(report), report.scene.stock
    size = stock.length * stock.width * stock.thickness
    taken = sum(one.volume_mm3 for setup in result.setups for one in setup.passes)
    fell = sum(one.volume_mm3 for setup in result.setups for one in setup.fallen)

    assert taken + fell + result.finished.volume_mm3 == pytest.approx(size, rel=1e-9)
    assert result.setups[-1].volume_left_mm3 == pytest.approx(result.finished.volume_mm3, rel=1e-9)
    assert result.finished.pieces[0].section_mm2 == pytest.approx(result.setups[-1].section_left_mm2, rel=1e-3)
    for setup, outcome in zip(result.setups, report.verdict.outcomes, strict=True):
        codes = [flag.code for part in (setup, *setup.passes) for flag in part.flags]
        assert sorted(codes) == sorted(flag.code for flag in outcome.flags)
    assert (result.setup, result.passes, result.fence) == (None, (), None)


def test_a_block_is_touched_only_where_earlier_set_ups_left_wood():
    """The demo crown's second and fourth: a hair about every touch some wood is left, about an edge cut away none."""
    touched = []
    for one in setups_report_of("ogee-crown").reports:
        half, hand = one.scene.stock.width / 2, 1 if one.scene.setup.fence_side == "near" else -1
        left = one.job.sections[-1].left
        touched.append([touch.where for touch in one.layout.touches])
        for touch in one.layout.touches:
            assert left.distance(shapely.Point(hand * (half - touch.from_fence), touch.height)) < 1e-3
    assert touched == [["right edge", "bottom", "left edge"], ["right edge", "bottom"], [], ["right edge", "bottom"]]


def test_a_scene_of_one_set_up_has_it_beside_its_own_keys():
    """The same numbers in both places."""
    report = report_of("corner-cupboard-cornice")
    result, fence = result_of(report), fence_answer(report)
    (only,) = result.setups

    assert (only.setup, only.passes, only.fence, only.flags) == (
        result.setup,
        result.passes,
        result.fence,
        result.flags,
    )
    assert (only.order_of_passes, only.surface, only.fallen) == (result.order_of_passes, result.surface, ())
    assert only.volume_left_mm3 == pytest.approx(report.job.finished.volume)
    assert (fence.setups[0].setup, fence.setups[0].fence) == (fence.setup, fence.fence)


@pytest.mark.parametrize("name", SEVERAL)
def test_every_mesh_of_several_set_ups_is_closed(name):
    """The finished moulding, and the stock after each pass of each set-up, as it lies for it."""
    report = setups_report_of(name)
    files = mesh_files(report, 0.01)

    passes = [len(job.passes) for job in report.moulding.jobs]
    named = [f"setup-{place}-pass-{k:02d}.stl" for place, n in enumerate(passes, start=1) for k in range(1, n + 1)]
    assert set(named) | {"finished.stl", "finished.3mf", "finished.glb"} == set(files)
    assert all(mesh.is_closed() for meshes in files.values() for mesh in meshes)


def test_a_run_of_several_set_ups_prints_each_and_leaves_its_folder(tmp_path):
    """A headline a set-up in their order, a row a pass in `passes.csv`, and the status of a run that is flagged."""
    out = tmp_path / "out"
    ended = sweep_here("run", PANEL, "--no-pictures", "--out", out, folder=tmp_path)

    assert (ended.returncode, ended.stderr) == (1, b"")
    heads = [line.split(":")[0] for line in ended.stdout.decode().splitlines() if line[:2] in ("1.", "2.", "3.", "4.")]
    assert heads == ["1. right edge", "2. left edge", "3. right runner off", "4. left runner off"]
    assert ended.stdout.decode().count("(strip-falls)") == 2
    rows = list(csv.DictReader((out / "passes.csv").read_text().splitlines()))
    assert [row["setup"] for row in rows] == ["1"] * 5 + ["2"] * 5 + ["3", "4"]
    result = json.loads((out / "result.json").read_text())
    assert result["finished"]["watertight"] and len(result["setups"]) == 4


def test_the_fence_of_every_set_up_is_told(tmp_path):
    """By tape for the coves, from the teeth for the rips; and in numbers."""
    told = sweep_here("fence", PANEL, folder=tmp_path).stdout.decode()
    numbers = json.loads(sweep_here("fence", PANEL, "--json", folder=tmp_path).stdout)

    assert told.count("fence at 25.00 deg") == 2
    assert told.count("rip fence along the blade, on the left of it") == 2
    assert "At the table its face is 340.0 mm from the nearest teeth" in told
    assert [one["fence"]["clear_of_blade_mm"] for one in numbers["setups"][2:]] == pytest.approx([340.0, 300.0])


def test_an_order_is_cut_from_the_moulding_of_all_set_ups():
    """Blanks as for one set-up, and the time of every pass of every set-up."""
    scene = scene_from(tomllib.loads(PANEL.read_text()) | {"order": {"lengths": ["450 mm"], "handling": "0 s"}})
    made = complete_and_cut(scene)
    cut = cut_list(made)

    fed = sum(
        (end - start) / one.feed_speed
        for alone in made.scenes
        for one in passes_of(alone)
        for start, end in [travel_range(alone, one.number)]
    )
    assert (cut.passes, len(cut.blanks), cut.passed) == (12, 1, 2)
    assert cut.seconds == pytest.approx(12 * 90 + 2 * fed)
