"""Points thrown at the stock: what the solids say of each against `oracles.py`, which shares no code with them.

The meshed rim is inscribed, so a mesh must take every point that the tool takes when all its radii are
less by the chord tolerance, and none that the true tool leaves. That is asked of points thrown within
a few tolerances of the cut's own surface, where the least error shows.
"""

import math

import numpy as np
import pytest
import shapely
from oracles import Cut, in_stock

from sweep.cut.passes import pass_sections, passes_of
from sweep.cut.stages import stage
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape.mesh import UNCUT, Mesh
from sweep.tolerance import CHORD, FINE_CHORD

ROUNDING = 1e-9
"""mm. Of coordinates of a metre."""

FLAT = ((-1.6, 127.0), (1.6, 127.0))
BEVELLED = ((-1.6, 127.0), (0.0, 127.0 - 1.6 * math.tan(math.radians(15))), (1.6, 127.0))
BEAD = ((-9.5, 60.0), (-7.0, 64.5), (-2.5, 67.0), (2.5, 67.0), (7.0, 64.5), (9.5, 60.0))
STEPPED = ((-4.3, 71.0), (0.7, 71.0), (0.7, 78.4), (3.1, 78.4))
DEEP_GROOVES = (
    (-16.393040296328163, 71.05653975988747),
    (-15.159182519701627, 43.592435753912625),
    (-7.157498017173705, 73.10560078836124),
    (-1.3732505436947875, 39.95981425322213),
    (9.153752379371731, 26.537935158877332),
    (9.910225479823744, 31.39726873932661),
)
STOP = "136.87034151339654 mm"
"""The stop in the scene of the deep grooves: the kernel stumbles on these very numbers."""

WHOLE_BLADE = {"diameter": "254 mm", "kerf": "3.2 mm", "teeth": 40}


def job(blade: dict, setup: dict, heights: list[str], stop: object = "through") -> Scene:
    """Return a scene over stock 310.3 x 92.7 x 24.1 mm; the last of the heights is the blade's."""
    return scene_from(
        {
            "stock": {"length": "310.3 mm", "width": "92.7 mm", "thickness": "24.1 mm"},
            "blade": blade,
            "saw": {"speed": "4000 rpm"},
            "setup": setup | {"blade_height": heights[-1]},
            "passes": {"heights": heights, "feed_speed": "2 m/min", "stop": stop},
        }
    )


def shaped(profile: tuple[tuple[float, float], ...]) -> dict:
    """Return a cutter as a scene holds it."""
    return {"teeth": 3, "profile": [list(point) for point in profile]}


THROUGH = {
    # name: scene, the tool as the oracle is told of it
    "plain": (job(WHOLE_BLADE, {"fence_angle": "28 deg"}, ["7 mm", "16 mm"]), FLAT),
    "tilted": (job(WHOLE_BLADE, {"fence_angle": "28 deg", "blade_tilt": "10 deg"}, ["16 mm"]), FLAT),
    "tilted the other way": (job(WHOLE_BLADE, {"fence_angle": "41 deg", "blade_tilt": "-33 deg"}, ["11.3 mm"]), FLAT),
    "off an edge": (job(WHOLE_BLADE, {"fence_angle": "28 deg", "offset": "27.7 mm"}, ["16 mm"]), FLAT),
    "nearly a rip cut": (job(WHOLE_BLADE, {"fence_angle": "1.5 deg"}, ["12 mm"]), FLAT),
    "fed square": (job(WHOLE_BLADE, {"fence_angle": "90 deg"}, ["6.1 mm"]), FLAT),
    "alternate bevel": (
        job(WHOLE_BLADE | {"tip": "alternate bevel", "bevel": "15 deg"}, {"fence_angle": "12 deg"}, ["8 mm"]),
        BEVELLED,
    ),
    "bead, tilted": (job(shaped(BEAD), {"fence_angle": "35 deg", "blade_tilt": "8 deg"}, ["14 mm"]), BEAD),
    "stepped cutter": (job(shaped(STEPPED), {"fence_angle": "22 deg", "offset": "-6 mm"}, ["13 mm"]), STEPPED),
}
STOPPED = {
    "stopped": (job(WHOLE_BLADE, {"fence_angle": "28 deg"}, ["16 mm"], "150 mm"), FLAT),
    "stopped, tilted": (
        job(WHOLE_BLADE, {"fence_angle": "33 deg", "blade_tilt": "-12 deg"}, ["9 mm", "15 mm"], "120 mm"),
        FLAT,
    ),
    "stops that differ": (
        job(
            WHOLE_BLADE,
            {"fence_angle": "28 deg", "offset": "11 mm"},
            ["5 mm", "9 mm", "14 mm"],
            ["through", "210 mm", "95 mm"],
        ),
        FLAT,
    ),
    "stopped, alternate bevel": (
        job(
            WHOLE_BLADE | {"tip": "alternate bevel", "bevel": "15 deg"},
            {"fence_angle": "9 deg", "blade_tilt": "5 deg"},
            ["6 mm"],
            "140 mm",
        ),
        BEVELLED,
    ),
    "stopped bead": (job(shaped(BEAD), {"fence_angle": "35 deg"}, ["14 mm"], "160 mm"), BEAD),
    "stopped stepped cutter": (job(shaped(STEPPED), {"fence_angle": "22 deg"}, ["13 mm"], "160 mm"), STEPPED),
}
EVERY = [pytest.param(*case, id=name) for name, case in (THROUGH | STOPPED).items()]


def cuts_of(scene: Scene, profile: tuple[tuple[float, float], ...]) -> list[Cut]:
    """Return the passes of a scene for the oracle, as numbers."""
    setup = scene.setup
    return [
        Cut(
            profile=profile,
            fence_angle=setup.fence_angle,
            blade_height=one.height,
            tilt=setup.blade_tilt,
            offset=setup.offset,
            stop=math.inf if one.stop is None else one.stop,
        )
        for one in passes_of(scene)
    ]


def kept(scene: Scene, cuts: list[Cut], points: np.ndarray, grow: float = 0.0) -> np.ndarray:
    """Return which points the oracle leaves in the stock."""
    stock = scene.stock
    inside = in_stock(points, stock.length, stock.width, stock.thickness)
    return inside & ~np.any([cut.takes(points, grow) for cut in cuts], axis=0)


def contains(mesh: Mesh, points: np.ndarray) -> np.ndarray:
    """Return which points lie in a mesh: a plumb line up from each crosses it an odd number of times."""
    order = np.argsort(points[:, 1])
    (x, y, z), found = points[order].T, np.zeros(len(points), bool)
    for a, b, c in mesh.vertices[mesh.triangles]:
        ab, ac = b - a, c - a
        twice = ab[0] * ac[1] - ab[1] * ac[0]
        if twice == 0.0:
            continue  # upright: no plumb line crosses it
        ys = a[1], b[1], c[1]  # most triangles are long and narrow: few points lie between their sides
        there = slice(np.searchsorted(y, min(ys), "left"), np.searchsorted(y, max(ys), "right"))
        right, ahead = x[there] - a[0], y[there] - a[1]
        share_b = (right * ac[1] - ahead * ac[0]) / twice
        share_c = (ahead * ab[0] - right * ab[1]) / twice
        under = (share_b >= 0) & (share_c >= 0) & (share_b + share_c <= 1)
        found[there] ^= under & (z[there] < a[2] + share_b * ab[2] + share_c * ac[2])
    inside = np.zeros(len(points), bool)
    inside[order] = found
    return inside


def beside_the_cut(mesh: Mesh, n: int, within: float, rng: np.random.Generator) -> np.ndarray:
    """Return points thrown evenly over the cut faces of a mesh and moved off them, each way, by up to `within` mm."""
    corners = mesh.vertices[mesh.triangles[mesh.cut_by != UNCUT]]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(normals, axis=1)
    which = rng.choice(len(corners), n, p=sizes / sizes.sum())
    shares = rng.dirichlet((1, 1, 1), n)
    moved = rng.uniform(-within, within, n) / sizes[which]
    return np.einsum("ij,ijk->ik", shares, corners[which]) + moved[:, None] * normals[which]


@pytest.mark.parametrize(("scene", "profile"), EVERY)
def test_what_is_left_weighs_what_thrown_points_say(scene, profile):
    """The volume taken from the slab of stock that the blade can reach, within four standard errors."""
    n, stock = 200_000, scene.stock
    slab = np.array([stock.length, stock.width, scene.setup.blade_height])
    points = np.random.default_rng(20240).uniform(size=(n, 3)) * slab - (0, stock.width / 2, 0)
    share = np.mean(~kept(scene, cuts_of(scene, profile), points))
    error = slab.prod() * math.sqrt(share * (1 - share) / n)
    taken = stage(scene, 0).volume - stage(scene, len(passes_of(scene))).volume

    assert 0.001 < share < 0.9
    assert slab.prod() * share == pytest.approx(taken, abs=4 * error)


@pytest.mark.parametrize(("scene", "profile"), EVERY)
def test_every_point_beside_the_cut_is_on_the_right_side_of_it(scene, profile):
    """Within four chord tolerances of the surface of the cut, not one point is misplaced by more than one."""
    mesh = stage(scene, len(passes_of(scene))).mesh
    cuts = cuts_of(scene, profile)
    points = beside_the_cut(mesh, 20_000, 4 * CHORD, np.random.default_rng(20241))
    left = contains(mesh, points)
    surely_left = kept(scene, cuts, points, grow=ROUNDING)
    surely_taken = ~kept(scene, cuts, points, grow=-CHORD - ROUNDING)

    assert 0 == np.count_nonzero(surely_left & ~left)
    assert 0 == np.count_nonzero(surely_taken & left)
    assert min(np.count_nonzero(surely_left), np.count_nonzero(surely_taken)) > 5_000


DENTED = [
    # scenes in which the solid kernel, manifold3d 3.5.4, left wood standing in the cut: found by throwing scenes
    pytest.param(
        job({"diameter": "210 mm", "kerf": "2.6 mm", "teeth": 40}, {"fence_angle": "90 deg"}, ["3 mm"], "150 mm"),
        ((-1.3, 105.0), (1.3, 105.0)),
        id="hull of points that lie four by four on lines along the feed",
    ),
    pytest.param(
        job(shaped(DEEP_GROOVES), {"fence_angle": "53.79023546708742 deg"}, ["7.478894622325197 mm"], STOP),
        DEEP_GROOVES,
        id="union of three hulls",
    ),
]


@pytest.mark.parametrize(("scene", "profile"), DENTED)
def test_no_strip_of_the_cut_is_left_standing(scene, profile):
    """Scenes on which the kernel stumbled: not one point beside the cut is misplaced by more than the chord."""
    mesh = stage(scene, 1).mesh
    (cut,) = cuts_of(scene, profile)
    points = beside_the_cut(mesh, 20_000, 4 * CHORD, np.random.default_rng(20245))
    left = contains(mesh, points)

    assert 0 == np.count_nonzero(kept(scene, [cut], points, grow=ROUNDING) & ~left)
    assert 0 == np.count_nonzero(left & ~kept(scene, [cut], points, grow=-CHORD - ROUNDING))


@pytest.mark.parametrize("travel", [-10.0, 60.5, 200.0, 330.0])
def test_every_point_is_right_while_the_cut_is_under_way(travel):
    """Half-way through the second pass, wherever the stock has got to, both near the cut and far from it."""
    scene, profile = THROUGH["plain"]
    mesh = stage(scene, 2, travel).mesh
    first, second = cuts_of(scene, profile)
    cuts = [first, Cut(profile, second.fence_angle, second.blade_height, stop=travel)]
    rng = np.random.default_rng(20242)
    anywhere = rng.uniform((0, -46.35, 0), (310.3, 46.35, 24.1), (10_000, 3))
    points = np.vstack([beside_the_cut(mesh, 10_000, 4 * CHORD, rng), anywhere])
    left = contains(mesh, points)

    assert 0 == np.count_nonzero(kept(scene, cuts, points, grow=ROUNDING) & ~left)
    assert 0 == np.count_nonzero(left & ~kept(scene, cuts, points, grow=-CHORD - ROUNDING))


@pytest.mark.parametrize(("scene", "profile"), [pytest.param(*case, id=name) for name, case in THROUGH.items()])
def test_the_exact_section_agrees_with_a_drawing_along_the_feed(scene, profile):
    """Points beside the outline of what is left, on the right side of it to the fine tolerance."""
    left = pass_sections(scene)[-1].left
    cuts = cuts_of(scene, profile)
    rng = np.random.default_rng(20243)
    corners = shapely.get_coordinates(left.exterior)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(corners, axis=0).T))])
    places = rng.uniform(0, along[-1], 20_000)
    outline = np.column_stack([np.interp(places, along, side) for side in corners.T])
    points = outline + rng.uniform(-1, 1, outline.shape) * 4 * FINE_CHORD
    inside = shapely.contains_xy(left, points)
    planed = np.abs(points[:, 0]) <= scene.stock.width / 2
    planed &= (points[:, 1] >= 0) & (points[:, 1] <= scene.stock.thickness)
    surely_left = planed & ~np.any([cut.takes_from_section(points, ROUNDING) for cut in cuts], axis=0)
    surely_taken = ~planed | np.any([cut.takes_from_section(points, -FINE_CHORD - ROUNDING) for cut in cuts], axis=0)

    assert 0 == np.count_nonzero(surely_left & ~inside)
    assert 0 == np.count_nonzero(surely_taken & inside)
    assert min(np.count_nonzero(surely_left), np.count_nonzero(surely_taken)) > 2_000


@pytest.mark.parametrize(("scene", "profile"), [pytest.param(*case, id=name) for name, case in THROUGH.items()])
def test_the_two_oracles_say_the_same(scene, profile):
    """Riding along the feed and looking along it give the same answer for every point of a through pass."""
    cut = cuts_of(scene, profile)[-1]
    rng = np.random.default_rng(20244)
    section = rng.uniform((-46, 0), (46, scene.setup.blade_height), (20_000, 2))
    points = np.column_stack([rng.uniform(0, 310, len(section)), section])

    assert np.array_equal(cut.takes(points), cut.takes_from_section(section))
    assert 0 < np.count_nonzero(cut.takes(points)) < len(points)
