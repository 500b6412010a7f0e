"""The schema of a scene: valid as a schema, takes what is read, refuses what is refused for its form."""

from __future__ import annotations

import json
import re
import tomllib
from functools import cache

import jsonschema
import pytest
from demos import SCENES, cornice_with
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer
from typed import show_quantity

from sweep.quantity import read_quantity
from sweep.scene.schema import scene_schema
from sweep.scene.written import pattern
from sweep.units import ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME, Kind

KINDS = [ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME]


@pytest.fixture(scope="module")
def checker() -> jsonschema.Draft202012Validator:
    """The schema as it comes out of JSON."""
    return jsonschema.Draft202012Validator(json.loads(json.dumps(scene_schema())))


def test_it_is_a_schema(checker):
    """Held to the metaschema of draft 2020-12 (json-schema.org)."""
    jsonschema.Draft202012Validator.check_schema(checker.schema)


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_demo_scene_is_taken(checker, path):
    """What the program reads, an editor takes."""
    checker.validate(tomllib.loads(path.read_text()))


@pytest.mark.parametrize(
    ("section", "key", "value"),
    [
        ("setup", "blade_height", "16"),
        ("blade", "teeth", 0),
        ("passes", "feed_speed", "2 mm"),
        ("target", "width", 60),
        ("blade", "max_speed", "fast"),
    ],
)
def test_what_is_wrong_is_marked_at_its_own_key(checker, section, key, value):
    """Sections and keys that may be left out are not said to be 'none of' what they may be: TOML has no null."""
    scene = tomllib.loads((SCENES / "corner-cupboard-cornice.toml").read_text())
    scene[section][key] = value

    assert [list(wrong.path) for wrong in checker.iter_errors(scene)] == [[section, key]]
    assert '"null"' not in json.dumps(checker.schema)


@pytest.mark.parametrize(
    ("section", "values"),
    [
        ("stock", {"lenght": "3 mm"}),
        ("stock", {"length": 900}),
        ("stock", {"length": "900"}),
        ("stock", {"length": "900 deg"}),
        ("blade", {"teeth": 4.5}),
        ("blade", {"tip": "round"}),
        ("passes", {"heights": []}),
        ("passes", {"heights": "16 mm"}),
        ("passes", {"stop": "soon"}),
        ("target", {"points": [[1, 2, 3]]}),
        ("saw", {"tilts": ["0 deg"]}),
        ("finish", [{"do": "rip"}]),
        ("blades", [{"teeth": 40, "name": "another", "diameter": "254 mm", "kerf": "3 mm"}]),
    ],
)
def test_what_is_refused_for_its_form_is_refused_by_the_schema_too(checker, section, values):
    """An editor marks it before the program is run."""
    table = cornice_with()
    table[section] = table.get(section, {}) | values if isinstance(values, dict) else values

    with pytest.raises(jsonschema.ValidationError):
        checker.validate(table)


@cache
def spelled_as(kind: Kind) -> st.SearchStrategy[str]:
    """Text made from a kind's pattern, which is taken apart once."""
    return st.from_regex(pattern(kind), fullmatch=True)


@st.composite
def spelled(draw: st.DrawFn) -> tuple[Kind, str]:
    """A kind of quantity, and text made from its pattern."""
    kind = draw(st.sampled_from(KINDS))
    return kind, draw(spelled_as(kind))


@fewer(1 / 8)
@given(spelled(), st.floats(-3000, 3000))
def test_the_pattern_of_a_quantity_takes_only_what_is_read(written, value):
    """Text made from it, as long as it may be, is read or its figures are at fault; and it takes what is shown."""
    kind, text = written
    if len(text) <= 60 and not re.search(r"[^\x20-\x7e°]", text):
        try:
            read_quantity(text, kind)
        except ValueError as wrong:
            assert re.search("divides by zero|more than 1 after|can be read as|no finite", str(wrong))
    for inches in (False, True):
        assert re.search(pattern(kind), show_quantity(value, kind, inches))
