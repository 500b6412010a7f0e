"""Scenes as people write them: what is read, and what is refused in one sentence that names the field."""

from __future__ import annotations

import math
import re

import pytest
from demos import SCENES, cornice_with

from sweep.errors import SceneError
from sweep.scene.read import read_chord, read_scene, scene_from


def changed(place: str, value: object) -> dict:
    """The demo scene with one value changed, or with None taken out."""
    table = cornice_with()
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
    scene = scene_from(cornice_with())

    assert scene.stock.length == 900.0
    assert scene.setup.fence_angle == pytest.approx(math.radians(28))
    assert scene.passes.feed_speed == pytest.approx(2000 / 60)
    assert scene.saw.motor == pytest.approx(1300.0)
    assert scene.passes.stops == (None,) * 8


def test_points_are_read_from_the_csv_file_beside_the_scene():
    """The first line of words and comments are passed over."""
    scene = read_scene(SCENES / "tilted-cove.toml")

    assert len(scene.target.points) == 30
    assert scene.target.points[0] == (-31.4, 0.0)


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
        ("stock.width", "3 deg", "stock.width: '3 deg' has the unit 'deg', which is no unit of length"),
        ("stock.width", None, "stock.width: it is missing"),
        ("saw", None, "saw: it is missing; `sweep keys saw` shows how to write it."),
        (
            "passes.heights",
            None,
            "passes.heights: it is missing; `sweep keys passes` shows how to write it, or leave [passes] out",
        ),
        ("stock", 3, "stock: this is not what belongs here; write a table"),
        ("blade.teeth", 0, "blade.teeth: 0 is less than 1; write at least that"),
        ("blade.teeth", 501, "blade.teeth: 501 is more than 500; write at most that"),
        ("blade.teeth", True, "blade.teeth: this is not what belongs here; write a whole number"),
        ("blade.teeth", "40", "blade.teeth: this is not what belongs here; write a whole number"),
        ("saw.efficiency", True, "saw.efficiency: this is not what belongs here; write a number"),
        ("saw.efficiency", float("inf"), "saw.efficiency: inf is no number; write one in figures"),
        ("title", "x" * 201, "title: it is longer than 200 characters; write at most that many"),
        ("stock.species", "", "stock.species: it is empty; write at least 1 in it"),
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
        ("passes.heights", [], "passes.heights: it is empty; write at least 1 in it"),
        ("passes.heights", ["3 mm", "x"], "passes.heights, number 2: 'x' is not a number and a unit"),
        ("passes.stop", "soon", "passes.stop: 'soon' is not a number and a unit"),
        ("passes.stop", "-3 mm", "passes.stop: '-3 mm' is less than 1 mm"),
        ("passes.stop", ["3 mm", "3 mm"], "passes.stop: 2 stops for 8 heights"),
        ("passes.stop", "10 m", "passes.stop: 10000 mm is more than the stock's length"),
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
    "points",
    [[[0, 0], [-1, 2], [3, 4], [2, 0]], [[0, 0], [2, 3], [3, 3], [2, 1], [1, 0]], [[0, 0], [-1, 3], [2, 4], [1, 0]]],
)
def test_a_profile_may_overhang_its_edges(points):
    """On the left it first runs back, on the right at last: as a tilted blade cuts it."""
    target = scene_from(changed("target", {"shape": "points", "points": points})).target

    assert target.points == tuple((float(y), float(z)) for y, z in points)


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([[0, 0], [1, 1]], "fewer than three points"),
        ([[0, 0], [2, 1], [1, 2], [3, 0]], "at point 4 y rises again after it has fallen"),
        ([[0, 0], [1, 1], [0, 0]], "the last point is not to the right of the first"),
        ([[0, 0], [-4, 3], [3, 2], [-2, 1], [1, 0]], "at point 5 y rises again"),
        ([[0, 0], [-4, 4], [6, 3], [4, 5], [2, 1]], "the profile crosses itself"),
        ([[0, 0], [1, -1], [2, 0]], "below the face of the stock"),
        ([[0, 0], [1, float("nan")], [2, 0]], "nan is no number"),
        ([[0, 0], [1, 1, 1], [2, 0]], "there are more than 2 in it"),
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


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("width = 16 mm", 'line 2: 16 mm has no quotation marks; write width = "16 mm".'),
        ("width = 5/8 in  # wide", 'line 2: 5/8 in has no quotation marks; write width = "5/8 in".'),
        ("species = red oak", 'line 2: red oak has no quotation marks; write species = "red oak".'),
        ("heights = [3 mm, 6 mm]", "line 2: a quantity in the list has no quotation marks"),
        (
            "width = \N{LEFT DOUBLE QUOTATION MARK}16 mm\N{RIGHT DOUBLE QUOTATION MARK}",
            "line 2: its quotation marks are",
        ),
        ('width = "3 1/2""', """line 2: the mark of the inch ends the text; write "3 1/2 in", or '3 1/2"'."""),
        ('width = 3 1/2"', """line 2: 3 1/2" has no quotation marks; write width = '3 1/2"'."""),
        ("width: 16", "line 2: there is a colon after the key; write width = instead."),
        ('width = "16 mm', "line 2: a quotation mark has no other one"),
        ("[saw", "line 2: a bracket has no other one"),
        ('width = "16 mm"\nwidth = "17 mm"', "line 3: width stands twice in its table; leave one of them out."),
        ("[stock]", "line 2: [stock] stands twice; put its keys below the first."),
        ("width = " + "9" * 5000, "this is not TOML"),
        ("width = " + "x " * 200_000, "line 2: this is not TOML"),
    ],
)
def test_a_slip_in_toml_is_told_with_its_line_and_what_to_write(tmp_path, line, says):
    """In a maker's words where the slip is a usual one."""
    path = tmp_path / "scene.toml"
    path.write_text(f"[stock]\n{line}\n", encoding="utf-8")

    with pytest.raises(SceneError, match=re.escape(says)):
        read_scene(path)


@pytest.mark.parametrize(
    ("place", "value", "says"),
    [
        ("finish", {"do": "rip", "at": "0 mm"}, "finish: [finish] is one table; write [[finish]] above each"),
        ("blades", {"teeth": 40}, "blades: [blades] is one table; write [[blades]] above each"),
        ("stock", [{"length": "900 mm"}], "stock: it is a list of tables; write [stock] once"),
        ("setup.fence_angle", True, "setup.fence_angle: this is no angle"),
        ("order", {"lengths": []}, "order: nothing is ordered"),
        ("passes.heights", [], "passes.heights: it is empty; write at least 1 in it."),
        ("target.points", [], 'target.points: a target of shape "cove" has none'),
        ("saw.speed", "1e-320 rpm", "saw.speed: '1e-320 rpm' is less than 10 rpm"),
        ("setup.blade_height", "0.0005 mm", "setup.blade_height: '0.0005 mm' is less than 0.01 mm"),
        ("plan.turn", "1e999999999", "plan.turn: this is not a part of a turn"),
    ],
)
def test_slips_of_other_kinds_are_told_in_a_makers_words(place, value, says):
    """Brackets, empty lists, articles, numbers without end."""
    with pytest.raises(SceneError) as wrong:
        scene_from(changed(place, value))

    assert str(wrong.value).startswith(says)


@pytest.mark.parametrize("place", ["saw.speed", "blade.teeth", "saw.efficiency", "title", "blade.tip", "limits"])
def test_a_number_too_long_to_be_printed_is_refused(place):
    """TOML takes hexadecimal numbers of any length; Python prints none of more than 4300 figures."""
    with pytest.raises(SceneError, match=f"^{place}: "):
        scene_from(changed(place, 16**10_000))


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
