"""Forces and power: closed forms, a sum over points of the edges that shares no code with ours, limits and laws.

`points_in_wood` throws points over every edge of the tooth and asks `oracles.py` which of them meet fresh wood;
`summed_over_points` adds up k sqrt(h) along each point's own motion. They know nothing of intervals, of circles
seen along the feed, or of the sums in `forces.py`. The square-root law and its constants they share with us;
`tests/outside/` asks about those.
"""

from __future__ import annotations

import math
from dataclasses import fields, replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from oracles import Cut
from saws import steady_of
from strategies import between, fewer, scenes

from sweep.cut import forces as module
from sweep.cut.engagement import engaged_edges
from sweep.cut.forces import DULL, SHARP, USUAL, Forces, State, by_rim_angle
from sweep.cut.load import load_of
from sweep.cut.passes import pass_sections, passes_of
from sweep.cut.plate import rim_stiffness
from sweep.cut.wood import Wood
from sweep.cut.wood_table import wood_of
from sweep.scene.model import Scene
from sweep.scene.read import scene_from

PLAIN = State(1.0, 1.0, 0.0, 0.0)
"""The bare law: neither hard nor dull, no least thickness, no thrust."""

FEW = 256
"""Rim angles for laws that hold at any number of them."""


def job(angle: float, heights: list[float], /, *, species: str = "beech", **changes: object) -> Scene:
    """Return a scene with a blade of 254 mm, 3.2 mm wide, 24 teeth, at 3450 rpm; angle in degrees, heights in mm."""
    values = {"stock": {}, "blade": {}, "saw": {}, "setup": {}, "passes": {}}
    for key, value in changes.items():
        table, name = key.split("__")
        values[table][name] = value
    blade = {"teeth": 24} | ({} if "profile" in values["blade"] else {"diameter": "254 mm", "kerf": "3.2 mm"})
    return scene_from(
        {
            "stock": {"length": "600 mm", "width": "180 mm", "thickness": "40 mm", "species": species}
            | values["stock"],
            "blade": blade | values["blade"],
            "saw": {"speed": "3450 rpm"} | values["saw"],
            "setup": {"fence_angle": f"{angle!r} deg", "blade_height": f"{heights[-1]!r} mm"} | values["setup"],
            "passes": {"heights": [f"{height!r} mm" for height in heights], "feed_speed": "3 m/min"} | values["passes"],
        }
    )


def bite_of(scene: Scene) -> float:
    """Return the feed per tooth of the last pass, mm: v / (n z)."""
    return passes_of(scene)[-1].feed_speed / (scene.saw.speed / (2 * math.pi) * scene.blade.teeth)


def last_edges(scene: Scene, angles: int = 2048) -> list:
    """Return the edges in wood in the last pass."""
    passes = passes_of(scene)
    return engaged_edges(scene, passes[-1], passes[-2].height if len(passes) > 1 else None, angles)


def forces(scene: Scene, state: State = USUAL, angles: int = 2048) -> Forces:
    """Return the forces of the last pass."""
    return steady_of(scene, last_edges(scene, angles), bite_of(scene), state)


def numbers(of: Forces) -> np.ndarray:
    """Return the five numbers of `Forces`, as one array."""
    return np.array([getattr(of, field.name) for field in fields(Forces)])


def points_in_wood(scene: Scene, count: int = 200_000) -> list[tuple[np.ndarray, ...]]:
    """Return points thrown evenly over the edges of the teeth in the last pass, those that meet fresh wood.

    A point of the stock is fresh when it lies in the planed stock, no earlier pass takes it, and this pass has
    not taken it before the moment at which the edge is there.

    Returns
    -------
    list of (motion, edge, normal, thickness, radius, weight), one for each edge
        Thickness for each tooth's feed, double where only every second tooth cuts; the weight is the mm of edge times
        the rad that each point stands for, for each tooth there is.
    """
    profile, angle, tilt = scene.tool.profile, scene.setup.fence_angle, scene.setup.blade_tilt
    feed, to_right = ways(scene)
    arbor = np.array([math.cos(tilt), 0.0, -math.sin(tilt)])
    up = np.array([math.sin(tilt), 0.0, math.cos(tilt)])
    cuts = [Cut(profile, angle, height, tilt, scene.setup.offset) for height in scene.passes.heights]
    middle = up * cuts[-1].centre_height / math.cos(tilt)

    order = np.arange(count)
    everywhere = (order + 0.5) / count * math.pi  # every centre is below the table
    shares = order * 0.6180339887498949 % 1.0
    rises = np.sin(everywhere) * up[2]
    found = []
    # no scene here is raised by half its radius
    corners = [(profile[0][0], profile[0][1] / 2), *profile, (profile[-1][0], profile[-1][1] / 2)]
    for (a1, r1), (a2, r2) in pairwise(corners):
        long = math.hypot(a2 - a1, r2 - r1)
        z = middle[2] + (a1 + shares * (a2 - a1)) * arbor[2] + (r1 + shares * (r2 - r1)) * rises
        as_high = (z >= 0) & (z <= scene.stock.thickness)
        p, t = everywhere[as_high], shares[as_high]
        radius = r1 + t * (r2 - r1)
        out, motion = directions(scene, p)
        edge = ((a2 - a1) * arbor + (r2 - r1) * out) / long
        normal = np.cross(motion, edge)
        at = middle + (a1 + t * (a2 - a1))[:, None] * arbor + radius[:, None] * out
        thickness = -normal @ feed
        stock = np.column_stack([-at @ feed, at @ to_right - scene.setup.offset, at[:, 2]])
        fresh = np.flatnonzero((thickness > 1e-12) & (np.abs(stock[:, 1]) <= scene.stock.width / 2))
        for earlier in cuts[:-1]:
            fresh = fresh[~earlier.takes_from_section(stock[fresh, 1:])]
        fresh = fresh[~replace(cuts[-1], stop=-1e-6).takes(stock[fresh])]  # at travel 0 the edges are here
        # of bevelled teeth the low hand reaches the side edge below its own corner, and no part of the tip
        low = 0.0 if scene.blade.bevel is None else scene.blade.kerf * math.tan(scene.blade.bevel)
        alone = low > 0 and ((a1 != a2) | (radius[fresh] > scene.tool.radius - low))
        bites = np.where(alone, 2.0, 1.0)
        weight = np.full(len(fresh), long * math.pi / count) / bites
        found.append((motion[fresh], edge[fresh], normal[fresh], bites * thickness[fresh], radius[fresh], weight))
    return found


def directions(scene: Scene, p: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return where the radius points at rim angles, and how the tooth moves there: at the top -y, to the operator."""
    tilt = scene.setup.blade_tilt
    up = np.array([math.sin(tilt), 0.0, math.cos(tilt)])
    out = np.cos(p)[:, None] * [0.0, 1.0, 0.0] + np.sin(p)[:, None] * up
    return out, np.cross([math.cos(tilt), 0.0, -math.sin(tilt)], out)


def ways(scene: Scene) -> tuple[np.ndarray, np.ndarray]:
    """Return the way of the feed and the way to the right of it, machine frame."""
    sin, cos = math.sin(scene.setup.fence_angle), math.cos(scene.setup.fence_angle)
    return np.array([sin, cos, 0.0]), np.array([cos, -sin, 0.0])


def summed_over_points(scene: Scene, points: list[tuple[np.ndarray, ...]], state: State) -> Forces:
    """Return the forces of the last pass as a sum over `points_in_wood`."""
    feed, to_right = ways(scene)
    k_across, k_along, k_lying = wood_of(scene.stock).constants
    force, moment = np.zeros(3), 0.0
    for motion, edge, normal, thickness, radius, weight in points:
        k = k_across * (normal @ feed) ** 2 + k_along * (motion @ feed) ** 2 + k_lying * (edge @ feed) ** 2
        bare = thickness * bite_of(scene)
        thick = np.maximum(bare, state.thinnest)
        grazing = np.minimum(1.0, bare / (0.1 * state.thinnest)) if state.thinnest else 1.0  # an edge that only grazes
        pull = state.hardness * state.wear * k * grazing * np.sqrt(thick) * weight
        force += pull @ (motion + state.thrust * normal)
        moment += pull @ radius
    teeth = scene.blade.teeth / (2 * math.pi)
    tilt = scene.setup.blade_tilt
    return Forces(
        feed=-teeth * force @ feed,
        fence=teeth * force @ to_right * (1 if scene.setup.fence_side == "near" else -1),
        lift=teeth * force[2],
        side=teeth * (force[2] * math.sin(tilt) - force[0] * math.cos(tilt)),
        power=teeth * moment * scene.saw.speed / 1000,
    )


BEVELLED = {"blade__tip": "alternate bevel", "blade__bevel": "15 deg"}
BEAD = {"blade__profile": [[-9.5, 60.0], [-7.0, 64.5], [-2.5, 67.0], [2.5, 67.0], [7.0, 64.5], [9.5, 60.0]]}
EVERY = [
    pytest.param(job(45.0, [10.0]), id="one pass"),
    pytest.param(job(28.0, [4.8, 9.0, 13.0]), id="third pass"),
    pytest.param(job(28.0, [4.8, 9.0, 13.0], setup__blade_tilt="20 deg"), id="tilted"),
    pytest.param(job(28.0, [4.8, 9.0], setup__blade_tilt="-33 deg", species="walnut"), id="tilted back"),
    pytest.param(job(35.0, [6.0, 12.0], setup__offset="80 mm", setup__fence_side="far"), id="off an edge"),
    pytest.param(job(12.0, [5.0, 8.0], **BEVELLED, species="oak"), id="alternate bevel"),
    pytest.param(job(60.0, [5.0, 8.0], **BEVELLED, setup__blade_tilt="9 deg"), id="alternate bevel, tilted"),
    pytest.param(job(40.0, [8.0, 14.0], **BEAD, species="pine"), id="bead"),
    pytest.param(job(90.0, [4.0, 9.0], setup__offset="-70 mm"), id="square, off an edge"),
]


@pytest.mark.parametrize("scene", EVERY)
def test_forces_are_those_summed_over_points_of_the_edges(scene):
    """All five, to a hundredth of the whole force: what is in wood, how thick, which way, and against which grain."""
    edges, points = last_edges(scene), points_in_wood(scene)
    for state in (PLAIN, USUAL, DULL):
        ours, theirs = steady_of(scene, edges, bite_of(scene), state), summed_over_points(scene, points, state)
        size = np.linalg.norm(numbers(theirs)[:4])

        assert theirs.power == pytest.approx(ours.power, rel=0.01)
        assert numbers(theirs)[:4] == pytest.approx(numbers(ours)[:4], abs=0.01 * size)


@pytest.mark.parametrize("height", [1.5, 10.0, 35.0])
@pytest.mark.parametrize("state", [PLAIN, USUAL], ids=["bare law", "usual"])
def test_fed_square_the_forces_of_a_first_pass_are_closed_forms(height, state):
    """At 90 deg only side edges cut, a segment of the disc, all of it across the grain in shavings of one thickness.

    With d = R - h and alpha = acos(d / R), the integrals over the segment of dr dp, sin p dr dp and r dr dp.
    """
    scene = job(90.0, [height], species="oak")
    radius = 127.0
    below = radius - height
    half = math.acos(below / radius)
    length = 2 * radius * half - 2 * below * math.log(math.tan(math.pi / 4 + half / 2))
    sideways = 2 * radius * math.sin(half) - 2 * below * half
    area = radius**2 * half - below * radius * math.sin(half)
    pull = 33.0 * math.sqrt(bite_of(scene)) * 24 / (2 * math.pi)
    got = forces(scene, state)

    assert got.power == pytest.approx(pull * area * scene.saw.speed / 1000, rel=1e-3)
    assert got.fence == pytest.approx(pull * sideways, rel=1e-3)
    assert got.feed == pytest.approx(state.thrust * pull * length, rel=1e-3)
    assert got.side == pytest.approx(got.feed, rel=1e-9)
    assert got.lift == pytest.approx(0.0, abs=1e-9 * got.fence)


def test_fed_square_top_edges_take_nothing():
    """At 90 deg the feed runs along the top edge: no thickness, no length, no force."""
    side, top = last_edges(job(90.0, [4.0, 10.0]))

    assert len(top.length) == 0  # nowhere in wood
    assert np.all(side.thickness == 1.0)


def ripped(scene: Scene, state: State = PLAIN) -> Forces:
    """Return what the top edges alone do, which is all that cuts in straight rip sawing."""
    return steady_of(scene, last_edges(scene)[1:], bite_of(scene), state)


@pytest.mark.parametrize(
    ("species", "depth", "speed", "watts"),
    [
        # a groove 3 mm deep by 24 teeth 3.2 mm wide at 3450 rpm, Ettelt's constants, no least thickness
        ("beech", 3.0, "3 m/min", 90),
        ("oak", 3.0, "3 m/min", 76),
        ("pine", 3.0, "3 m/min", 56),
        ("spruce", 3.0, "3 m/min", 67),
    ],
)
def test_all_but_along_the_fence_top_edges_cut_as_in_ripping(species, depth, speed, watts):
    """At 0.1 deg: power against numbers worked out apart from this code for straight rip sawing, f sin(phi) thick."""
    scene = job(0.1, [depth], species=species, passes__feed_speed=speed)

    assert watts == pytest.approx(ripped(scene).power, abs=0.5)


def test_all_but_along_the_fence_forces_are_those_of_the_textbook_slot():
    """At 0.1 deg, top edges: a slot, summed over the angle from the top in a few lines, and no force aside."""
    scene = job(0.1, [20.0], species="oak")
    least, most = 0.0, math.acos((127.0 - 20.0) / 127.0)
    phi = least + (np.arange(20_000) + 0.5) / 20_000 * (most - least)
    k = 33.0 * np.sin(phi) ** 2 + 10.0 * np.cos(phi) ** 2
    pull = k * 3.2 * np.sqrt(bite_of(scene) * np.sin(phi)) * (most - least) / 20_000 * 24 / (2 * math.pi)
    got = ripped(scene, replace(PLAIN, thrust=0.4))

    assert got.power == pytest.approx(pull.sum() * 127.0 * scene.saw.speed / 1000, rel=1e-3)
    # the front of the blade comes down and towards the operator; its thrust is against the feed and up
    assert got.feed == pytest.approx(pull @ (np.cos(phi) + 0.4 * np.sin(phi)), rel=1e-3)
    assert got.lift == pytest.approx(pull @ (0.4 * np.cos(phi) - np.sin(phi)), rel=1e-3)
    assert abs(got.fence) < 0.003 * got.feed
    assert abs(got.side) < 1e-12


def test_the_side_edge_drops_out_as_the_root_of_the_angle():
    """By the bare law its shaving is f sin(theta) thick, so a hundredth of the angle leaves a tenth of the force."""
    ten, tenth = (
        steady_of(scene, last_edges(scene)[:1], bite_of(scene), PLAIN).power / math.sqrt(math.sin(math.radians(angle)))
        for angle, scene in ((angle, job(angle, [10.0])) for angle in (1.0, 0.1))
    )

    assert ten == pytest.approx(tenth, rel=0.02)


@pytest.mark.parametrize("scene", EVERY)
@pytest.mark.parametrize("state", [PLAIN, USUAL], ids=["bare law", "usual"])
def test_power_times_time_is_cutting_force_times_path(scene, state):
    """One turn of one tooth, step by step: force along its motion times the way the middle of its edge goes."""
    edges, bite = last_edges(scene), bite_of(scene)
    wood = wood_of(scene.stock).constants
    cutting = by_rim_angle(scene, edges, bite, state)
    work_by_forces = work_by_edges = 0.0
    grain, _ = ways(scene)
    for edge, force in zip(edges, cutting, strict=True):
        out, motion = directions(scene, edge.angles)
        arbor = np.cross(out[:1], motion[:1])
        run = edge.run[0] * arbor + edge.run[1] * out
        cosines = np.array([way @ grain for way in (np.cross(motion, run), motion, run)])
        path = edge.lever / edge.length * edge.step  # mean radius in wood times angle
        work_by_forces += (force * path).sum() / edge.bites
        bare = edge.thickness * bite * edge.bites
        grazing = np.minimum(1.0, bare / (0.1 * state.thinnest)) if state.thinnest else 1.0
        pull = (wood @ cosines**2) * grazing * np.sqrt(np.maximum(bare, state.thinnest))
        work_by_edges += (pull * edge.length * path).sum() / edge.bites
    turn = 2 * math.pi / scene.saw.speed  # seconds
    energy = forces(scene, state).power * 1000 * turn / scene.blade.teeth  # N mm a tooth

    assert energy == pytest.approx(work_by_forces, rel=1e-9)
    assert energy == pytest.approx(work_by_edges, rel=1e-9)


@pytest.mark.parametrize("scene", EVERY)
def test_the_shavings_hold_the_wood_that_the_pass_takes(scene):
    """What `load_of` calls chip volume, against thickness times length times path of the edges it sums forces over."""
    taken = pass_sections(scene)[-1].area
    passes = passes_of(scene)
    load = load_of(scene, passes[-1], passes[-2].height if len(passes) > 1 else None, taken)
    shaved = bite_of(scene) * sum((edge.thickness * edge.lever * edge.step).sum() for edge in last_edges(scene))

    assert load.chip_volume == pytest.approx(shaved, rel=2e-3)


@fewer(1 / 10)
@given(scene=scenes(stops=False, passes=3))
def test_low_usual_and_high_are_in_order(scene):
    """Power always; untilted also the push, which is then never less than nought: no edge pulls the work in."""
    edges, bite = last_edges(scene, FEW), bite_of(scene)
    low, usual, high = (steady_of(scene, edges, bite, state) for state in (SHARP, USUAL, DULL))

    assert 0 <= low.power <= usual.power <= high.power
    if scene.tilt == 0.0:
        assert 0 <= low.feed <= usual.feed <= high.feed
    if scene.tilt == 0.0 and scene.blade.tip == "flat" and scene.blade.profile is None:
        assert 0 <= low.side <= usual.side <= high.side


@fewer(1 / 10)
@given(scene=scenes(stops=False, passes=2), factor=st.floats(1.01, 5))
def test_forces_are_in_proportion_to_hardness_to_wear_and_to_density(scene, factor):
    """All five, at every state."""
    edges, bite = last_edges(scene, FEW), bite_of(scene)
    once = numbers(steady_of(scene, edges, bite, USUAL))
    harder = numbers(steady_of(scene, edges, bite, replace(USUAL, hardness=factor)))
    duller = numbers(steady_of(scene, edges, bite, replace(USUAL, wear=factor)))
    light, heavy = (
        numbers(
            steady_of(scene.model_copy(update={"stock": scene.stock.model_copy(update={"density": d})}), edges, bite)
        )
        for d in (300.0, 300.0 * factor)
    )

    assert np.allclose(factor * once, harder, rtol=1e-12, atol=1e-12)
    assert np.allclose(factor * once, duller, rtol=1e-12, atol=1e-12)
    assert np.allclose(factor * light, heavy, rtol=1e-12, atol=1e-12)


@fewer(1 / 10)
@given(scene=scenes(stops=False, passes=2), factor=st.floats(0.2, 5))
def test_by_the_bare_law_forces_grow_as_the_root_of_the_feed(scene, factor):
    """And never faster where a least thickness holds them up."""
    edges, bite = last_edges(scene, FEW), bite_of(scene)
    once, more = (numbers(steady_of(scene, edges, f, PLAIN)) for f in (bite, factor * bite))
    held, held_more = (steady_of(scene, edges, f, USUAL).power for f in (bite, factor * bite))
    low, high = sorted([1.0, factor])  # as the feed itself where an edge only grazes

    assert np.allclose(math.sqrt(factor) * once, more, rtol=1e-12, atol=1e-12)
    assert low * held * (1 - 1e-12) <= held_more <= high * held * (1 + 1e-12)


@fewer(1 / 10)
@given(
    angle=between(0.5, 90),
    tilt=between(-40, 40),
    rises=st.lists(between(0.5, 5), min_size=1, max_size=3),
    size=st.sampled_from([0.5, 2.0, 3.0]),
    across=between(-60, 60),
)
def test_a_job_twice_as_large_in_everything_takes_forces_by_the_power_of_three_halves(angle, tilt, rises, size, across):
    """Edges grow with size and thickness with its root: size^1.5 in force, size^2.5 in power at one turning rate."""

    def at(scale: float) -> Forces:
        heights = [float(h) * scale for h in np.cumsum(rises)]
        return forces(
            job(
                angle,
                heights,
                stock__width=f"{120 * scale} mm",
                stock__thickness=f"{50 * scale} mm",
                stock__length=f"{400 * scale} mm",
                blade__diameter=f"{200 * scale} mm",
                blade__kerf=f"{3 * scale} mm",
                setup__blade_tilt=f"{tilt!r} deg",
                setup__offset=f"{across * scale!r} mm",
                passes__feed_speed=f"{2 * scale} m/min",
            ),
            replace(USUAL, thinnest=0.005 * scale),
            FEW,
        )

    one, other = numbers(at(1.0)), numbers(at(size))

    assert np.allclose(one[:4] * size**1.5, other[:4], rtol=1e-6, atol=1e-6 * size**1.5 * np.abs(one[:4]).max())
    assert one[4] * size**2.5 == pytest.approx(other[4], rel=1e-6)


@pytest.mark.parametrize("scene", EVERY)
def test_teeth_turning_rate_and_feed_enter_by_the_feed_per_tooth(scene):
    """At one feed per tooth: twice the teeth, twice the force; twice the turning rate, twice the power alone."""
    edges, bite = last_edges(scene), bite_of(scene)
    once = steady_of(scene, edges, bite)
    teeth = scene.model_copy(update={"blade": scene.blade.model_copy(update={"teeth": 48})})
    faster = scene.model_copy(update={"saw": scene.saw.model_copy(update={"speed": 2 * scene.saw.speed})})

    assert np.allclose(2 * numbers(once), numbers(steady_of(teeth, edges, bite)), rtol=1e-12)
    assert np.allclose(numbers(once) * [1, 1, 1, 1, 2], numbers(steady_of(faster, edges, bite)), rtol=1e-12)


@pytest.mark.parametrize("scene", EVERY)
def test_the_directions_to_the_grain_share_one_force_among_them(scene, monkeypatch):
    """In a wood with one constant for all three, k w sqrt(h), whichever way the edge goes; the three add up."""

    def power(constants: tuple[float, float, float]) -> float:
        monkeypatch.setattr(module, "wood_of", lambda stock: Wood("none", 0.5, "made up", constants, False))
        return steady_of(scene, edges, bite, PLAIN).power

    edges, bite = last_edges(scene), bite_of(scene)
    even = sum((edge.lever * np.sqrt(edge.thickness * bite / edge.bites) * edge.step).sum() for edge in edges)
    apart = [power(one) for one in ((20.0, 0.0, 0.0), (0.0, 20.0, 0.0), (0.0, 0.0, 20.0))]

    assert power((20.0, 20.0, 20.0)) == pytest.approx(
        20 * even * scene.blade.teeth / (2 * math.pi) * scene.saw.speed / 1000, rel=1e-9
    )
    assert power((20.0, 20.0, 20.0)) == pytest.approx(sum(apart), rel=1e-9)
    assert min(apart) >= 0


@fewer(1 / 10)
@given(scene=scenes(stops=False, passes=2))
def test_a_fence_on_the_far_side_feels_the_opposite_force_and_nothing_else_changes(scene):
    """The wood is pushed the same way, only towards the other fence."""
    edges, bite = last_edges(scene, FEW), bite_of(scene)
    far = scene.model_copy(update={"setup": scene.setup.model_copy(update={"fence_side": "far"})})

    assert np.array_equal(
        numbers(steady_of(scene, edges, bite)) * [1, -1, 1, 1, 1], numbers(steady_of(far, edges, bite))
    )


@fewer(1 / 10)
@given(
    tilt=between(-40, 40),
    offset=between(-85, 85),
    rises=st.lists(between(0.5, 5), min_size=1, max_size=2),
    wide=between(40, 120),
)
def test_fed_square_the_stock_moved_to_the_other_side_feels_the_mirror_image(tilt, offset, rises, wide):
    """Mirrored fore and aft the blade turns the other way: thrust is mirrored, cutting force turned round as well."""
    heights = [float(h) for h in np.cumsum(rises)]

    def at(side: float, thrust: float) -> np.ndarray:
        scene = job(
            90.0,
            heights,
            stock__width=f"{wide!r} mm",
            setup__blade_tilt=f"{tilt!r} deg",
            setup__offset=f"{side * offset!r} mm",
        )
        return numbers(forces(scene, replace(PLAIN, thrust=thrust), FEW))

    cutting, other_cutting = at(1, 0.0), at(-1, 0.0)
    thrust, other_thrust = at(1, 1.0) - cutting, at(-1, 1.0) - other_cutting
    assume(cutting[4] > 0)
    slack = 1e-9 * (np.abs(cutting).max() + np.abs(thrust).max())

    assert np.allclose(cutting * [-1, 1, -1, 1, 1], other_cutting, rtol=0, atol=slack)
    assert np.allclose(thrust * [1, -1, 1, 1, 1], other_thrust, rtol=0, atol=slack)


@pytest.mark.parametrize("scene", EVERY)
def test_the_blade_is_pushed_as_the_wood_is_and_bends_by_its_stiffness(scene):
    """Untilted only thrust pushes the plate, and the rim gives by force over stiffness."""
    passes, area = passes_of(scene), pass_sections(scene)[-1].area
    load = load_of(scene, passes[-1], passes[-2].height if len(passes) > 1 else None, area)
    stiffness = rim_stiffness(scene.blade)

    assert load.usual == forces(scene)
    if stiffness is None:
        assert scene.blade.profile is not None
        assert load.deflection is None
    else:
        assert load.deflection * stiffness == pytest.approx(abs(load.usual.side), rel=1e-12)
        assert load.deflection > 0
    if scene.tilt == 0.0:
        assert forces(scene, PLAIN).side == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("height", [1.5, 10.0, 35.0])
def test_fed_square_shavings_and_teeth_in_wood_are_closed_forms(height):
    """Every shaving is as thick as the feed per tooth; the teeth in wood are those on the arc above the table."""
    scene = job(90.0, [height], species="balsa")
    load = load_of(scene, passes_of(scene)[0], None, 1.0)
    bite = 3000 / 3450 / 24  # mm: 3 m/min over teeth in a minute

    assert load.feed_per_tooth == pytest.approx(bite, rel=1e-12)
    assert load.chip_thickness_max == pytest.approx(bite, rel=1e-12)
    assert load.chip_thickness_mean == pytest.approx(bite, rel=1e-12)
    assert load.teeth_in_wood == pytest.approx(24 * math.acos(1 - height / 127.0) / math.pi, rel=1e-3)


def test_of_an_unknown_wood_no_force_is_told():
    """No force, no band, no deflection; the shavings are known all the same."""
    scene = job(28.0, [4.0, 8.0], species="balsa")
    first, second = passes_of(scene)
    load = load_of(scene, second, first.height, 50.0)

    assert by_rim_angle(scene, last_edges(scene), bite_of(scene)) is None
    assert load.low is load.usual is load.high is load.deflection is load.power is None
    assert load.chip_thickness_max > 0


@pytest.mark.parametrize("species", ["beech", "balsa"])
def test_a_pass_at_the_height_of_the_last_takes_no_force(species):
    """Nothing is left to cut: five noughts, or None where the wood is unknown."""
    got = forces(job(28.0, [8.0, 8.0], species=species))

    assert got is None if species == "balsa" else np.abs(numbers(got)).max() < 1e-6
