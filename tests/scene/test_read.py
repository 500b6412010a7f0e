"""Scenes as people write them: what is read, and what is refused in one sentence that names the field."""

from __future__ import annotations

import copy
import math
import tomllib
from pathlib import Path

import pytest

from sweep.errors import SceneError
from sweep.scene.read import read_chord, read_scene, scene_from

SCENES = Path(__file__).parents[2] / "scenes"
CORNICE = tomllib.loads((SCENES / "corner-cupboard-cornice.toml").read_text())


def changed(place: str, value: object) -> dict:
    """The demo scene with one value changed, or with None taken out."""
    table = copy.deepcopy(CORNICE)
    *path, key = place.split(".")
    inner = table
    for part in path:
        inner = inner.setdefault(part, {})
    if value is None:
        del inner[key]
    else:
        inner[key] = value
    return table


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_demo_scene_is_read(path):
    """What the README offers works."""
    assert read_scene(path).title


def test_values_are_held_in_mm_radians_and_seconds():
    """One set of units inside."""
    scene = scene_from(CORNICE)

    assert scene.stock.length == 900.0
    assert scene.setup.fence_angle == pytest.approx(math.radians(28))
    assert scene.passes.feed_speed == pytest.approx(2000 / 60)
    assert scene.saw.motor == pytest.approx(1300.0)
    assert scene.passes.stops == (None,) * 8


def test_points_are_read_from_the_csv_file_beside_the_scene():
    """The first line of words and comments are passed over."""
    scene = read_scene(SCENES / "tilted-cove.toml")

    assert len(scene.target.points) == 29
    assert scene.target.points[0] == (-31.3, 0.0)


@pytest.mark.parametrize(
    ("place", "value", "says"),
    [
        ("stock.lenght", "3 mm", "stock.lenght: there is no such key; the nearest known key is length"),
        ("foo", 3, "foo: there is no such key; known here are"),
        ("limits.rize", "1 mm", "limits.rize: there is no such key; the nearest known key is rise"),
        ("stock.length", 30, 'stock.length: 30 has no unit; write "16 mm"'),
        ("stock.length", "-3 mm", "stock.length: '-3 mm' is less than 10 mm"),
        ("stock.length", "0 mm", "stock.length: '0 mm' is less than 10 mm"),
        ("stock.length", "nan mm", "stock.length: 'nan mm' is not a number and a unit"),
        ("stock.length", float("nan"), "stock.length: nan has no unit"),
        ("stock.length", "1e300 mm", "stock.length: '1e300 mm' is more than 20000 mm"),
        ("stock.width", "3 deg", "stock.width: '3 deg' has the unit 'deg', which is not a unit of length"),
        ("stock.width", None, "stock.width: it is missing"),
        ("saw", None, "saw: it is missing"),
        ("stock", 3, "stock: this is not what belongs here; write a table"),
        ("blade.teeth", 0, "blade.teeth: 0 is out of range"),
        ("blade.teeth", 4.5, "blade.teeth: this is not what belongs here; write a whole number"),
        ("blade.tip", "round", "blade.tip: 'round' is not known here; write 'flat' or 'alternate bevel'"),
        ("blade.bevel", "10 deg", "blade.bevel: flat tips have none"),
        ("blade.tip", "alternate bevel", "blade.bevel: it is missing"),
        ("blade.kerf", None, "blade.kerf: it is missing"),
        ("blade.kerf", "130 mm", "blade.kerf: it is wider than the blade's radius"),
        ("blade.profile", [[0, 50], [3, 50]], "blade.diameter: the profile already says it"),
        ("setup.fence_angle", "0 deg", "setup.fence_angle: '0 deg' is less than 0.1 deg"),
        ("setup.fence_angle", "95 deg", "setup.fence_angle: '95 deg' is more than 90 deg"),
        ("setup.blade_tilt", "46 deg", "setup.blade_tilt: '46 deg' is more than 45 deg"),
        ("setup.blade_height", "127 mm", "setup.blade_height: 127 mm would bring the blade's centre up to the table"),
        ("setup.blade_height", "15 mm", "passes.heights: the last pass is at 16 mm and setup.blade_height is 15 mm"),
        ("passes.heights", ["3 mm", "2 mm"], "passes.heights: pass 2 at 2 mm is lower than pass 1 at 3 mm"),
        ("passes.heights", "3 mm", "passes.heights: this is not what belongs here; write a list"),
        ("passes.heights", [], "passes.heights: it has too few or too many entries"),
        ("passes.heights", ["3 mm", "x"], "passes.heights, number 2: 'x' is not a number and a unit"),
        ("passes.stop", "soon", "passes.stop: 'soon' is not a number and a unit"),
        ("passes.stop", "-3 mm", "passes.stop: '-3 mm' is less than 1 mm"),
        ("passes.stop", ["3 mm", "3 mm"], "passes.stop: 2 stops for 8 heights"),
        ("passes.stop", "10 m", "passes.stop: 1e+04 mm is more than the stock's length"),
        ("target.width", None, "target.width: it is missing"),
        ("target.shape", "points", "target.width: the points already say it"),
        ("target.points", [[0, 0], [1, 1], [2, 0]], 'target.points: a target of shape "cove" has none'),
    ],
)
def test_what_cannot_be_used_is_refused_naming_the_field(place, value, says):
    """One sentence: which field, what is wrong, what to write instead."""
    with pytest.raises(SceneError) as wrong:
        scene_from(changed(place, value))

    assert str(wrong.value).startswith(says)
    assert str(wrong.value).count("\n") == 0


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([[0, 0], [1, 1]], "fewer than three points"),
        ([[0, 0], [-1, 1], [2, 0]], "y falls from one point to the next"),
        ([[0, 0], [1, -1], [2, 0]], "below the face of the stock"),
        ([[0, 0], [1, float("nan")], [2, 0]], "out of range"),
        ([[0, 0], [1, 1, 1], [2, 0]], "too few or too many"),
    ],
)
def test_points_that_make_no_profile_are_refused(points, says):
    """In order, above the face, finite, and enough of them."""
    table = changed("target", {"shape": "points", "points": points})

    with pytest.raises(SceneError, match=says):
        scene_from(table)


def test_an_arc_deeper_than_half_a_circle_is_refused():
    """Chord and depth no longer say which arc is meant."""
    with pytest.raises(SceneError, match="at most half as deep as it is wide"):
        scene_from(changed("target", {"shape": "arc", "width": "20 mm", "depth": "11 mm"}))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "the file is empty"),
        (b"  \n", "the file is empty"),
        (b"stock = [", "this is not TOML"),
        (b"\0" * 10_000_000, "larger than 1 MB"),
        (b"\0" * 100, "this is not text"),
        (b"\xff\xfe\x00", "this is not text in UTF-8"),
        (b"[" * 100_000, "this is not TOML"),
        (b"title = 'x'", "stock: it is missing"),
    ],
)
def test_a_file_that_is_no_scene_is_refused(tmp_path, content, says):
    """Whatever is in it, one sentence comes out."""
    path = tmp_path / "scene.toml"
    path.write_bytes(content)

    with pytest.raises(SceneError, match=says):
        read_scene(path)


def test_a_missing_file_and_a_folder_are_refused(tmp_path):
    """They name the path."""
    with pytest.raises(SceneError, match="there is no such file"):
        read_scene(tmp_path / "none.toml")
    with pytest.raises(SceneError, match="this is not a file"):
        read_scene(tmp_path)


@pytest.mark.parametrize(
    ("content", "says"),
    [("1,2\n3\n", "point 2 is '3'"), ("y,z\n1,2\na,b\n", "point 3 is 'a,b'"), ("", "fewer than three")],
)
def test_a_csv_file_that_holds_no_points_is_refused(tmp_path, content, says):
    """The line is named."""
    (tmp_path / "points.csv").write_text(content)
    table = changed("target", {"shape": "points", "file": "points.csv"})

    with pytest.raises(SceneError, match=says):
        scene_from(table, tmp_path)


@pytest.mark.parametrize("text", ["5", "0 mm", "2 mm", "x"])
def test_a_chord_tolerance_that_makes_no_sense_is_refused(text):
    """Between 0.0001 and 1 mm."""
    with pytest.raises(SceneError, match="--chord"):
        read_chord(text)
