"""The tooth marks against teeth laid side by side, one by one, in plain numpy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import fewer

from sweep.cut.surface import surface_of
from sweep.plan.complete import plan_setups
from sweep.scene.read import scene_from

RADIUS, KERF, TEETH = 127.0, 3.2, 6
TURN = 4000 / 60  # turns a second

FLAT = ((-KERF / 2, RADIUS), (KERF / 2, RADIUS))


def scene(step=0.02, angle=28.0, tilt=0.0, height=16.0, offset=0.0, **blade):
    """A cut with some feed per tooth; `blade` replaces the flat tips."""
    blade = blade or {"diameter": f"{2 * RADIUS} mm", "kerf": f"{KERF} mm"}
    return scene_from(
        {
            "stock": {"length": "600 mm", "width": "300 mm", "thickness": f"{height + 10} mm"},
            "blade": {"teeth": TEETH, "runout": "0 mm", "wobble": "0 mm", **blade},
            "saw": {"speed": "4000 rpm"},
            "setup": {
                "fence_angle": f"{angle} deg",
                "blade_tilt": f"{tilt} deg",
                "blade_height": f"{height} mm",
                "offset": f"{offset} mm",
            },
            "passes": {"heights": [f"{height} mm"], "feed_speed": f"{step * TURN * TEETH * 0.06} m/min"},
        }
    )


def left_by_teeth(scene, y, z, normal, step, teeth, proud=None, deepest=0.0, at=None, samples=1200):
    """Along one period of the feed, x of the stock and how high wood stands there over what the whole tool swept.

    Each tooth is its own solid of revolution, standing still a step after the one before; `teeth` are their profiles,
    used in turn, `proud` is what is added to each one's radius, and `at` the x to look at. From the point (y, z) of
    the profile the wood is probed along `normal`, which points out of it, by halving.
    """
    setup = scene.setup
    theta, beta = setup.fence_angle, setup.blade_tilt
    feed = np.array([math.sin(theta), math.cos(theta), 0.0])
    across = np.array([math.cos(theta), -math.sin(theta), 0.0])
    axis, up = np.array([math.cos(beta), 0, -math.sin(beta)]), np.array([math.sin(beta), 0, math.cos(beta)])
    centre = setup.blade_height - max(r * math.cos(beta) - a * math.sin(beta) for tooth in teeth for a, r in tooth)
    count = len(teeth)
    proud = proud or [0.0] * count

    # a point of the probe, each of its three coordinates by itself: so much for travel, for depth, and from the start
    level = np.array([0.0, 0.0, 1.0])
    ways = feed, normal[0] * across + normal[1] * level, (y + setup.offset) * across + z * level
    by_travel, by_depth, from_start = np.array(ways) @ np.array([axis, up, [0.0, 1.0, 0.0]]).T
    from_start = from_start - [0.0, centre / math.cos(beta), 0.0]

    def inside(travel, depth, number):
        """How deep points lie in one tooth's solid when the stock has come so far; negative outside."""
        along, high, ahead = (travel * by_travel[k] + depth * by_depth[k] + from_start[k] for k in range(3))
        offsets, radii = np.array(teeth[number % count]).T
        reach = np.interp(along, offsets, radii) + proud[number % count]
        return np.minimum(reach - np.hypot(high, ahead), np.minimum(along - offsets[0], offsets[-1] - along))

    met, half = 0.0, 200.0  # where the tool comes closest to the point
    for _ in range(9):
        travel = met + np.linspace(-half, half, 2001)
        met = travel[np.argmax(np.max([inside(travel, 0 * travel, n) for n in range(count)], axis=0))]
        half /= 50 if half > 1e-3 else 1

    x = np.linspace(0.0, count * step, samples) if at is None else at + met
    numbers = range(-count - 2, 2 * count + 3)
    low, high = np.full(len(x), -2 * max([1e-3 * step, deepest, *proud])), np.full(len(x), 2.0 * count * step)
    for halving in range(30):  # to 1e-8 of a step
        middle = (low + high) / 2 if halving else high
        gone = np.any([inside(met + n * step - x, middle, n) >= 0 for n in numbers], axis=0)
        assert halving or gone.all(), "the probe starts in the open"
        high, low = np.where(gone, middle, high), np.where(gone, low, middle)
    return x - met, high


def out_of_wood(points, k):
    """The unit normal of the profile at its k-th point, out of the wood."""
    run = points[k + 1] - points[k - 1]
    return np.array([run[1], -run[0]]) / np.hypot(*run)


def peak_to_valley(surface, scene, k, step, teeth, proud=None, deepest=0.0):
    """The ridge at the k-th point of the profile, by teeth one by one."""
    points = np.array(surface.points)
    probe = scene, *points[k], out_of_wood(points, k), step, teeth, proud, deepest
    x, level = left_by_teeth(*probe, samples=200 * len(teeth))
    close = x[1] - x[0]
    for _ in range(2):  # a steep face may hide the crest and the mark beside it between two samples
        near = np.linspace(-close, close, 161)
        x, level = left_by_teeth(*probe, at=np.concatenate([x[np.argmin(level)] + near, x[np.argmax(level)] + near]))
        close /= 80
    return float(np.ptp(level))


def flank_points(surface):
    """Numbers of points within the flanks, clear of their ends."""
    least = 0.02 * surface.largest
    return [k for k in range(3, len(surface.points) - 3) if min(surface.ridges[k - 3 : k + 4]) > least]


angles = st.floats(8.0, 80.0)
tilts = st.just(0.0) | st.floats(-35.0, 35.0)
steps = st.floats(0.004, 0.06)
share = st.floats(0.0, 1.0)


@fewer(3 / 40)
@given(angle=angles, tilt=tilts, height=st.floats(3.0, 60.0), step=steps, offset=st.floats(-20.0, 20.0), at=share)
def test_ridges_are_what_flat_teeth_one_by_one_leave(angle, tilt, height, step, offset, at):
    """Any angle, tilt, height, feed and place on either flank."""
    cut = scene(step, angle, tilt, height, offset)
    surface = surface_of(cut)
    flanks = flank_points(surface)
    assume(flanks)
    k = flanks[round(at * (len(flanks) - 1))]

    assert peak_to_valley(surface, cut, k, step, [FLAT]) == pytest.approx(surface.ridges[k], rel=0.005, abs=1e-4 * step)


@fewer(1 / 20)
@given(angle=angles, tilt=tilts, bevel=st.floats(2.0, 30.0), step=steps, at=share)
def test_ridges_are_what_teeth_bevelled_to_either_hand_leave(angle, tilt, bevel, step, at):
    """Each tooth is a solid of its own: long on one side, short on the other, by turns."""
    blade = {"diameter": f"{2 * RADIUS} mm", "kerf": f"{KERF} mm", "tip": "alternate bevel", "bevel": f"{bevel} deg"}
    cut = scene(step, angle, tilt, **blade)
    short = RADIUS - KERF * math.tan(math.radians(bevel))
    hands = [((-KERF / 2, RADIUS), (KERF / 2, short)), ((-KERF / 2, short), (KERF / 2, RADIUS))]
    surface = surface_of(cut)
    flanks = flank_points(surface)
    k = flanks[round(at * (len(flanks) - 1))]

    assert surface.spacing == pytest.approx(2 * step)
    assert peak_to_valley(surface, cut, k, step, hands) == pytest.approx(surface.ridges[k], rel=0.01, abs=1e-4 * step)


@fewer(1 / 20)
@given(angle=angles, tilt=tilts, drop=st.floats(0.3, 3.0), step=steps, at=share)
def test_ridges_are_what_the_corners_of_a_shaped_cutter_leave(angle, tilt, drop, step, at):
    """A head with chamfered corners: whichever corner makes the place, the wedge there is its own."""
    head = ((-6.0, 70.0 - drop), (-4.0, 70.0), (3.0, 70.0), (6.0, 70.0 - 2 * drop))
    cut = scene(step, angle, tilt, 14.0, profile=[list(point) for point in head])
    surface = surface_of(cut)
    flanks = flank_points(surface)
    assume(flanks)
    k = flanks[round(at * (len(flanks) - 1))]

    assert peak_to_valley(surface, cut, k, step, [head]) == pytest.approx(surface.ridges[k], rel=0.005, abs=1e-4 * step)


@fewer(1 / 8)
@given(angle=angles, height=st.floats(3.0, 60.0), step=steps)
def test_untilted_it_is_the_closed_form_at_every_point(angle, height, step):
    """Section 4 of the design: f sin cos |cos p| / sqrt(sin^2 + cos^2 cos^2 p), the rim angle from the height."""
    surface = surface_of(scene(step, angle, height=height))
    sin, cos = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    upright = np.minimum((RADIUS - height + np.array(surface.points)[:, 1]) / RADIUS, 1.0)
    across = np.sqrt(1 - upright**2)
    wanted = step * sin * cos * across / np.sqrt(sin**2 + (cos * across) ** 2)
    wanted = np.maximum(wanted, (step * cos) ** 2 / (8 * RADIUS))

    # a hair from the bottom the height tells the rim angle only to half its figures
    assert np.all(np.abs(surface.ridges - wanted) <= np.maximum(1e-6 * wanted, 1e-7 * step))


@fewer(1 / 8)
@given(angle=st.floats(8.0, 60.0), tilt=st.floats(-5.0, 5.0), height=st.floats(10.0, 60.0), step=steps)
def test_the_bottom_keeps_only_the_scallops_of_the_round_rim(angle, tilt, height, step):
    """Where the top edge runs along the surface corners leave nothing: the flat has f_in_plane^2 / 8 R."""
    surface = surface_of(scene(step, angle, tilt, height))
    theta, beta = math.radians(angle), math.radians(tilt)
    in_plane = step**2 * (math.cos(theta) ** 2 + (math.sin(theta) * math.sin(beta)) ** 2)

    assert min(surface.ridges) == pytest.approx(in_plane / (8 * RADIUS))


def test_scallops_are_what_teeth_one_by_one_leave_on_the_flat():
    """Coarse feed, so that they are clear of rounding; the middle of the flat."""
    cut = scene(step=0.5)
    surface = surface_of(cut)
    k = len(surface.points) // 2

    assert abs(surface.points[k][0]) < KERF / 4
    assert peak_to_valley(surface, cut, k, 0.5, [FLAT]) == pytest.approx(surface.ridges[k], rel=1e-3)


@fewer(1 / 8)
@given(angle=angles, tilt=tilts, height=st.floats(3.0, 60.0), step=steps, slower=st.floats(0.15, 1.0))
def test_a_slower_last_feed_leaves_lower_ridges_in_proportion(angle, tilt, height, step, slower):
    """Half the feed, half the sanding."""
    fast, slow = (surface_of(scene(f, angle, tilt, height)) for f in (step, slower * step))

    assert slow.largest == pytest.approx(slower * fast.largest, rel=1e-9)
    assert slow.sanding_depth == pytest.approx(fast.ridge_per_feed * slower * step, rel=1e-9)
    assert slow.spacing == pytest.approx(slower * step)


@fewer(1 / 8)
@given(angle=angles, height=st.floats(3.0, 60.0))
def test_an_untilted_cut_is_marked_alike_on_both_flanks_and_most_at_the_edges(angle, height):
    """Left and right mirror each other, and ridges never fall from the bottom out."""
    surface = surface_of(scene(0.02, angle, height=height))
    ridges, half = np.array(surface.ridges), len(surface.ridges) // 2 + 1

    assert np.all(np.abs(ridges - ridges[::-1]) <= np.maximum(1e-6 * ridges, 1e-9))
    assert np.diff(ridges[:half]).max() <= 1e-9
    assert surface.largest == pytest.approx(ridges[0])


@pytest.mark.parametrize(("side", "k"), [(-1, 20), (1, -21)])
@pytest.mark.parametrize("tilt", [0.0, 12.0, -12.0])
def test_the_left_flank_is_left_by_the_corner_before_and_the_right_one_by_the_corner_behind(side, k, tilt):
    """Teeth that keep only half their width leave the same ridges on the side they keep."""
    cut = scene(0.03, tilt=tilt)
    surface = surface_of(cut)
    k %= len(surface.points)
    points = np.array(surface.points)
    half = ((-KERF / 2, RADIUS), (0.0, RADIUS)) if side < 0 else ((0.0, RADIUS), (KERF / 2, RADIUS))
    # keep the blade where it stands although its highest corner may be gone
    lost = max(r * math.cos(math.radians(tilt)) - a * math.sin(math.radians(tilt)) for a, r in FLAT) - max(
        r * math.cos(math.radians(tilt)) - a * math.sin(math.radians(tilt)) for a, r in half
    )
    lowered = cut.model_copy(update={"setup": cut.setup.model_copy(update={"blade_height": 16.0 - lost})})
    _, kept = left_by_teeth(lowered, *points[k], out_of_wood(points, k), 0.03, [half])

    assert np.ptp(kept) == pytest.approx(surface.ridges[k], rel=0.01)
    assert kept.min() == pytest.approx(0.0, abs=1e-4 * 0.03)


@fewer(1 / 32)
@given(angle=st.floats(15.0, 70.0), tilt=tilts, share_of_turn=st.floats(0.0, 1.5), at=share)
def test_a_tooth_that_stands_proud_leaves_no_more_than_the_rule_says_and_hardly_less(angle, tilt, share_of_turn, at):
    """The rule min(h(z f), e + h(f)) bounds the true ridge from above, and by less than one h(f)."""
    step = 0.01
    cut = scene(step, angle, tilt)
    equal = surface_of(cut)
    runout = share_of_turn * TEETH * equal.largest
    surface = surface_of(cut, runout)
    flanks = flank_points(equal)
    k = flanks[round(at * (len(flanks) - 1))]
    true = peak_to_valley(equal, cut, k, step, [FLAT] * TEETH, [runout] + [0.0] * (TEETH - 1))

    assert true <= surface.ridges[k] * 1.03
    assert true >= surface.ridges[k] - equal.ridges[k] * 1.05


@pytest.mark.parametrize(("share_of_turn", "all_by_one"), [(0.3, False), (12.0, True)])
def test_a_rim_that_wobbles_leaves_no_more_than_the_rule_says(share_of_turn, all_by_one):
    """Teeth moved along the arbor as a cosine once a turn stay below the rule; far apart, one makes all marks."""
    step, cut = 0.01, scene(0.01)
    equal = surface_of(cut)
    wobble = share_of_turn * TEETH * equal.largest
    surface, k = surface_of(cut, wobble=wobble), flank_points(equal)[5]
    moved = [wobble / 2 * math.cos(2 * math.pi * n / TEETH) for n in range(TEETH)]
    teeth = [tuple((a + by, r) for a, r in FLAT) for by in moved]
    true = peak_to_valley(equal, cut, k, step, teeth, deepest=wobble)

    assert equal.ridges[k] < true <= surface.ridges[k] * 1.03
    flat = max(range(len(equal.points)), key=lambda at: equal.points[at][1])
    assert surface.ridges[flat] == equal.ridges[flat]  # along the arbor the flat of the kerf only moves in itself
    if all_by_one:
        assert true == pytest.approx(surface.ridges[k], rel=0.03) == pytest.approx(TEETH * equal.ridges[k], rel=0.03)


def test_with_run_out_marks_repeat_once_a_turn():
    """Less than the ridge of equal teeth goes unseen; much more leaves one tooth to make every mark."""
    cut = scene(0.01)
    equal = surface_of(cut)

    assert surface_of(cut, 0.1 * equal.largest).spacing == equal.spacing == pytest.approx(0.01)
    assert surface_of(cut, 5 * equal.largest).spacing == pytest.approx(0.01 * TEETH)
    assert surface_of(cut, 1.0).largest == pytest.approx(TEETH * equal.largest)
    with pytest.raises(ValueError, match="negative"):
        surface_of(cut, -0.01)


@pytest.mark.parametrize("tilt", [0.0, 10.0, -20.0])
def test_crest_and_slant_are_those_of_teeth_one_by_one(tilt):
    """Where the crest stands between two marks, and how it moves from one height on the flank to the next."""
    step = 0.05
    cut = scene(step, tilt=tilt)
    surface = surface_of(cut)
    points = np.array(surface.points)
    first = surface.ridges.index(surface.largest)
    inward = 1 if first == 0 else -1
    normal = out_of_wood(points, first + inward)
    along = np.array([-normal[1], normal[0]]) * np.sign(normal[0])  # away from the table

    x, level = left_by_teeth(cut, *points[first], normal, step, [FLAT])
    mark, crest = x[np.argmin(level)], x[np.argmax(level)]
    assert (crest - mark) % step / step == pytest.approx(surface.crest, abs=0.01)

    further, moved = left_by_teeth(cut, *(points[first] + 0.2 * step * along), normal, step, [FLAT])
    shift = (further[np.argmax(moved)] - crest + step / 2) % step - step / 2
    assert shift == pytest.approx(0.2 * step * surface.slant, abs=0.02 * step)


def test_fed_square_the_corners_leave_nothing():
    """At 90 deg the top edges run along the feed all over."""
    assert surface_of(scene(angle=90.0)).largest == 0.0


def test_corners_whose_faces_run_with_the_feed_leave_finite_marks():
    """A step in a shaped cutter, fed square: two of its faces are parallel to the way from tooth to tooth."""
    marks = surface_of(scene(angle=90.0, height=1.3, profile=[[-8, 12], [5, 12.21], [5, 93]]))

    assert np.all(np.isfinite(marks.ridges))
    assert np.isfinite([marks.crest, marks.slant]).all()


def test_a_blade_beside_the_stock_marks_nothing():
    """No profile, no ridges."""
    surface = surface_of(scene(offset=400.0))

    assert surface.points == surface.ridges == ()
    assert surface.where is None
    assert surface.largest == surface.sanding_depth == 0.0


def test_a_profile_drawn_finer_leaves_lower_ridges():
    """A round nose written as ever shorter edges tends to no corners at all."""
    largest = []
    for count in (8, 16, 32):
        turn = np.linspace(-1.2, 1.2, count)
        nose = [[float(a), float(r)] for a, r in zip(5 * np.sin(turn), 60 + 5 * np.cos(turn), strict=True)]
        points = surface_of(scene(0.02, 40.0, height=6.0, profile=nose))
        middle = [h for (y, _), h in zip(points.points, points.ridges, strict=True) if abs(y) < 6]
        largest.append(max(middle))

    assert largest[0] > 1.7 * largest[1] > 2.9 * largest[2] > 0


def rip(height="10 mm", tilt="0 deg", step=0.3, **blade):
    """A straight cut in stock 60 by 30 mm, with some feed per tooth."""
    blade = {
        "teeth": TEETH,
        "diameter": f"{2 * RADIUS} mm",
        "kerf": f"{KERF} mm",
        "runout": "0 mm",
        "wobble": "0 mm",
    } | blade
    cut = {"do": "rip", "at": "0 mm", "blade_height": height, "blade_tilt": tilt}
    cut |= {"passes": {"heights": [height], "feed_speed": f"{step * TURN * TEETH * 0.06} m/min"}}
    tables = {"stock": {"length": "600 mm", "width": "60 mm", "thickness": "30 mm"}, "blade": blade}
    whole = scene_from(tables | {"saw": {"speed": "4000 rpm"}, "setups": [cut]})
    return plan_setups(whole)[0].setting.whole


@pytest.mark.parametrize("tilt", [0.0, 25.0, -40.0])
def test_a_rip_leaves_scallops_at_its_bottom_and_nothing_on_its_walls_as_its_teeth_do_one_by_one(tilt):
    """The closed form of peripheral milling, f^2 / 8 R, and flat teeth standing still a step after one another."""
    cut, step = rip(tilt=f"{tilt} deg"), 0.3
    surface = surface_of(cut)
    points, ridges = np.array(surface.points), np.array(surface.ridges)
    sin, cos = math.sin(math.radians(tilt)), math.cos(math.radians(tilt))
    bottom, wall = int(np.argmax(ridges)), int(np.argmin(ridges))
    aside = math.copysign(1.0, points[wall, 0] - points[wall, 1] * sin / cos)  # of the middle of the kerf

    assert set(ridges.round(12)) == {0.0, round(step**2 / (8 * RADIUS), 12)}
    assert surface.largest == surface.equal and surface.spacing == pytest.approx(step)
    for at, into_kerf in ((bottom, (-sin, -cos)), (wall, (-aside * cos, aside * sin))):
        _, level = left_by_teeth(cut, *points[at], into_kerf, step, [FLAT])
        assert np.ptp(level) == pytest.approx(ridges[at], abs=2e-7)


def test_a_rim_that_wobbles_or_a_proud_tooth_marks_a_rip_once_a_turn():
    """On the walls no more than it wobbles; at the bottom no more than the scallops of one tooth a turn."""
    turn = 0.3 * TEETH
    wobbling = surface_of(rip(wobble="0.04 mm"))
    proud = surface_of(rip(runout="0.001 mm"))
    through = surface_of(rip(height="33 mm", wobble="0.04 mm"))

    assert (wobbling.largest, wobbling.spacing) == (pytest.approx(0.04), pytest.approx(turn))
    assert proud.largest == pytest.approx(min(turn**2 / (8 * RADIUS), 0.3**2 / (8 * RADIUS) + 0.001))
    assert through.equal == 0.0 and set(through.ridges) == {0.04}  # it has no bottom
    assert surface_of(rip(runout="0.5 mm")).largest == pytest.approx(turn**2 / (8 * RADIUS))
