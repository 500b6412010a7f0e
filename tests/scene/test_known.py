"""How much of a scene is known, told by its type."""

from __future__ import annotations

import pytest
from demos import cornice_with

from sweep.errors import SceneError
from sweep.plan.complete import complete
from sweep.scene.model import Scene, SetUpScene, WholeScene
from sweep.scene.read import scene_from


def cornice_without(*sections: str) -> Scene:
    """The cornice without some of its sections."""
    return scene_from(cornice_with(**dict.fromkeys(sections)))


def test_a_scene_is_read_as_the_type_of_what_stands_in_it():
    """Both, the set-up alone, the passes alone, and neither."""
    assert type(cornice_without()) is WholeScene
    assert type(cornice_without("passes")) is SetUpScene
    assert type(cornice_without("setup")) is Scene
    assert type(cornice_without("setup", "passes")) is Scene


def test_a_scene_with_nothing_left_out_is_complete_as_it_stands():
    """Nothing is searched for, and nothing is changed."""
    whole = cornice_without()

    assert complete(whole).scene is whole
    assert complete(whole).candidates == () and complete(whole).plan is None


def test_what_is_found_is_put_beside_what_was_written():
    """The set-up goes before the written passes, the planned passes behind the written set-up; the rest stays."""
    whole = cornice_without()
    opened = whole.left_open()
    again = opened.set_up(whole.setup)

    assert type(opened) is Scene and type(again) is SetUpScene
    assert again.with_passes(whole.passes) == whole
    assert cornice_without("setup").set_up(whole.setup) == whole
    assert complete(cornice_without("passes")).scene.setup == whole.setup


def test_passes_that_end_at_another_height_than_the_set_up_are_refused():
    """Whether they are read together or put together."""
    whole = cornice_without()
    lower = whole.passes.model_copy(update={"heights": whole.passes.heights[:-1]})

    with pytest.raises(SceneError, match=r"passes\.heights"):
        whole.with_passes(lower)
    with pytest.raises(SceneError, match=r"passes\.heights"):
        Scene.model_construct(**dict(whole) | {"passes": lower}).checked()
