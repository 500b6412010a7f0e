"""`sweep correct` as a maker meets it between two passes."""

from __future__ import annotations

import json

import pytest
from demos import CORNICE, SCENES
from jsonschema import Draft202012Validator
from terminal import sweep_here

from sweep.show.say.numbers.correct import CorrectAnswer
from sweep.show.say.numbers.model import schema_of

MEASURED = ("--pass", "5", "--width", "51.9 mm", "--depth", "11.1 mm")


def test_the_cornice_after_its_fifth_pass(tmp_path):
    """28.20 deg, not sure enough to move the fence; which way both marks would go; what is left."""
    run = sweep_here("correct", CORNICE, *MEASURED, folder=tmp_path)
    text = " ".join(run.stdout.decode().split())

    assert run.returncode == 1, run.stderr  # left so it would come out of tolerance
    assert "28.20 deg +- 0.30 deg" in text
    assert "offset 0.00 mm - not measured" in text
    assert "28.00 deg is within what was measured" in text
    assert "front mark 1.6 mm to the right and its rear mark 1.5 mm to the left, both" in text
    assert "61.32 mm wide and 16.10 mm deep" in text
    assert "6 13.00 1.90 2.00 55.38 7 15.00 2.00 2.00 59.04 8 16.00 1.00 1.00 60.77" in text
    assert list(tmp_path.iterdir()) == []


def test_the_numbers_keep_to_their_schema_and_say_the_same(tmp_path):
    """Set and intervals under the same keys; null for what was not measured."""
    run = sweep_here("correct", CORNICE, *MEASURED, "--json", folder=tmp_path)
    told = json.loads(run.stdout)
    schema = json.loads(schema_of(CorrectAnswer))

    assert run.returncode == 1
    assert list(Draft202012Validator(schema).iter_errors(told)) == []
    assert told["set"]["fence_angle_deg"] == pytest.approx(28.2035, abs=1e-3)
    assert set(told["set"]) == set(told["intervals"])
    low, high = told["intervals"]["fence_angle_deg"]
    assert low < 28 < told["set"]["fence_angle_deg"] < high
    assert told["intervals"]["offset_mm"] is None
    assert [one["height_mm"] for one in told["passes"]] == [13, 15, 16]


def test_nothing_to_move_ends_with_0(tmp_path):
    """The third pass as the sheet has it."""
    sizes = ("--width", "41.87 mm", "--depth", "7 mm", "--width-accuracy", "0.02 mm", "--depth-accuracy", "0.02 mm")
    run = sweep_here("correct", CORNICE, "--pass", 3, *sizes, folder=tmp_path)

    assert run.returncode == 0, run.stdout
    assert b"!" not in run.stdout


def test_a_scene_in_inches_is_told_in_inches_and_turns(tmp_path):
    """The blade's wheel counts where the lift of a turn is known."""
    text = (SCENES / "picture-rail.toml").read_text().replace("[saw]", '[saw]\nlift_per_turn = "1/16 in"')
    (tmp_path / "rail.toml").write_text(text)
    sizes = ("--width", "1 11/32 in", "--depth", "17/64 in", "--flat", "9/16 in")
    run = sweep_here("correct", "rail.toml", "--pass", 3, *sizes, folder=tmp_path)
    lines = run.stdout.decode().splitlines()

    assert not any(" mm" in line for line in lines)
    assert ["4", "21/64", "1/16", "1.00", "7.0", "1", "27/64"] in [line.split() for line in lines]

    deep = ("--depth", "0.272 in", "--depth-accuracy", "1 thou")
    said = sweep_here("correct", "rail.toml", "--pass", 3, *deep, folder=tmp_path).stdout.decode()
    assert "! Blade: it stood 6.38 thou higher than it was set. Raise it from where it stands" in " ".join(said.split())


def test_each_measurement_belongs_to_the_pass_named_before_it(tmp_path):
    """Several of one size are told from those of another pass, and their accuracy too."""
    third = ("--pass", 3, "--width", "41.87 mm", "--depth", "7 mm")
    runs = [
        json.loads(sweep_here("correct", CORNICE, *words, "--json", folder=tmp_path).stdout)
        for words in (
            (*third, "--pass", 5, "--width", "51.37 mm", "--depth", "11 mm"),
            ("--pass", 5, "--width", "51.37 mm", "--depth", "11 mm", *third),
            (*third, *third[2:], *third[2:]),
            (*third, "--depth-accuracy", "0.01 mm"),
        )
    ]
    halves = [one["intervals"]["fence_angle_deg"][1] - one["set"]["fence_angle_deg"] for one in runs]

    assert [one["after_pass"] for one in runs] == [5, 5, 3, 3]
    assert halves[0] == pytest.approx(halves[1], rel=1e-6)
    assert halves[3] < halves[2]


def test_a_phones_record_says_what_the_options_say(tmp_path):
    """What was measured last after each pass counts; what an option says of a pass goes before."""
    (tmp_path / "phone.toml").write_text(
        """
record = 1
title = "Corner cupboard, cornice cove"
[[measured]]
after_pass = 5
width = "53.0 mm"
[[measured]]
after_pass = 3
width = "41.9 mm"
depth = "7.0 mm"
[[measured]]
after_pass = 5
width = "51.9 mm"
depth = "11.1 mm"
"""
    )
    third = ("--pass", "3", "--width", "41.9 mm", "--depth", "7.0 mm")
    by_record, by_options, by_both = (
        json.loads(sweep_here("correct", CORNICE, *words, "--json", folder=tmp_path).stdout)
        for words in (("--record", "phone.toml"), (*third, *MEASURED), ("--record", "phone.toml", *MEASURED))
    )

    assert by_record == by_options == by_both
    assert by_record["after_pass"] == 5


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--width", "51 mm"], "--width: it is not said after which pass it was measured"),
        ([], "--pass: it is missing"),
        (["--pass", 5], "--pass: nothing was measured after pass 5"),
        (["--pass", 99, "--width", "51 mm"], "--pass: there is no pass 99; write 1 to 8"),
        (["--pass", 0, "--width", "51 mm"], "--pass: there is no pass 0"),
        (["--pass", 5, "--width", "0 mm"], "--width: 0 mm cannot be"),
        (["--pass", 5, "--width", "95 mm"], "--width: 95 mm cannot be: the stock is 92 mm there"),
        (["--pass", 5, "--width", "nan mm"], "--width: 'nan mm' is not a number and a unit"),
        (["--pass", 5, "--width", "51.9"], "--width: '51.9' has no unit"),
        (["--pass", 5, "--depth", "22.5 mm"], "--depth: 22.5 mm cannot be"),
        (["--pass", 5, "--width", "51 mm", "--width-accuracy", "0 mm"], "--width-accuracy: 0 mm is out of range"),
        (["--pass", 5, "--width", "51.9 mm", "--flat", "60 mm"], "--flat: 60 mm beside a cove 51.9 mm wide"),
        (["--pass", 5, "--width", "51.9 mm", "--depth", "1 mm"], "--width: no fence angle gives 51.9 mm"),
        (["--pass", 5, "--width", "51 mm", "--pass", 5, "--depth", "9 mm"], "--pass: pass 5 is named twice"),
        (["--pass", 5, "--points", "none.csv"], "none.csv: there is no such file"),
        (["--pass", 5, "--points", SCENES / "measured-offcut.csv"], "--points: they are no outline of this blade"),
        (["--pass", 5, "--width", "51 mm", "--setup", "x"], "--setup: the scene has one set-up alone"),
    ],
)
def test_what_cannot_have_been_measured_is_refused_in_one_sentence(tmp_path, words, says):
    """Which option, what is wrong, what to write; status 2."""
    run = sweep_here("correct", CORNICE, *words, folder=tmp_path)

    assert run.returncode == 2
    assert says in run.stderr.decode()
    assert run.stderr.count(b"\n") == 1 and run.stdout == b""


def test_a_depth_that_only_a_larger_blade_cuts_is_refused_and_one_near_it_answered(tmp_path):
    """A blade of 60 mm cuts no deeper than its radius, wherever its last pass would come if nothing is moved."""
    text = CORNICE.read_text().replace('"254 mm"', '"60 mm"').replace('"22.5 mm"', '"40 mm"')
    (tmp_path / "small.toml").write_text(text[: text.index("[target]")])
    runs = [
        sweep_here("correct", "small.toml", "--pass", 2, "--depth", depth, "--json", folder=tmp_path)
        for depth in ("28 mm", "35 mm")
    ]

    assert json.loads(runs[0].stdout)["if_left"]["depth_mm"] == pytest.approx(29.4)
    assert runs[1].returncode == 2
    assert b"--depth: 35 mm is deeper than this blade cuts, 29.4 mm" in runs[1].stderr


@pytest.mark.parametrize(
    ("scene", "words", "says"),
    [
        ("base-of-two-coves", [], "--setup: the scene has several; write one of large cove, small cove"),
        ("base-of-two-coves", ["--setup", "3"], "setups, number 3: it is a rip"),
        ("off-the-edge", [], "setup: after pass 1 the cove has no flat on both sides"),
        ("ogee-crown", [], "setups: they are still to be found"),
    ],
)
def test_what_tells_nothing_is_refused(tmp_path, scene, words, says):
    """Set-ups that are not named, no coves, without flats, or not there yet."""
    run = sweep_here("correct", SCENES / f"{scene}.toml", "--pass", 1, "--depth", "3 mm", *words, folder=tmp_path)

    assert run.returncode == 2
    assert says in run.stderr.decode()
