"""The law of the cutting force against what is published of it.

No measured power of an oblique cut was found, nor one of a straight cut with all of blade, wood, depth and feed on a
page that could be read. So nothing here measures the absolute power of a cove: there are the constants of the law,
relative effects that were measured, a second law made from other ideas, and sums worked out apart from the code.

- Ettelt 1987, from *Zerspanung von Holz und Holzwerkstoffen*, 2nd ed. 2023, p. 120, as quoted on FreeCAD's cards
  `Machining/HardWood.FCMat` (commit a53a83d4) and `SoftWood.FCMat` (commit fb1da64a): both cards read, the book not.
- Telford, Forest Products Laboratory, *Summary of tests on power used on insert-point circular headsaws*, items 1 and
  4, read at http://ufdc.ufl.edu/AA00020559/00001.
- Cristovao, Ekevad, Groenlund 2013, BioResources 8(4) 6044-6053, abstract read.
- Orlowski and Ochrymiuk 2017, Maderas 19(2) 149-162: abstract read, equations from memory, its constants for pine from
  memory and doubtful.
- Kivimaa's directions B and C: which is which is from memory. The cards say that A, across the grain, is toughest.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from saws import steady_of

from sweep.cut.engagement import engaged_edges
from sweep.cut.forces import DULL, SHARP, USUAL, Forces, State, by_rim_angle
from sweep.cut.passes import passes_of
from sweep.cut.wood import SCATTER
from sweep.scene.model import Scene
from sweep.scene.read import scene_from

PLAIN = State(1.0, 1.0, 0.0, 0.0)
"""The bare law: neither hard nor dull, no least thickness, no thrust."""

ETTELT = [
    # wood, the range for A, then B and C, N/mm^1.5: as on the cards
    ("beech", (26.0, 40.0), 12.0, 7.5),
    ("oak", (22.0, 44.0), 10.0, 7.0),
    ("pine", (14.0, 31.0), 7.5, 5.0),
    ("spruce", (15.0, 28.0), 9.0, 6.0),
]


def job(angle: float, heights: list[float], species: str, feed: str, teeth: int = 24, diameter: float = 254.0) -> Scene:
    """Return a job with a blade 3.2 mm wide at 3450 rpm; angle in degrees, heights and diameter in mm."""
    return scene_from(
        {
            "stock": {"length": "900 mm", "width": "200 mm", "thickness": "60 mm", "species": species},
            "blade": {"teeth": teeth, "diameter": f"{diameter} mm", "kerf": "3.2 mm"},
            "saw": {"speed": "3450 rpm"},
            "setup": {"fence_angle": f"{angle} deg", "blade_height": f"{heights[-1]} mm"},
            "passes": {"heights": [f"{height} mm" for height in heights], "feed_speed": feed},
        }
    )


def last_pass(scene: Scene) -> tuple[list, float]:
    """Return the edges in wood in the last pass, and the feed per tooth in mm."""
    passes = passes_of(scene)
    edges = engaged_edges(scene, passes[-1], passes[-2].height if len(passes) > 1 else None)
    return edges, passes[-1].feed_speed * 60 / (3450 * scene.blade.teeth)


def forces(scene: Scene, state: State) -> Forces:
    """Return the forces of the last pass."""
    edges, bite = last_pass(scene)
    return steady_of(scene, edges, bite, state)


def per_mm_of_edge(scene: Scene, index: int, angle: float, bite: float, state: State = PLAIN) -> float:
    """Return the cutting force on one mm of one edge at the rim angle nearest one given, N/mm."""
    edges, _ = last_pass(scene)
    found = by_rim_angle(scene, edges, bite, state)
    nearest = int(np.abs(edges[index].angles - angle).argmin())
    return float(found[index][nearest] / edges[index].length[nearest])


@pytest.mark.parametrize(("species", "across", "along", "lying"), ETTELT)
@pytest.mark.parametrize("thickness", [0.05, 0.2])
def test_in_the_three_directions_to_the_grain_the_force_is_ettelts(species, across, along, lying, thickness):
    """Each direction is one that the blade really cuts in, at one end or other of fence angle and rim."""
    side, top = 0, 1
    square = job(90.0, [10.0], species, "3 m/min")  # side edge at the top: edge and motion both across
    straight = job(0.1, [10.0], species, "3 m/min")  # top edge near the top: motion along, edge across
    raised = job(0.1, [49.5], species, "3 m/min", diameter=100.0)  # side edge at the front: edge along, motion down
    root = math.sqrt(thickness)
    low, high = across

    got = per_mm_of_edge(square, side, math.pi / 2, thickness) / root
    assert (low + high) / 2 == pytest.approx(got, rel=1e-4)
    thin = thickness / (math.cos(math.radians(0.1)) * math.sin(0.02))
    got = per_mm_of_edge(straight, top, math.pi / 2 + 0.02, thin) / root
    assert along == pytest.approx(got, rel=0.03)
    thin = thickness / math.sin(math.radians(0.1))
    got = per_mm_of_edge(raised, side, math.pi, thin) / root
    assert lying == pytest.approx(got, rel=0.03)


def test_the_scatter_of_the_band_is_that_of_the_published_ranges():
    """Half of each range of A over its middle is 0.21 to 0.38; ours is on the wide side and all but covers them."""
    halves = [(high - low) / (high + low) for _, (low, high), _, _ in ETTELT]

    assert np.median(halves) < SCATTER < max(halves)
    for species, (low, high), _, _ in ETTELT:
        scene = job(90.0, [10.0], species, "3 m/min")
        states = (replace(PLAIN, hardness=state.hardness) for state in (SHARP, DULL))
        least, most = (per_mm_of_edge(scene, 0, math.pi / 2, 0.04, state) / 0.2 for state in states)
        assert least < 1.05 * low
        assert most > 0.95 * high


@pytest.mark.parametrize("teeth", [40, 44, 47])
@pytest.mark.parametrize("angle", [1.0, 28.0])
def test_one_tooth_more_takes_about_one_percent_more_power(teeth, angle):
    """Telford, item 4: about 1 % a tooth, between 40 and 48 teeth at one feed; ripping, and our own oblique cut."""
    fewer, more = (forces(job(angle, [20.0], "oak", "6 m/min", n), PLAIN).power for n in (teeth, teeth + 1))

    assert 0.8 < 100 * (more / fewer - 1) < 1.5


def test_a_dull_saw_takes_as_much_more_as_was_measured_over_a_shift():
    """Cristovao: 11 to 35 % from morning to night; Telford, item 1: dull, 8 %. In shavings of a sawmill's thickness."""
    scene = job(90.0, [20.0], "pine", "20 m/min")  # 0.24 mm
    sharp = forces(scene, USUAL).power
    dull = forces(scene, replace(DULL, hardness=1.0)).power / sharp

    assert 1.11 <= dull <= 1.35 + 1e-9
    assert dull > 1.08
    assert 1.0 == USUAL.wear == SHARP.wear


def test_dullness_counts_for_most_in_the_thinnest_shavings():
    """A radius that grows, Cristovao's reason, is most to the thinnest shaving: up to wear times root two."""
    shares = []
    for feed in ("1 m/min", "3 m/min", "12 m/min"):
        scene = job(28.0, [8.5, 10.0], "pine", feed)
        shares.append(forces(scene, replace(DULL, hardness=1.0)).power / forces(scene, USUAL).power)

    assert shares == sorted(shares, reverse=True)
    assert DULL.wear < shares[-1]
    assert shares[0] <= DULL.wear * math.sqrt(DULL.thinnest / USUAL.thinnest) * (1 + 1e-9)


@pytest.mark.parametrize("thickness", [0.05, 0.1, 0.15, 0.2, 0.3])
def test_a_law_from_fracture_mechanics_gives_the_same_force_across_the_grain(thickness):
    """Orlowski's, straight in the thickness with an intercept, against the root: within 25 % for pine.

    F / w = tau gamma h / Q + R / Q, rake 25 deg, friction 0.6 (read), Merchant's angle of shear, tau = 20 N/mm2,
    R = 1.3 N/mm: all but the friction from memory, the last two doubtful.
    """
    rake, friction = math.radians(25), math.atan(0.6)
    shear = math.pi / 4 - (friction - rake) / 2
    gamma = math.cos(rake) / (math.cos(shear - rake) * math.sin(shear))
    part = 1 - math.sin(friction) * math.sin(shear) / (math.cos(friction - rake) * math.cos(shear - rake))
    theirs = (20.0 * gamma * thickness + 1.3) / part
    ours = per_mm_of_edge(job(90.0, [10.0], "pine", "3 m/min"), 0, math.pi / 2, thickness)

    assert ours == pytest.approx(theirs, rel=0.25)


@pytest.mark.parametrize(
    ("species", "thinnest", "watts"),
    [
        ("oak", 0.0, 384),
        ("oak", 0.005, 423),
        ("oak", 0.010, 598),
        ("beech", 0.0, 434),
        ("beech", 0.005, 479),
        ("beech", 0.010, 677),
        ("pine", 0.0, 280),
        ("pine", 0.005, 309),
        ("pine", 0.010, 437),
    ],
)
def test_a_first_estimate_by_hand_of_one_oblique_pass_comes_near(species, thinnest, watts):
    """Worked out by us before the code, not measured: at 45 deg, raised 1.5 to 10 mm, at 1.5 m/min; within 30 %.

    It shares the shaving evenly over tip and rise of every tooth in the arc and gives the side edge the grain of
    the top edge. The code does neither, so this says no more than that both are of one size.
    """
    scene = job(45.0, [8.5, 10.0], species, "1.5 m/min")

    assert forces(scene, replace(PLAIN, thinnest=thinnest)).power == pytest.approx(watts, rel=0.30)
