"""Hypothesis profiles, and what every test may lean on."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from sweep.errors import PictureError
from sweep.scene.model import Scene
from sweep.scene.read import read_scene
from sweep.show.pictures.can_draw import require_drawing

SCENES = Path(__file__).parents[1] / "scenes"

# the same random scenes in every run, so that a red test stays red; `deep` looks for new ones
_calm = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.filter_too_much]}
settings.register_profile("quick", max_examples=800, derandomize=True, **_calm)
settings.register_profile("deep", max_examples=5000, print_blob=True, **_calm)
settings.load_profile("quick")


@pytest.fixture(scope="session")
def cornice() -> Scene:
    """The demo scene."""
    return read_scene(SCENES / "corner-cupboard-cornice.toml")


@pytest.fixture(scope="session")
def drawn() -> None:
    """Skip where this machine cannot draw."""
    try:
        require_drawing()
    except PictureError as wrong:
        pytest.skip(str(wrong))
