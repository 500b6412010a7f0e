"""Edits tried together: what cannot be is left out and blamed rightly, and all else is done."""

from __future__ import annotations

import itertools
import tomllib

import pytest
from demos import CORNICE, SCENES, cornice_in_passes

from sweep.errors import SceneError
from sweep.live import answers
from sweep.live.standing import forms_of, stand
from sweep.live.trial import path_of, tried
from sweep.scene.edits import Edit
from sweep.scene.read import scene_from
from sweep.tolerance import AS_DRAGGED

DATA = tomllib.loads(CORNICE.read_text())


def outcome(*texts: tuple[str, str]) -> tuple[dict, set[str]]:
    """The tables that came of typed texts, and the paths of those that were left out."""
    trial = tried(DATA, [Edit(path=path, value=text) for path, text in texts], lambda data: scene_from(data, SCENES))
    return trial.data, {one.edit.path for one in trial.refused}


GOOD = [("stock.width", "90"), ("setup.fence_angle", "29"), ("passes.feed_speed", "3")]
BAD = [("blade.kerf", "wide"), ("saw.speed", "2 kg"), ("stock.species", "x" * 90), ("target.shape", "square")]
ORDERS = list(itertools.permutations([*GOOD, *BAD]))[::504]


@pytest.mark.parametrize("order", ORDERS)
def test_every_wrong_edit_is_left_out_and_every_right_one_done_in_any_order(order):
    """Seven edits, four of them wrong."""
    data, refused = outcome(*order)

    assert refused == {path for path, _ in BAD}
    assert (data["stock"]["width"], data["setup"]["fence_angle"]) == ("90 mm", "29 deg")
    assert data["passes"]["feed_speed"] == "3 m/min"
    assert {name: data[name] for name in ("blade", "saw", "target")} == {n: DATA[n] for n in ("blade", "saw", "target")}


def test_a_table_is_begun_once_all_that_it_needs_is_typed():
    """Until then each text waits, whatever came first."""
    texts = [("panel.species", "oak"), ("panel.width", "300"), ("panel.moisture", "6; 12")]
    texts.append(("panel.moisture_at_fitting", "9"))
    for count in range(1, 4):
        data, refused = outcome(*texts[:count])
        assert ("panel" in data, len(refused)) == (False, count)
    data, refused = outcome(*texts)

    assert refused == set()
    assert data["panel"]["moisture"] == ["6 %", "12 %"]


def test_without_any_edit_a_scene_that_cannot_be_is_refused_as_it_is():
    """There is nothing to leave out."""
    with pytest.raises(SceneError, match="it is missing"):
        tried({"stock": {}}, [], scene_from)


def test_a_shaped_cutter_has_no_field_for_a_kerf_and_all_else_of_it_is_changed(tmp_path):
    """Its profile says how wide it is."""
    text = cornice_in_passes("16 mm").replace('diameter = "254 mm"', "profile = [[-6, 60], [0, 66], [6, 60]]")
    for old, new in (('kerf = "3.2 mm"\n', ""), ('tip = "flat"\n', ""), ("teeth = 40", "teeth = 4")):
        assert old in text
        text = text.replace(old, new)
    (tmp_path / "shaped.toml").write_text(text)
    now = answers.opened(tmp_path / "shaped.toml", None)
    trial, units = stand(now, {}, [Edit(path="setup.fence_angle", value="30")], AS_DRAGGED, None, ordered=True)
    forms = forms_of(now, trial, units)

    assert (trial.refused, trial.data["setup"]["fence_angle"]) == ((), "30 deg")
    assert 'data-path="blade.teeth"' in forms
    assert 'data-path="blade.kerf"' not in forms


@pytest.mark.parametrize(
    ("field", "path"),
    [
        ("setup.blade_height", "setup.blade_height"),
        ("finish, number 2", "finish.1"),
        ("finish.radius, number 2", "finish.1.radius"),
        ("setups.blade_height, number 1", "setups.0.blade_height"),
        ("passes.heights, number 3", "passes.heights.2"),
        ("", ""),
    ],
)
def test_a_complaint_leads_to_its_place(field, path):
    """As errors name fields."""
    assert path_of(field) == path


def test_what_a_run_refuses_of_an_order_is_left_out_and_told_where_it_stands(tmp_path):
    """By an edit it is refused like any other; in the file it is told, and all else can be changed."""
    scene = tmp_path / "rail.toml"
    scene.write_text((SCENES / "picture-rail.toml").read_text())
    now, moved = answers.opened(scene, None), Edit(path="setup.offset", value="1/8")
    for wrong in (Edit(path="passes.stop", value="10 in"), Edit(path="stock.length", value="20 in")):
        trial, _ = stand(now, {}, [wrong, moved], AS_DRAGGED, None, ordered=True)
        assert [one.edit for one in trial.refused] == [wrong]
        assert trial.data["setup"]["offset"] == "1/8 in"

    scene.write_text(scene.read_text().replace("[passes]", '[passes]\nstop = "10 in"'))
    now = answers.opened(scene, None)
    trial, units = stand(now, {}, [moved], AS_DRAGGED, None, ordered=True)
    assert (trial.refused, trial.data["setup"]["offset"]) == ((), "1/8 in")
    assert "let every pass go through. It is shown without it." in forms_of(now, trial, units)
