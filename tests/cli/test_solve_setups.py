"""`sweep solve` for a whole moulding: the curve, the set-ups, and the scene that they are written into."""

from __future__ import annotations

import json
import shutil

import pytest
from demos import SCENES
from jsonschema import Draft202012Validator
from terminal import sweep_here

from sweep.plan.several import solve
from sweep.scene.read import read_scene
from sweep.show.say.numbers.choice import SetupsAnswer
from sweep.show.say.numbers.model import schema_of


@pytest.fixture(scope="module")
def crown(tmp_path_factory):
    """The ogee crown solved once, written with its set-ups, and the answer in numbers."""
    folder = tmp_path_factory.mktemp("crown")
    for name in ("ogee-crown.toml", "ogee-crown.csv"):
        shutil.copy(SCENES / name, folder)
    found = []

    def once(scene):
        found.append(found[0] if found else real(scene))
        return found[0]

    real = solve.solve_setups
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sweep.solve_setups.solve_setups", once)
        printed = sweep_here("solve", "ogee-crown.toml", "--write=solved.toml", folder=folder)
        answered = sweep_here("solve", "ogee-crown.toml", "--json", folder=folder)
    return folder, printed, json.loads(answered.stdout)


def test_the_crowns_set_ups_are_found_and_all_have_enough_to_ride_on(crown):
    """Nine tenths of the waste in four set-ups, which are marked as the choice."""
    _, printed, answer = crown
    chosen = next(row for row in answer["curve"] if row["chosen"])

    assert printed.returncode == 0, printed.stderr
    assert max(len(line) for line in printed.stdout.decode().splitlines() if "  " in line) <= 80
    assert b"> 4" in printed.stdout and b"not permission to cut" in printed.stdout
    assert chosen["setups"] == 4 and chosen["waste_share"] > 0.9 and chosen["proven"]
    assert [row["waste_share"] for row in answer["curve"]] == sorted(row["waste_share"] for row in answer["curve"])
    assert sum(one["seconds"] for one in answer["setups"]) == pytest.approx(chosen["seconds"])
    assert [one["unsupported_mm"] for one in answer["setups"]] == [0.0] * len(answer["setups"])
    Draft202012Validator(json.loads(schema_of(SetupsAnswer))).validate(answer)


def test_the_set_ups_are_written_with_comments_kept_and_read_as_they_were_found(crown):
    """To the last digit that is written."""
    folder, _, answer = crown
    text = (folder / "solved.toml").read_text()
    scene = read_scene(folder / "solved.toml")

    assert text.startswith((SCENES / "ogee-crown.toml").read_text().rstrip("\n"))
    assert not scene.lacks_setups
    for read, told in zip(scene.setups, answer["setups"], strict=True):
        assert (read.do, read.blade, read.face, read.ends) == tuple(
            told[key] for key in ("do", "blade", "face", "ends")
        )
        for name in ("blade_height", "offset", "at", "width"):
            if getattr(read, name, None) is not None and told[f"{name}_mm"] is not None:
                assert getattr(read, name) == pytest.approx(told[f"{name}_mm"], abs=1e-4)


def test_where_the_set_ups_are_written_one_sentence_says_that_none_is_to_be_worked_out(tmp_path):
    """What may be written instead, and nothing is made."""
    shutil.copy(SCENES / "coved-panel-edge.toml", tmp_path)
    done = sweep_here("solve", "coved-panel-edge.toml", "--write=new.toml", folder=tmp_path)

    assert done.returncode == 2 and done.stdout == b"" and not (tmp_path / "new.toml").exists()
    assert b"setups: they are written" in done.stderr and b"sweep run" in done.stderr
    assert done.stderr.count(b"error:") == 1
