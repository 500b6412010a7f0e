"""What is made of a scene's tables: cut once, whatever is asked of it, as long as it reads the same."""

from __future__ import annotations

import json
from collections import Counter

import pytest
from demos import SCENES, cornice_in_passes

from sweep.live import answers, made
from sweep.live.asked import PageRequest


@pytest.fixture
def counted(monkeypatch):
    """How often a scene was cut, by its angle, none kept from before."""
    cut, cuts = made.simulate, Counter()

    def simulate(scene, fineness):
        cuts[round(scene.setup.fence_angle, 4)] += 1
        return cut(scene, fineness)

    made.judged.cache_clear()
    monkeypatch.setattr(made, "simulate", simulate)
    yield cuts
    made.judged.cache_clear()


def test_what_was_cut_is_not_cut_again_to_be_undone_watched_saved_or_taken_away(counted, tmp_path):
    """And what comes of it is what came of it before."""
    path = tmp_path / "mine.toml"
    path.write_text(cornice_in_passes("9 mm", "16 mm"))
    now, page = answers.page(path, None)

    def asked(**more):
        return PageRequest.model_validate({"version": now.version, "units": "mm", "changes": {}, **more})

    changes = {"setup.fence_angle": "30 deg"}
    moved = answers.cut(now, asked(edits=[{"path": "setup.fence_angle", "do": "type", "value": "30 deg"}]))
    undone = answers.cut(now, asked())
    assert answers.cut(now, asked(changes=changes)) == moved
    assert answers.page(path, None)[1] == page
    assert json.loads(undone)["model"]["set_up"] != json.loads(moved)["model"]["set_up"]
    for number in (1, 2):
        answers.feed(now, asked(changes=changes, **{"pass": number}))
    assert answers.file(now, asked(changes=changes), "finished.stl") != answers.file(now, asked(), "finished.stl")
    path.write_text(answers.revised(now, asked(changes=changes)))
    now, saved = answers.saved(path, None, asked())
    assert json.loads(saved)["forms"].count("30 deg")
    assert list(counted.values()) == [1, 1]


def test_points_that_changed_in_their_file_are_compared_anew(counted, tmp_path):
    """The scene's own text stands as it was."""
    for name in ("tilted-cove.toml", "tilted-cove.csv"):
        (tmp_path / name).write_text((SCENES / name).read_text())
    path = tmp_path / "tilted-cove.toml"
    before = answers.page(path, None)[1]
    points = tmp_path / "tilted-cove.csv"
    points.write_text(points.read_text().replace("-29.4,1.3", "-29.4,1.9"))
    assert answers.page(path, None)[1] != before
    assert list(counted.values()) == [2]
