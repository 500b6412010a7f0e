"""The scene remembers in which units it was written, and is answered in them."""

from __future__ import annotations

import tomllib

import pytest
from demos import CORNICE

from sweep.plan.complete import complete
from sweep.scene.read import scene_from


def written(length: str) -> dict:
    """The demo scene, its stock's length written in another way."""
    table = tomllib.loads((CORNICE).read_text())
    return table | {"stock": table["stock"] | {"length": length}}


@pytest.mark.parametrize(
    ("length", "style"),
    [("900 mm", "mm"), ("0.9 m", "mm"), ("36 in", "in"), ("3 ft", "in"), ("3' 1/2\"", "in"), ("35 ½ in", "in")],
)
def test_a_scene_is_answered_in_the_units_of_its_stocks_length(length, style):
    """What is mixed is decided by one length, however the others are written."""
    scene = scene_from(written(length))

    assert scene.units.style == style
    assert complete(scene).scene.units.style == style
    assert scene.model_copy(update={"title": "another"}).units.style == style
