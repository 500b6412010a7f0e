"""The one table of cameras: along the feed everything looks the same way, and what must be seen is seen."""

from __future__ import annotations

import numpy as np
import pytest
from demos import SCENES
from hypothesis import given
from strategies import fewer, scenes

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.read import read_scene
from sweep.show.page.model import page_model
from sweep.show.say.report import Report
from sweep.show.solids.saw import window_of
from sweep.show.solids.views import viewpoints
from sweep.units import Units


@fewer(3 / 40)
@given(scenes())
def test_along_the_feed_right_is_right_and_nothing_is_cut_off(scene):
    """The stock's y, to the right looking along the feed, points to the right of the picture, and z up in it."""
    for place in viewpoints(scene, window_of(scene)):
        for aspect in (0.5, 1.0, 2.0):
            view = place.view(aspect)
            seen = view.place(place.points)
            assert (seen > 0).all()
            assert (seen < 1).all()
            if place.name in ("feed", "section"):
                assert np.dot(view.right, scene.feed.across) == pytest.approx(1.0)
                assert np.dot(view.forward, scene.feed.direction) > 0.9
                assert view.up[2] > 0.9
        centred = place.centred().view(1.0)
        assert np.abs(centred.shift).max() < 0.02 * centred.half


@pytest.mark.parametrize("name", ["tilted-cove", "leaning-cove", "off-the-edge"])
def test_the_page_looks_the_way_the_window_does(name):
    """Yaw and pitch in the page's data are the direction in which the window's camera looks."""
    outcome = judge(simulate(complete(read_scene(SCENES / f"{name}.toml")).scene))
    scene = outcome.job.scene
    table = {place.name: place for place in viewpoints(scene, window_of(scene))}
    shown = page_model(Report(outcome, Units()))["views"]
    assert [one["name"] for one in shown] == list(table)
    for one in shown:
        yaw, pitch = one["yaw"], one["pitch"]
        forward = [np.sin(yaw) * np.cos(pitch), np.cos(yaw) * np.cos(pitch), -np.sin(pitch)]
        assert forward == pytest.approx(table[one["name"]].view(1.0).forward, abs=1e-9)
