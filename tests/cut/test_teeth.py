"""Shavings against teeth stepped through wood one by one, which is `tests/teeth.py`."""

from __future__ import annotations

import math

import pytest
from teeth import Saw, cut

from sweep.cut.engagement import engaged_edges
from sweep.cut.load import load_of
from sweep.cut.passes import pass_sections, passes_of
from sweep.cut.plate import gullet_fill
from sweep.scene.model import Scene
from sweep.scene.read import scene_from

RADIUS, KERF, TEETH, FEED, WIDTH, THICKNESS = 60.0, 3.2, 12, 0.1, 46.0, 20.0


def scene_of(angle: float, tilt: float, bevel: float, heights: list[float]) -> Scene:
    """Return a small blade under a narrow board."""
    blade = {"diameter": f"{2 * RADIUS} mm", "kerf": f"{KERF} mm", "teeth": TEETH, "gullet_depth": "8 mm"}
    if bevel:
        blade |= {"tip": "alternate bevel", "bevel": f"{bevel} deg"}
    return scene_from(
        {
            "stock": {"length": "400 mm", "width": f"{WIDTH} mm", "thickness": f"{THICKNESS} mm"},
            "blade": blade,
            "saw": {"speed": "3000 rpm"},
            "setup": {"fence_angle": f"{angle} deg", "blade_tilt": f"{tilt} deg", "blade_height": f"{heights[-1]} mm"},
            "passes": {
                "heights": [f"{height} mm" for height in heights],
                "feed_speed": f"{FEED * TEETH * 3000 / 1000!r} m/min",
            },
        }
    )


@pytest.mark.parametrize(
    ("angle", "tilt", "bevel", "heights"),
    [
        (30.0, 0.0, 0.0, [8.0]),
        (30.0, 0.0, 15.0, [8.0]),
        (55.0, 0.0, 20.0, [4.0, 9.0]),
        (22.0, 12.0, 15.0, [7.0]),
    ],
    ids=["flat", "alternate", "alternate, second pass", "alternate, tilted"],
)
def test_shavings_are_those_of_teeth_that_go_by_one_by_one(angle, tilt, bevel, heights):
    """Greatest thickness on either edge and mean of all, what each hand takes, and so what fills a gullet."""
    scene = scene_of(angle, tilt, bevel, heights)
    one, area = passes_of(scene)[-1], pass_sections(scene)[-1].area
    before = heights[-2] if len(heights) > 1 else None
    load = load_of(scene, one, before, area)
    seen = cut(
        Saw(
            RADIUS, KERF, math.radians(bevel), TEETH, math.radians(angle), math.radians(tilt), heights[-1],
            before or 0.0, FEED, WIDTH,
        ),
        12_000,
    )  # fmt: skip

    assert load.feed_per_tooth == pytest.approx(FEED)
    takes = [seen.taken(hand) for hand in (0, 1)] if bevel else [seen.taken(0) / 2] * 2
    assert sum(takes) / 2 == pytest.approx(load.chip_volume, rel=0.02)
    assert gullet_fill(scene.blade, max(takes)) == pytest.approx(load.gullet_fill, rel=0.03)
    for side, thickest in ((True, load.chip_side), (False, load.chip_top)):
        assert 0.88 * thickest < seen.depth[seen.side == side].max() < 1.01 * thickest
    assert seen.mean_thickness() == pytest.approx(load.chip_thickness_mean, rel=0.04)
    # twice the mean depth is thickness averaged over the wood, on either edge
    edges = engaged_edges(scene, one, before)
    for side in (True, False):
        wood = [(edge.thickness * edge.lever, edge.bites * edge.thickness) for edge in edges if edge.side is side]
        mean = FEED * sum((w * t).sum() for w, t in wood) / sum(w.sum() for w, _ in wood)
        assert 2 * seen.depth[seen.side == side].mean() == pytest.approx(mean, rel=0.07)  # of some hundred points
