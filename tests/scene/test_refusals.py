"""Refusals in the notation in which their field is written, or the stock's length where the field does not tell."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from demos import SCENES, cornice_with

import sweep
from sweep.errors import SceneError
from sweep.scene.notation import field_in_inches, field_of_file_in_inches, text_in_inches
from sweep.scene.read import scene_from


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("1/4 in", True),
        ("3 ½ in", True),
        ('2 1/2"', True),
        ("4 ft", True),
        ("12 ft/min", True),
        ("1.75 hp", True),
        ("20 lbf", True),
        ("0.2 in^2", True),
        ("35 lb/ft3", True),
        ("16 mm", False),
        ("2 m/min", False),
        ("1.3 kW", False),
        ("130 mm^2", False),
        ("28 deg", None),
        ("12 %", None),
        ("through", None),
        ("3 thousand", None),
        (16, None),
        (None, None),
    ],
)
def test_a_quantity_tells_whether_it_is_written_in_inches(text, inches):
    """Angles, shares and words tell nothing."""
    assert text_in_inches(text) is inches


@pytest.mark.parametrize(
    ("field", "inches"),
    [
        ("stock.length", True),
        ("setup.blade_height", False),
        ("setup.fence_angle", True),  # does not tell: as the stock's length
        ("setup.offset", True),  # is not there
        ("passes.heights, number 2", True),
        ("passes.heights, number 1", False),
        ("passes.heights, number 9", True),
        ("passes.heights", False),  # the first that tells
        ("finish, number 1", False),
        ("finish.radius, number 2", True),  # one of several tables
        ("finish.at, number 1", False),
        ("no.such.field", True),
        ("--out", True),
        ("", True),
    ],
)
def test_a_field_is_looked_up_where_it_stands(field, inches):
    """In a mixed scene, each in its own notation."""
    scene = {
        "stock": {"length": "36 in"},
        "setup": {"blade_height": "16 mm", "fence_angle": "28 deg"},
        "passes": {"heights": ["8 mm", "5/8 in"]},
        "finish": [{"do": "rip", "at": "3 mm"}, {"radius": "1/8 in"}],
    }

    assert field_in_inches(scene, field) is inches


def test_a_file_that_is_no_scene_is_answered_in_mm(tmp_path):
    """Whatever is wrong with it."""
    (tmp_path / "bad.toml").write_text("[")

    assert field_of_file_in_inches(tmp_path / "bad.toml", "stock.length") is False
    assert field_of_file_in_inches(tmp_path / "none.toml", "stock.length") is False
    assert field_of_file_in_inches(SCENES / "picture-rail.toml", "setup") is True
    assert field_in_inches({}, "stock") is False


@pytest.mark.parametrize(
    ("section", "values", "says"),
    [
        (
            "setup",
            {"blade_height": "80 mm"},
            "setup.blade_height: 3.15 in is more than the saw can raise it, 3 in; write at most that.",
        ),
        ("stock", {"length": "800 in"}, "stock.length: '800 in' is more than 780 in; write at most that."),
        (
            "passes",
            {"stop": "48 in"},
            'passes.stop: 48 in is more than the stock\'s length, 35.43 in; write at most that, or "through".',
        ),
        (
            "passes",
            {"heights": ["1/2 in", "1/4 in"]},
            "passes.heights: pass 2 at 1/4 in is lower than pass 1 at 1/2 in; write heights that rise from pass to "
            "pass.",
        ),
        ("saw", {"slots": ["1 ft 2 km"]}, None),
        (
            "order",
            {"lengths": []},
            'order: nothing is ordered; write either lengths = ["48 in"] or rectangle = ["24 in", "13 in"].',
        ),
        ("blade", {"kerf": None}, 'blade.kerf: it is missing; write, for example, kerf = "1/8 in".'),
    ],
)
def test_a_refusal_in_inches_says_every_figure_in_inches(section, values, says):
    """No mm are left in it."""
    table = cornice_with()
    table["saw"] |= {"max_height": "3 in"}
    table[section] = table.get(section, {}) | values
    with pytest.raises(SceneError) as wrong:
        scene_from(table)
    told = wrong.value.sentence(inches=True)

    assert says is None or told == says
    assert says is None or " mm" not in told


def test_nothing_above_the_doors_words_a_length_or_splits_a_sentence():
    """Figures travel as figures, problem and remedy apart, from scene to plan."""
    package = Path(sweep.__file__).parent
    for folder in ("scene", "shape", "cut", "check", "plan"):
        for path in sorted((package / folder).rglob("*.py")):
            text = path.read_text()
            assert 'partition("; ")' not in text, path
            assert re.findall(r"\{[^{}]*:[^{}]*[gf]\} (?:mm|in)\b", text) == [], path
