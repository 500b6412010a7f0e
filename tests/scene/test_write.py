"""A solved scene written back: complete, and still the user's own."""

from __future__ import annotations

import re

import pytest
from demos import SCENES

from sweep.plan.complete import complete
from sweep.scene.read import read_scene
from sweep.scene.write import completed_text, write_completed
from sweep.units import Units

SCENE = SCENES / "arc-from-drawing.toml"


@pytest.mark.parametrize("style", ["mm", "in"])
def test_every_line_of_the_user_is_kept_and_what_lacked_is_added(style):
    """Comments, order, blanks: the old text is the beginning of the new."""
    completed = complete(read_scene(SCENE))
    text = completed_text(SCENE.read_text(), completed.scene, Units(style))

    assert text.startswith(SCENE.read_text().rstrip("\n"))
    assert text.count("\n[setup]\n") == text.count("\n[passes]\n") == 1


@pytest.mark.parametrize("style", ["mm", "in"])
def test_the_written_scene_is_read_back_as_what_was_found(tmp_path, style):
    """To a tenth of a thousandth of a mm and of a degree."""
    completed = complete(read_scene(SCENE))
    path = tmp_path / "solved.toml"
    write_completed(SCENE, path, completed.scene, Units(style))
    again = read_scene(path)

    assert again.blade == completed.scene.blade
    assert again.setup.fence_angle == pytest.approx(completed.scene.setup.fence_angle, abs=1e-5)
    assert again.setup.blade_height == pytest.approx(completed.scene.setup.blade_height, abs=1e-4)
    assert again.passes.heights == pytest.approx(completed.scene.passes.heights, abs=1e-4)
    assert complete(again).candidates == ()
    assert [path.name for path in tmp_path.iterdir()] == ["solved.toml"]


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
@pytest.mark.parametrize("height", ["15.6 mm", "15.600012 mm", "39/64 in", "0.6141733 in"])
def test_passes_that_are_written_end_at_the_height_that_stands_in_the_scene(tmp_path, style, height):
    """Whatever units the others are written in: the scene is read back."""
    text = (SCENES / "corner-cupboard-cornice.toml").read_text(encoding="utf-8")
    kept = [part for part in re.split(r"(?m)^(?=\[)", text) if not part.startswith(("[passes]", "[target]"))]
    source = tmp_path / "scene.toml"
    source.write_text(re.sub(r'blade_height = "[^"]*"', f'blade_height = "{height}"', "".join(kept)), encoding="utf-8")
    write_completed(source, source, complete(read_scene(source)).scene, Units(style))

    again = read_scene(source)
    assert f'"{height}"]' in source.read_text(encoding="utf-8")
    assert again.passes.heights[-1] == again.setup.blade_height


def test_a_complete_scene_is_written_back_as_it_was():
    """Nothing lacks, nothing changes."""
    source = SCENE.with_name("corner-cupboard-cornice.toml")

    assert completed_text(source.read_text(), read_scene(source), Units()) == source.read_text()
