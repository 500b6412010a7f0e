"""`surface.png`: the right size, and nothing touches the border."""

from __future__ import annotations

import numpy as np
import pytest
from demos import SCENES
from PIL import Image

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.scene.read import read_scene
from sweep.show.pictures.surface_plot import SIZE, write_surface
from sweep.show.say.report import Report
from sweep.units import Units


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "tilted-cove", "off-the-edge"])
def test_the_surface_is_drawn_with_a_free_border(name, style, tmp_path):
    """Whatever the units: words may be longer, but none is cut off."""
    outcome = judge(simulate(read_scene(SCENES / f"{name}.toml")))
    write_surface(tmp_path / "surface.png", Report(outcome, Units(style)))
    picture = np.asarray(Image.open(tmp_path / "surface.png").convert("RGB")).astype(int)
    drawn = np.abs(picture - 255).max(axis=-1) > 6
    inside = np.zeros(drawn.shape, bool)
    inside[20:-20, 20:-20] = True

    assert drawn.shape == SIZE[::-1]
    assert not drawn[~inside].any()
    assert 0.1 < drawn.mean() < 0.6
