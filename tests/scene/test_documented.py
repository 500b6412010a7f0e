"""What is told about the keys of a scene is what reading them does."""

from __future__ import annotations

import pytest
from demos import cornice_with
from pydantic import BaseModel

from sweep.errors import SceneError
from sweep.quantity import read_quantity
from sweep.scene.defaults import tables_in
from sweep.scene.documented import documented_keys
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.show.terminal.keys import keys_text
from sweep.units import ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME

KINDS = {kind.name: kind for kind in (ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME)}
LISTED = ("setups", "finish", "measured")
RANGED = [key for key in documented_keys() if key.kind in KINDS and key.section not in LISTED]
DEFAULTED = [key for key in documented_keys() if key.default is not None and key.section not in LISTED]
TABLES = cornice_with()
WITH = {  # what a section needs, or must not have, to be read at all
    "order": {"lengths": ["500 mm"]},
    "panel": {
        "species": "oak", "width": "300 mm", "moisture": ["6 %", "12 %"], "moisture_at_fitting": "8 %",
    },
}  # fmt: skip


def fields_of(model: type[BaseModel], section: str = "") -> set[str]:
    """Every key of the model, in a way of its own."""
    found = set()
    for name, field in model.model_fields.items():
        tables = [] if name == "blades" or section == "setups." else tables_in(field.annotation)
        found |= set().union(*(fields_of(table, f"{name}.") for table in tables)) if tables else {section + name}
    return found


def test_every_key_is_told_with_what_it_is_and_what_it_may_be():
    """Nobody is left to guess."""
    told = documented_keys()

    assert {key.path for key in told} == fields_of(Scene)
    for key in told:
        assert key.description and key.kind and key.values, key.path
        assert key.range_why or key.kind not in KINDS, key.path
        assert not (key.required and (key.default is not None or key.unless_given)), key.path


@pytest.mark.parametrize("key", RANGED, ids=lambda key: key.path)
def test_a_quantity_is_refused_just_outside_the_range_that_is_told(key):
    """Half a percent beyond either end, naming the field; the ends themselves are no reason for a refusal."""
    kind = KINDS[key.kind]
    for end, text in zip((-1, 1), key.values.split(" to "), strict=True):
        value = read_quantity(text, kind)
        unit = text.split(" ")[1]
        beyond = value + end * (abs(value) * 0.005 or 1e-9)
        section = TABLES.get(key.section, {}) | WITH.get(key.section, {})

        with pytest.raises(SceneError) as wrong:
            written = f"{beyond / kind.units[unit.casefold()]:.9f} {unit}"
            scene_from(TABLES | {key.section: section | {key.name: written}})
        assert str(wrong.value).startswith(f"{key.path}: '{written}' is {'less' if end < 0 else 'more'} than ")

        try:
            scene_from(TABLES | {key.section: section | {key.name: text}})
        except SceneError as other:  # another key may say no: 0.01 mm is not the height of the last pass
            assert f"'{text}'" not in str(other)


@pytest.mark.parametrize("key", DEFAULTED, ids=lambda key: key.path)
def test_a_default_is_read_as_if_it_had_been_written(key):
    """The scene is the same with it and without."""
    section = TABLES.get(key.section, {}) | WITH.get(key.section, {})
    without = {name: value for name, value in section.items() if name != key.name}
    default = list(key.default) if isinstance(key.default, tuple) else key.default

    written = scene_from(TABLES | {key.section: without | {key.name: default}})

    assert written == scene_from(TABLES | {key.section: without})


def test_the_keys_are_told_in_eighty_columns_by_section():
    """All of them, or one section."""
    everything, saw = keys_text(None), keys_text("saw")

    assert max(len(line) for line in everything.splitlines()) <= 80
    assert saw in everything
    for key in documented_keys():
        assert f"\n  {key.name}: " in everything
    with pytest.raises(SceneError, match=r"a scene has no \[sawe\]"):
        keys_text("sawe")
