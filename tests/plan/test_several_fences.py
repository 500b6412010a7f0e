"""The side of the stock on which a fence of a set-up that was found stands: by forces, and the kerf's reach."""

from __future__ import annotations

import mouldings
import numpy as np
import pytest

from sweep.check.limits import HOLDS_OFF
from sweep.cut.job import simulate
from sweep.plan.complete import plan_setups
from sweep.plan.several.fences import with_fences
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.tolerance import Fineness

COARSE = Fineness(section_chord=1e-4, angles=256, ends=0)
LINE = np.array([(-60.0, 0), (-30, 0), (0, 20), (30, 0), (60, 0)])
STEEP = {"do": "cove", "fence_angle": "40 deg", "blade_height": "9 mm", "blade": "large"}


def scene_with(cove: dict[str, object], **plan: object) -> Scene:
    """One cove as a set-up, in stock 120 by 30 mm that wants a whole moulding."""
    return scene_from(mouldings.scene_of(LINE, 120, 30, blades=1, tilts=45, **plan) | {"setups": [STEEP | cove]})


def pushed(scene: Scene) -> list[float]:
    """The usual force into the fence in each pass of its one set-up, N."""
    job = simulate(plan_setups(scene)[0].setting.whole, COARSE)
    return [load.usual.fence for load in job.loads if load.usual is not None]


@pytest.mark.parametrize("tilt", ["0 deg", "30 deg", "45 deg"])
def test_a_fence_stands_where_the_work_is_pushed_into_it(tilt):
    """From either side the same is chosen, and no other side pulls less; both by forces of the whole simulation."""
    scenes = {side: scene_with({"blade_tilt": tilt, "fence_side": side}) for side in ("near", "far")}
    least = {side: min(pushed(scene)) for side, scene in scenes.items()}
    chosen = {with_fences(scene)[0].fence_side for scene in scenes.values()}

    assert chosen == {max(least, key=lambda side: least[side])}
    assert abs(least["near"] - least["far"]) > HOLDS_OFF  # it makes a difference here


def test_a_fence_that_the_blade_would_cut_stands_on_the_other_side_whatever_pulls():
    """A cove off the left edge cuts into a fence there, and one off the right edge into that."""
    for offset, side in (("55 mm", "near"), ("-55 mm", "far")):
        for begun in ("near", "far"):
            (one,) = with_fences(scene_with({"offset": offset, "fence_side": begun}))
            assert one.fence_side == side


def test_a_side_that_the_plan_names_is_kept():
    """Even where the blade pulls off it."""
    for side in ("near", "far"):
        (one,) = with_fences(scene_with({"blade_tilt": "45 deg", "fence_side": side}, fence_side=side))
        assert one.fence_side == side
