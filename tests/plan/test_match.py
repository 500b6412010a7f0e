"""Matching an offcut: exact points give back the set-up, noisy ones an interval that holds it, others a plain no."""

from __future__ import annotations

import io
import math

import numpy as np
import pytest
from demos import SCENES
from fair import fair
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from strategies import fewer

from sweep.errors import SceneError
from sweep.plan.match import Match, match_offcut
from sweep.shape.tool import alternate_bevel, flat_tips
from sweep.show.terminal.match import print_match
from sweep.units import Units

BLADE = flat_tips(127.0, 3.2)
UNTILTED = (0.0, 0.0)


def outline(angle, height, tilt=0.0, faces=(10.0, 10.0), radius=127.0, kerf=3.2, count=20):
    """Points on the outline that flat-topped teeth leave, (n, 2) mm, from the formulas of design.md, section 2.

    In the plane of true circles each flank is an arc of one rim, and between them lies the tangent to both.
    """
    a = np.array([-kerf / 2, kerf / 2])
    x = a / (math.tan(angle) * math.cos(tilt))
    z = (height - radius * math.cos(tilt) - kerf / 2 * abs(math.sin(tilt)) - a * math.sin(tilt)) / math.cos(tilt)
    top = math.pi / 2 + math.atan2(z[1] - z[0], x[1] - x[0])
    left = np.linspace(math.pi - math.asin(-z[0] / radius), top, count)
    right = np.linspace(top, math.asin(-z[1] / radius), count)
    assert right[-1] < top < left[0], "both rims reach the table"
    x = np.concatenate([x[0] + radius * np.cos(left), x[1] + radius * np.cos(right)])
    z = np.concatenate([z[0] + radius * np.sin(left), z[1] + radius * np.sin(right)]) * math.cos(tilt)
    hollow = np.column_stack([x * math.sin(angle) + z * math.tan(tilt) * math.cos(angle), z])
    beside = [np.column_stack([np.linspace(0, far, 6)[1:], np.zeros(5)]) if far else np.zeros((0, 2)) for far in faces]
    return np.vstack([hollow[0] - beside[0], hollow, hollow[-1] + beside[1]])


def moved(points, turn, shift):
    """The same points in axes of their own."""
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return points @ rotation.T + shift


def measured(points, noise=0.05, seed=1):
    """The same points as a gauge in a shaking hand would give them."""
    return moved(points, 0.035, (31.0, -12.0)) + noise * np.random.default_rng(seed).standard_normal(points.shape)


def reported(match: Match, style: str = "mm") -> str:
    """What the terminal shows."""
    console = Console(file=io.StringIO(), width=1000)
    print_match(console, match, Units(style))
    return console.file.getvalue()


@fewer(1 / 20)
@given(
    radius=st.floats(90, 150),
    kerf=st.floats(2, 5),
    angle=st.floats(12, 50),
    height=st.floats(13, 30),
    tilt=st.floats(-20, 20),
    turn=st.floats(-5, 5),
    upside_down=st.booleans(),
    shift=st.tuples(st.floats(-300, 300), st.floats(-300, 300)),
)
def test_exact_points_give_back_the_set_up(radius, kerf, angle, height, tilt, turn, upside_down, shift):
    """To 0.001 deg and 0.001 mm, however the piece lies."""
    points = outline(math.radians(angle), height, math.radians(tilt), (7.0, 12.0), radius, kerf)
    turn = math.radians(turn + 180 * upside_down)
    found = match_offcut(flat_tips(radius, kerf), moved(points, turn, shift))

    assert math.degrees(found.fence_angle.value) == pytest.approx(angle, abs=1e-3)
    assert found.blade_height.value == pytest.approx(height, abs=1e-3)
    assert math.degrees(found.blade_tilt.value) == pytest.approx(tilt, abs=1e-3)
    assert math.remainder(found.rotation.value - turn, 2 * math.pi) == pytest.approx(0, abs=1e-4)
    assert [e.value for e in found.shift] == pytest.approx(shift, abs=1e-2)
    assert found.by_this_blade
    assert found.left_out == 0


def test_the_intervals_hold_the_truth_nineteen_times_in_twenty():
    """30 random set-ups (in `deep` 750), 0.05 mm of noise, each setting within what a fair 95 % allows (99.9 %)."""
    count = fewer(3 / 20).max_examples
    rng = np.random.default_rng(3)
    held = np.zeros(4)
    for _ in range(count):
        angle, height = math.radians(rng.uniform(15, 40)), rng.uniform(12, 28)
        tilt, turn = math.radians(rng.uniform(-25, 25)), math.radians(rng.uniform(-4, 4))
        points = moved(outline(angle, height, tilt, (10.0, 14.0), count=8), turn, (5.0, 3.0))
        found = match_offcut(BLADE, points + 0.05 * rng.standard_normal(points.shape), accuracy=0.05)
        estimates = (found.fence_angle, found.blade_height, found.blade_tilt, found.rotation)
        held += [
            one.half_width is not None and abs(one.value - true) <= one.half_width
            for one, true in zip(estimates, (angle, height, tilt, turn), strict=True)
        ]
    low, high = fair(count, 0.95)

    assert np.all((low <= held) & (held <= high)), held


def test_points_tell_no_more_than_they_were_measured():
    """Intervals are as wide as the accuracy that is said where points scatter less, and else as they scatter."""
    points = measured(outline(math.radians(25), 13.0))
    halves = [match_offcut(BLADE, points, accuracy=one).blade_height.half_width for one in (0.02, 0.2, 0.4)]
    scatter = match_offcut(BLADE, points).scatter

    assert halves[2] == pytest.approx(2 * halves[1])
    assert halves[1] / halves[0] == pytest.approx(0.2 / scatter, rel=0.1)
    assert 0.02 < scatter < 0.2


def test_a_tilt_that_is_given_is_kept():
    """And the others are found beside it, more surely than without."""
    points = measured(outline(math.radians(25), 13.0, math.radians(8)))
    free, held = match_offcut(BLADE, points), match_offcut(BLADE, points, (math.radians(8), math.radians(8)))

    assert (held.blade_tilt.value, held.blade_tilt.half_width) == (math.radians(8), 0.0)
    assert held.fence_angle.half_width < free.fence_angle.half_width
    assert abs(held.blade_height.value - 13.0) <= held.blade_height.half_width
    assert "given" in reported(held)


def test_bevelled_teeth_are_matched_too():
    """The notch between the two hands is all but wiped out: the flat-topped outline fits within its trace."""
    points = measured(outline(math.radians(25), 13.0))
    found = match_offcut(alternate_bevel(127.0, 3.2, math.radians(15)), points)

    assert found.by_this_blade
    assert math.degrees(found.fence_angle.value) == pytest.approx(25, abs=0.3)


def test_points_in_any_order_match_alike():
    """A gauge may be read from either side."""
    points = measured(outline(math.radians(25), 13.0))
    shuffled = np.random.default_rng(0).permutation(points)

    assert match_offcut(BLADE, shuffled).blade_height.value == pytest.approx(
        match_offcut(BLADE, points).blade_height.value, abs=1e-6
    )


def test_from_the_other_end_the_tilt_has_the_other_sign():
    """A mirror image is the same moulding, turned end for end."""
    points = measured(outline(math.radians(25), 13.0, math.radians(12)))
    there, back = match_offcut(BLADE, points), match_offcut(BLADE, points * [-1, 1])

    assert back.blade_tilt.value == pytest.approx(-there.blade_tilt.value, abs=1e-5)
    assert back.fence_angle.value == pytest.approx(there.fence_angle.value, abs=1e-6)
    assert "the other sign" in reported(there)


def test_half_an_outline_still_tells_the_set_up_if_less_surely():
    """One face and the hollow to a little beyond its top; the tilt known."""
    points = outline(math.radians(25), 13.0)
    whole, half = (match_offcut(BLADE, measured(part), UNTILTED) for part in (points, points[:28]))

    assert abs(half.fence_angle.value - math.radians(25)) <= half.fence_angle.half_width
    assert abs(half.blade_height.value - 13.0) <= half.blade_height.half_width
    assert half.fence_angle.half_width > whole.fence_angle.half_width


@pytest.mark.parametrize("noise", [0.0, 0.05])
def test_the_hollow_alone_does_not_tell_the_height(noise):
    """A blade set higher and a piece held lower cut the same; the flat beside it would tell."""
    found = match_offcut(BLADE, measured(outline(math.radians(25), 13.0, faces=(0, 0)), noise), UNTILTED)

    assert found.untold == ("blade height",)
    assert abs(found.fence_angle.value - math.radians(25)) <= found.fence_angle.half_width + 1e-6
    assert "do not tell the blade height: measure a few points on the flat on either side" in reported(found)


@pytest.mark.parametrize("noise", [0.0, 0.05])
def test_the_hollow_alone_does_not_tell_tilt_from_rotation_either(noise):
    """Turning the piece about the feed is tilting the blade: sin(angle) cos(tilt) is all that is told of the two."""
    found = match_offcut(BLADE, measured(outline(math.radians(25), 13.0, faces=(0, 0)), noise))

    assert found.untold == ("fence angle", "blade height", "blade tilt")
    assert found.rotation.half_width is None
    assert math.sin(found.fence_angle.value) * math.cos(found.blade_tilt.value) == pytest.approx(
        math.sin(math.radians(25)), abs=0.01
    )


def test_two_tilts_that_fit_as_well_are_both_named():
    """In a shallow cove a leaning kerf and a leaning rim balance at two tilts, and no single one is claimed."""
    points = outline(math.radians(58), 6.5, math.radians(7), radius=116.0, kerf=2.4)
    found = match_offcut(flat_tips(116.0, 2.4), measured(points))

    assert "blade tilt" in found.untold
    assert len(found.rivals) == 1
    assert "Another set-up comes as close: fence at" in reported(found)


def arc():
    """The quarter round of a 26 mm cove bit, drawn out to a hollow, and a flat on either side."""
    turns = np.linspace(math.pi, 0, 40)
    beside = np.column_stack([np.linspace(14, 24, 8), np.zeros(8)])
    hollow = 13 * np.column_stack([np.cos(turns), np.sin(turns)])
    return np.vstack([beside[::-1] * [-1, 1], hollow, beside])


def wave():
    """A hollow with soft edges, which no rim leaves."""
    y = np.linspace(-40, 40, 81)
    return np.column_stack([y, np.where(abs(y) < 30, 6 * (1 + np.cos(math.pi * y / 30)), 0)])


def vee():
    """Two straight cuts."""
    y = np.linspace(-40, 40, 81)
    return np.column_stack([y, np.maximum(0, 12 - abs(y) / 2)])


@pytest.mark.parametrize("shape", [arc, wave, vee])
def test_an_outline_that_the_blade_cannot_have_cut_is_refused_in_words(shape):
    """With its waves of deviation, and without any interval."""
    found = match_offcut(BLADE, measured(shape()))
    text = reported(found)

    assert not found.by_this_blade
    assert found.in_waves
    assert "! NOT an outline of this blade" in text
    assert "+-" not in text


def test_a_mirror_image_is_refused_where_the_tilt_cannot_follow():
    """And the report says what to try."""
    points = measured(outline(math.radians(25), 13.0, math.radians(15)) * [-1, 1])
    found = match_offcut(BLADE, points, (0.0, math.radians(45)))
    text = reported(found)

    assert not found.by_this_blade
    assert found.at_limit
    assert "turn the signs of --tilts round" in text
    assert "at the limit of its range" in text


def test_shakier_measuring_than_stated_is_no_refusal_unless_there_is_a_lot_of_it():
    """Scatter without a pattern is the gauge's, not the moulding's; at 20 times the accuracy nothing can be said."""
    points = measured(outline(math.radians(25), 13.0), noise=0.1, seed=2)
    shaky, hopeless = (match_offcut(BLADE, points, accuracy=accuracy) for accuracy in (0.06, 0.005))

    assert (shaky.rough, shaky.in_waves, shaky.by_this_blade) == (True, False, True)
    assert "scatter without a pattern" in reported(shaky)
    assert not hopeless.by_this_blade


def test_waves_within_the_accuracy_widen_the_intervals():
    """Neighbours that err together count as fewer points."""
    points = outline(math.radians(25), 13.0, count=40)
    even = match_offcut(BLADE, measured(points))
    ripple = 0.05 * math.sqrt(2) * np.sin(np.arange(len(points)) / 3)
    waved = match_offcut(BLADE, moved(points, 0.02, (0, 0)) + ripple[:, None] * [0, 1])

    assert waved.by_this_blade
    assert waved.in_waves
    assert waved.fence_angle.half_width > 1.5 * even.fence_angle.half_width
    assert "in waves along it" in reported(waved)


def test_points_gone_astray_are_left_out_and_counted():
    """A crumb under the gauge does not spoil the rest."""
    points = measured(outline(math.radians(25), 13.0))
    points[[12, 30]] += [[0.0, 2.0], [1.0, -3.0]]
    found = match_offcut(BLADE, points)

    assert found.left_out == 2
    assert found.count == len(points) - 2
    assert abs(found.blade_height.value - 13.0) < 0.1
    assert "2 points lie far" in reported(found)


POINTS = outline(math.radians(25), 13.0)


@pytest.mark.parametrize(
    ("points", "options", "says"),
    [
        (POINTS[:9], {}, "points: there are 9 of them; measure 10 to 3000."),
        (np.tile(POINTS, (80, 1)), {}, "points: there are 4000 of them; measure 10 to 3000."),
        ([[1, 2, 3]] * 20, {}, "points: these are not pairs of numbers; write y,z in mm, one point a line."),
        ([[1, 2], [3]], {}, "points: these are not pairs of numbers; write y,z in mm, one point a line."),
        ([["a", "b"]] * 20, {}, "points: these are not pairs of numbers; write y,z in mm, one point a line."),
        (POINTS * np.nan, {}, "points: one lies too far off for a moulding; write y,z in mm, up to 1250 mm."),
        (POINTS * 1e9, {}, "points: one lies too far off for a moulding; write y,z in mm, up to 1250 mm."),
        (
            POINTS * [1, 0],
            {},
            "points: they lie on a straight line as far as can be measured; measure across the hollow.",
        ),
        (POINTS, {"tilts": (0.5, -0.5)}, "tilts: these are not the least and the most; write"),
        (POINTS, {"tilts": (0.0, 2.0)}, "tilts: these are not the least and the most; write"),
        (POINTS, {"tilts": (math.nan, 0.5)}, "tilts: these are not the least and the most; write"),
        (POINTS, {"accuracy": 0.0}, "accuracy: 0 mm is out of range; write 0.001 mm to 5 mm."),
        (POINTS, {"accuracy": math.nan}, "accuracy: nan mm is out of range; write 0.001 mm to 5 mm."),
    ],
)
def test_what_cannot_be_matched_is_refused_in_one_sentence(points, options, says):
    """Naming what is wrong and what to write."""
    with pytest.raises(SceneError) as wrong:
        match_offcut(BLADE, points, **options)

    assert str(wrong.value).startswith(says)


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
def test_the_demo_gives_back_the_set_up_it_was_invented_from(style):
    """25 deg, 13 mm, tilted -9 deg, turned 2 deg; the file says that nobody measured it."""
    path = SCENES / "measured-offcut.csv"
    rows = [line for line in path.read_text().splitlines() if not line.startswith("#")]
    found = match_offcut(BLADE, [[float(cell) for cell in row.split(",")] for row in rows[1:]])
    text = reported(found, style)

    assert "Invented" in path.read_text().splitlines()[0]
    for one, true in (
        (found.fence_angle, math.radians(25)),
        (found.blade_height, 13.0),
        (found.blade_tilt, math.radians(-9)),
        (found.rotation, math.radians(2)),
    ):
        assert abs(one.value - true) <= one.half_width
    assert "This blade can have cut it" in text
    assert text.isascii() or set(text) - set(map(chr, range(128))) == {"─"}
