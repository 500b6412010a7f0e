"""Settings laid over a scene: only what is changed changes, and the passes follow the blade's height."""

from __future__ import annotations

import copy
import tomllib

import pytest
import tomlkit
from demos import CORNICE, SCENES
from hypothesis import given
from hypothesis import strategies as st

from sweep.errors import SceneError
from sweep.plan.complete import complete
from sweep.scene.changes import changed
from sweep.scene.read import read_scene, scene_from
from sweep.scene.write import completed_text, revised_text
from sweep.units import Units

TEXT = (CORNICE).read_text()
DATA = tomllib.loads(TEXT)


def test_the_tables_given_are_left_as_they_were():
    """What is returned is a copy."""
    before = copy.deepcopy(DATA)
    changed(DATA, {"setup.fence_angle": "31 deg", "setup.blade_height": "9 mm"})

    assert before == DATA


@given(st.floats(2.5, 21.0).map(lambda height: round(height, 2)))
def test_a_new_height_keeps_the_passes_below_it_and_ends_with_it(height):
    """Text for text; and the scene fits together."""
    after = changed(DATA, {"setup.blade_height": f"{height} mm"})
    heights = after["passes"]["heights"]

    assert heights[-1] == f"{height} mm"
    assert heights[:-1] == [text for text in DATA["passes"]["heights"][:-1] if float(text.split()[0]) < height]
    assert scene_from(after).setup.blade_height == height


def test_stops_go_with_their_passes():
    """A list of stops loses those of the passes that fall away; the last pass keeps its own."""
    data = copy.deepcopy(DATA)
    data["passes"]["stop"] = ["through", "through", "through", "300 mm", "310 mm", "320 mm", "330 mm", "340 mm"]
    after = changed(data, {"setup.blade_height": "10 mm"})

    assert after["passes"]["heights"] == ["2.4 mm", "4.8 mm", "7 mm", "9 mm", "10 mm"]
    assert after["passes"]["stop"] == ["through", "through", "through", "300 mm", "340 mm"]
    assert scene_from(after).passes.stops == (None, None, None, 300.0, 340.0)


@pytest.mark.parametrize("key", ["target.file", "stock.length", "setup", "nothing.at.all"])
def test_nothing_else_can_be_changed(key):
    """In one sentence that names the key."""
    with pytest.raises(SceneError, match="cannot be changed here"):
        changed(DATA, {key: "1 mm"})


@pytest.mark.parametrize("style", ["mm", "in"])
def test_of_several_blades_the_one_in_use_is_changed(style):
    """In a scene that was completed first: the others, comments and order stay."""
    path = SCENES / "arc-from-drawing.toml"
    scene = complete(read_scene(path)).scene
    whole = completed_text(path.read_text(), scene, Units(style))
    after = revised_text(whole, {"blade.kerf": "2 mm", "passes.feed_speed": "1.5 m/min"})
    one, other = tomlkit.parse(whole), tomlkit.parse(after)
    kerfs = {blade["name"]: blade["kerf"] for blade in other["blades"]}

    assert kerfs.pop(scene.blade.name) == "2 mm"
    assert kerfs == {b["name"]: b["kerf"] for b in one["blades"] if b["name"] != scene.blade.name}
    assert other["passes"]["feed_speed"] == "1.5 m/min"
    assert [line for line in whole.splitlines() if line.lstrip().startswith("#")] == [
        line for line in after.splitlines() if line.lstrip().startswith("#")
    ]
    assert len(whole.splitlines()) == len(after.splitlines())


def test_no_change_writes_the_text_back_as_it_was():
    """Byte for byte."""
    assert revised_text(TEXT, {}) == TEXT


@pytest.mark.parametrize("heights", [[], ["x", "9 mm"], "9 mm", [["3 mm"], "9 mm"]])
def test_heights_that_are_none_are_refused_with_a_new_blade_height_as_without(heights):
    """By the sentence about the heights."""
    with pytest.raises(SceneError, match=r"passes\.heights"):
        scene_from(changed(DATA, {"passes.heights": heights, "setup.blade_height": "10 mm"}))
