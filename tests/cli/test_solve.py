"""`sweep solve` and scenes that are not complete, as a stranger meets them."""

from __future__ import annotations

import json

import pytest
from demos import SCENES
from terminal import sweep_here, told_here


@pytest.mark.parametrize(("name", "status"), [("arc-from-drawing", 0), ("leaning-cove", 0), ("out-of-reach", 1)])
def test_a_scene_without_a_set_up_is_solved_and_cut(tmp_path, told, name, status):
    """The same figures from `solve` and from `run`, the exit status of the README, and no word of nothing left."""
    solved = sweep_here("solve", SCENES / f"{name}.toml", folder=tmp_path)
    run, folder = told(name)
    result = json.loads((folder / "result.json").read_text())

    assert (solved.returncode, run.returncode) == (status, status), solved.stderr + run.stderr
    assert f"{result['setup']['fence_angle_deg']:.3f}" in solved.stdout.decode()
    assert b"Dense check" in solved.stdout and b"Nothing is left to work out" not in solved.stdout
    assert b"not permission to cut" in solved.stdout
    assert solved.stdout.decode().splitlines()[1:4] == run.stdout.decode().splitlines()[1:4]


def test_what_was_found_is_written_and_runs_to_the_same_end(tmp_path, told):
    """--write to a file of its own, then run that."""
    source = SCENES / "arc-from-drawing.toml"
    assert sweep_here("solve", source, "--write=mine.toml", folder=tmp_path).returncode == 0
    assert told_here("mine.toml", folder=tmp_path).returncode == 0
    mine, theirs = (
        json.loads((folder / "result.json").read_text())
        for folder in (tmp_path / "out" / "mine", told("arc-from-drawing")[1])
    )

    assert mine["check"]["max_deviation_mm"] == pytest.approx(theirs["check"]["max_deviation_mm"], abs=1e-3)
    assert len(mine["passes"]) == len(theirs["passes"])


def test_write_without_a_name_completes_the_scene_itself(tmp_path):
    """In place, keeping its comments."""
    scene = tmp_path / "scene.toml"
    scene.write_text((SCENES / "arc-from-drawing.toml").read_text())
    assert sweep_here("solve", "scene.toml", "--write", folder=tmp_path).returncode == 0

    assert "# the smallest rim comes closest to an arc" in scene.read_text()
    assert "[passes]" in scene.read_text()
    assert [path.name for path in tmp_path.iterdir()] == ["scene.toml"]


def test_a_scene_with_nothing_left_out_says_so(tmp_path):
    """And all is well with it, target or none."""
    for name in ("corner-cupboard-cornice", "off-the-edge"):
        ended = sweep_here("solve", SCENES / f"{name}.toml", folder=tmp_path)
        assert ended.returncode == 0
        assert b"Nothing is left to work out" in ended.stdout


def test_a_cove_out_of_reach_ends_in_one_sentence_and_status_2(tmp_path):
    """Which limit, and the nearest; nothing is written."""
    text = (SCENES / "out-of-reach.toml").read_text()
    (tmp_path / "wide.toml").write_text(text.replace('"arc"', '"cove"').replace('"36 mm"', '"200 mm"'))
    for command in ("solve", "run"):
        run = sweep_here(command, "wide.toml", folder=tmp_path)

        assert run.returncode == 2
        assert run.stderr.startswith(b"error: target.width: no blade of the scene cuts a cove 200 mm wide")
        assert [path.name for path in tmp_path.iterdir()] == ["wide.toml"]
