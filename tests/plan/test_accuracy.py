"""How exactly it must be set: derivatives against closed forms, and shares that can be foreseen."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with

from sweep.plan.accuracy import care_needed
from sweep.scene.read import scene_from


def cornice(**sections: dict):
    """The cornice with some keys written otherwise."""
    return scene_from(cornice_with(**sections))


def test_small_changes_of_the_settings_do_what_the_closed_form_says():
    """Derivatives of 2 sin(t) sqrt(2 R h - h^2) + k cos(t), by hand."""
    effects = {effect.setting: effect for effect in care_needed(cornice(), set_ups=100).effects}
    theta, radius, height, kerf = math.radians(28), 127.0, 16.0, 3.2
    chord = math.sqrt(2 * radius * height - height**2)
    per_angle = 2 * math.cos(theta) * chord - kerf * math.sin(theta)
    per_height = 2 * math.sin(theta) * (radius - height) / chord

    assert effects["fence angle"].width == pytest.approx(math.radians(0.1) * per_angle, rel=2e-3)
    assert effects["blade height"].width == pytest.approx(0.1 * per_height, rel=5e-3)
    assert effects["blade height"].depth == pytest.approx(0.1)
    assert effects["kerf"].width == pytest.approx(0.1 * math.cos(theta), rel=1e-6)
    assert effects["offset"].width == pytest.approx(0.0, abs=1e-9)
    assert effects["offset"].deviation == pytest.approx(0.1, abs=0.02)


def test_the_share_within_tolerance_is_the_normal_laws_where_one_setting_alone_errs():
    """Height alone, 0.2 mm against a tolerance of 0.2 mm, on the depth: 68.3 % (the normal law's one sigma)."""
    exact = {"fence_angle": "0.0001 deg", "blade_tilt": "0.0001 deg", "offset": "0.0001 mm", "kerf": "0.0001 mm"}
    target = {"width": "60.767 mm", "tolerance": "0.2 mm"}
    care = care_needed(cornice(accuracy=exact | {"blade_height": "0.2 mm"}, target=target))

    # an error of height moves the edges too, less than the depth, so the depth decides
    assert care.within == pytest.approx(0.683, abs=0.02)
    assert care.most_care == "blade height"


def test_the_same_seed_gives_the_same_share_and_another_seed_nearly():
    """Reproducible, and not by accident."""
    first, again = care_needed(cornice()), care_needed(cornice())
    other = care_needed(cornice(accuracy={"seed": 2}))

    assert first == again
    assert other.within != first.within
    assert other.within == pytest.approx(first.within, abs=0.03)


def test_a_saw_that_can_be_set_exactly_always_comes_within_tolerance():
    """And one that cannot, hardly ever."""
    exact = {key: "0.0001 mm" for key in ("blade_height", "offset", "kerf")} | {
        key: "0.0001 deg" for key in ("fence_angle", "blade_tilt")
    }

    assert care_needed(cornice(accuracy=exact), set_ups=200).within == 1.0
    assert care_needed(cornice(accuracy={"fence_angle": "5 deg"}), set_ups=500).within < 0.2
