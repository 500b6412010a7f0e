"""How exactly it must be set: closed forms, brute force that shares no code, and shares that can be foreseen."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from demos import cornice_with
from hypothesis import given
from hypothesis import strategies as st
from oracles import Cut
from scipy.spatial import cKDTree
from strategies import between, fewer

from sweep.plan.accuracy import ANGLES, Care, care_needed
from sweep.plan.setting_errors import setting_errors
from sweep.scene.read import scene_from
from sweep.show.say.care import care_sentences, care_table
from sweep.units import Units

EXACT = {"fence_angle": "0.0001 deg", "blade_tilt": "0.0001 deg", "tape": "0.0001 mm", "kerf": "0.0001 mm"}


def cornice(**sections: dict):
    """The cornice with some keys written otherwise."""
    return scene_from(cornice_with(**sections))


def test_small_changes_of_the_settings_do_what_the_closed_form_says():
    """Derivatives of 2 sin(t) sqrt(2 R h - h^2) + k cos(t), by hand."""
    errors = {"fence_angle": "0.1 deg", "blade_height": "0.1 mm", "kerf": "0.1 mm", "offset": "0.1 mm"}
    effects = {effect.setting: effect for effect in care_needed(cornice(accuracy=errors), set_ups=100).effects}
    theta, radius, height, kerf = math.radians(28), 127.0, 16.0, 3.2
    chord = math.sqrt(2 * radius * height - height**2)
    per_angle = 2 * math.cos(theta) * chord - kerf * math.sin(theta)
    per_height = 2 * math.sin(theta) * (radius - height) / chord

    assert effects["fence angle"].width == pytest.approx(math.radians(0.1) * per_angle, rel=2e-3)
    assert effects["blade height"].width == pytest.approx(0.1 * per_height, rel=5e-3)
    assert effects["blade height"].depth == pytest.approx(0.1)
    assert effects["kerf"].width == pytest.approx(0.1 * math.cos(theta), rel=1e-6)
    assert effects["offset"].width == pytest.approx(0.0, abs=1e-9)
    assert effects["offset"].place == pytest.approx(-0.1)


def roof(cut: Cut) -> np.ndarray:
    """Points along a cut's curve, every 0.05 mm across, by halving on whether the tool takes a point; (n, 2) mm."""
    across = np.arange(-80.0, 80.0, 0.05)
    taken = cut.takes_from_section(np.column_stack([across, np.zeros_like(across)]))
    ends = np.flatnonzero(np.diff(taken.astype(int)))
    assert len(ends) == 2  # it goes in and out again
    edges = []
    for end in ends:
        inside, outside = (across[end + 1], across[end]) if taken[end + 1] else (across[end], across[end + 1])
        for _ in range(40):
            middle = (inside + outside) / 2
            inside, outside = (middle, outside) if cut.takes_from_section([[middle, 0.0]])[0] else (inside, middle)
        edges.append(inside)
    y = np.linspace(*edges, 1 + math.ceil((edges[1] - edges[0]) / 0.02))
    low, high = np.zeros_like(y), np.full_like(y, cut.blade_height + 1e-9)
    for _ in range(40):
        middle = (low + high) / 2
        taken = cut.takes_from_section(np.column_stack([y, middle]))
        low, high = np.where(taken, middle, low), np.where(taken, high, middle)
    return np.column_stack([y, low])


def dense(line: np.ndarray) -> np.ndarray:
    """Points of a polyline at most 0.02 mm apart."""
    parts = [
        np.linspace(a, b, 2 + math.ceil(math.dist(a, b) / 0.02), endpoint=False) for a, b in pairwise(line.tolist())
    ]
    return np.vstack([*parts, line[-1:]])


def apart(curve: np.ndarray, line: np.ndarray) -> float:
    """The largest distance of either from the other, both drawn as dense points."""
    return max(cKDTree(a).query(b)[0].max() for a, b in ((curve, line), (line, curve)))


@given(
    width=between(35, 60),
    depth=between(6, 14),
    off=st.tuples(between(-1, 1), between(-0.3, 0.3), between(-2, 2), between(-1, 1)),
    sizes=st.tuples(between(0.05, 0.4), between(0.05, 0.3), between(0.05, 1), between(0.02, 0.3), between(0.1, 1)),
)
@fewer(1 / 100)
def test_effects_and_their_ranking_are_those_of_setting_each_wrong_and_cutting(width, depth, off, sizes):
    """An arc, cut by a set-up a little off it: each setting wrong either way, by halving and by dense points alone."""
    radius, kerf = 127.0, 3.2
    chord = 2 * math.sqrt(2 * radius * depth - depth**2)
    angle = math.asin(width / math.hypot(chord, kerf)) - math.atan2(kerf, chord) + math.radians(off[0])
    here = {"fence_angle": angle, "blade_height": depth + off[1], "tilt": math.radians(off[2]), "offset": off[3]}
    steps = dict(zip(("fence angle", "blade height", "blade tilt", "kerf", "offset"), sizes, strict=True))
    scene = cornice(
        setup={
            "fence_angle": f"{math.degrees(angle)} deg",
            "blade_height": f"{here['blade_height']} mm",
            "blade_tilt": f"{off[2]} deg",
            "offset": f"{off[3]} mm",
        },
        passes={"heights": [f"{here['blade_height']} mm"]},
        target={"shape": "arc", "width": f"{width} mm", "depth": f"{depth} mm", "tolerance": "5 mm"},
        accuracy={
            "fence_angle": f"{sizes[0]} deg",
            "blade_height": f"{sizes[1]} mm",
            "blade_tilt": f"{sizes[2]} deg",
            "kerf": f"{sizes[3]} mm",
            "offset": f"{sizes[4]} mm",
        },
    )
    care = care_needed(scene, set_ups=50)

    turn = np.linspace(-1, 1, 2001) * math.atan2(width / 2, (width**2 / 4 + depth**2) / (2 * depth) - depth)
    round_ = (width**2 / 4 + depth**2) / (2 * depth)
    line = dense(np.column_stack([round_ * np.sin(turn), depth - round_ + round_ * np.cos(turn)]))

    def cut(setting: str = "", by: float = 0.0) -> np.ndarray:
        names = {"fence angle": "fence_angle", "blade height": "blade_height", "blade tilt": "tilt", "offset": "offset"}
        half = (kerf + (by if setting == "kerf" else 0.0)) / 2
        moved = {name: value + (by if names.get(setting) == name else 0.0) for name, value in here.items()}
        return roof(Cut(((-half, radius), (half, radius)), **moved))

    def middle(curve: np.ndarray) -> float:
        return (curve[0, 0] + curve[-1, 0]) / 2

    meant = cut()
    trees = cKDTree(meant), cKDTree(line)

    def off_at(move: float, every: int = 1) -> float:
        by = np.array([move - middle(meant), 0.0])
        return max(trees[0].query(line[::every] - by)[0].max(), trees[1].query(meant[::every] + by)[0].max())

    moves = np.linspace(-3, 3, 61)
    moves = moves[int(np.argmin([off_at(move, 10) for move in moves]))] + np.linspace(-0.15, 0.15, 31)
    place = moves[int(np.argmin([off_at(move) for move in moves]))]  # off it by as much, a cove seems further off
    exact = apart(meant + (place - middle(meant), 0.0), line)
    assert care.exact == pytest.approx(exact, abs=0.02)

    spoiled = {}
    for effect in care.effects:
        by = steps[effect.setting] if effect.setting not in ANGLES else math.radians(steps[effect.setting])
        assert effect.error == pytest.approx(by)
        larger, smaller = cut(effect.setting, by), cut(effect.setting, -by)
        spoiled[effect.setting] = (
            max(apart(one + (place - middle(one), 0.0), line) for one in (larger, smaller)) - exact
        )
        assert effect.shape == pytest.approx(spoiled[effect.setting], abs=0.03)
        assert effect.width == pytest.approx(np.ptp(larger[:, 0]) - np.ptp(meant[:, 0]), abs=1e-5)
        assert effect.place == pytest.approx(middle(larger) - middle(meant), abs=1e-5)
    shapes = [effect.shape for effect in care.effects]
    assert shapes == sorted(shapes, reverse=True)
    assert spoiled[care.most_care] >= max(spoiled.values()) - 0.06


def test_a_cove_beside_its_place_has_its_shape_all_the_same():
    """Set 3 mm beside it, or with an offset that errs by 5 mm, as many come within tolerance in shape."""
    meant = care_needed(cornice(), set_ups=500)
    beside = care_needed(cornice(setup={"offset": "3 mm"}), set_ups=500)
    loose = care_needed(cornice(accuracy={"offset": "5 mm"}), set_ups=500)

    assert beside.exact == pytest.approx(meant.exact, abs=2e-3)
    assert (meant.beside, beside.beside) == (pytest.approx(0, abs=0.02), pytest.approx(-3, abs=0.02))
    assert "the cove lies 3.00 mm to the left of where it fits" in said(beside)
    assert "As it is set" not in said(meant)
    assert beside.within == pytest.approx(meant.within, abs=0.01)
    assert loose.within == meant.within
    assert loose.most_care == meant.most_care != "offset"
    assert loose.place == pytest.approx(1.96 * 5, rel=0.1)  # the normal law's 95 %
    assert {effect.setting: effect.shape for effect in loose.effects}["offset"] == pytest.approx(0.0, abs=1e-9)


def test_the_share_within_tolerance_is_the_normal_laws_where_one_setting_alone_errs():
    """Height alone, 0.2 mm against a tolerance of 0.2 mm, on the depth: 68.3 % (the normal law's one sigma)."""
    target = {"width": "60.767 mm", "tolerance": "0.2 mm"}
    care = care_needed(cornice(accuracy=EXACT | {"blade_height": "0.2 mm"}, target=target))

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
    exact = EXACT | {"blade_height": "0.0001 mm", "offset": "0.0001 mm"}

    assert care_needed(cornice(accuracy=exact), set_ups=200).within == 1.0
    assert care_needed(cornice(accuracy={"fence_angle": "5 deg"}), set_ups=500).within < 0.2


def test_a_fence_set_by_tape_errs_as_two_marks_wrong_by_chance_make_it():
    """Marks drawn wrong along the table's edges, and the line laid through them by plane geometry."""
    scene = cornice(setup={"fence_angle": "40 deg", "offset": "7 mm"}, accuracy={"tape": "1.5 mm"})
    errors = setting_errors(scene)
    along = np.array([math.sin(math.radians(40)), math.cos(math.radians(40))])
    across = np.array([along[1], -along[0]])
    face = across * (7 + 92 / 2)  # on the operator's side the fence is to the right of the stock
    # the table from 375 mm before the blade's centre to 315 mm behind it, and from 410 mm left of it to 610 mm right
    fronts, sides = np.array([-375, 315]), np.array([-410, 610])
    at_front, at_left = ((edge - face[k]) / along[k] for k, edge in ((1, fronts), (0, sides)))
    ends = [max(at_front[0], at_left[0]), min(at_front[1], at_left[1])]
    marks = [face + end * along for end in ends]
    edges = [np.array([1.0, 0.0] if end in at_front else [0.0, 1.0]) for end in ends]
    drawn = np.random.default_rng(5).standard_normal((20_000, 2)) * 1.5
    first, last = (mark + wrong[:, None] * edge for mark, edge, wrong in zip(marks, edges, drawn.T, strict=True))
    run = last - first
    angles = np.arctan2(run[:, 0], run[:, 1])
    # where each line passes abreast of the blade: its distance from the centre, along the meant direction across
    share = (-first @ along) / (run @ along)
    places = (first + share[:, None] * run) @ across

    assert errors.fence_angle == pytest.approx(angles.std(), rel=0.02)
    assert errors.offset == pytest.approx(places.std(), rel=0.02)
    assert errors.apart == pytest.approx(ends[1] - ends[0])


def test_a_fence_angle_or_offset_that_is_given_goes_before_the_tape():
    """And a fence that misses the table is taken to be marked 250 mm either way."""
    given_ = setting_errors(cornice(accuracy={"fence_angle": "0.3 deg", "offset": "0.2 mm"}))
    missing = setting_errors(cornice(setup={"offset": "900 mm"}))

    assert (given_.fence_angle, given_.offset, given_.apart) == (pytest.approx(math.radians(0.3)), 0.2, None)
    assert missing.fence_angle == pytest.approx(math.sqrt(2) / 500)


def said(care: Care, units: str = "mm") -> str:
    """What is said of it."""
    return " ".join(care_sentences(care, cornice().accuracy, Units(units)))


def test_care_is_asked_for_only_where_it_helps():
    """Not where the closest curve is out of tolerance, nor where nothing comes within it."""
    worst = {"shape": "arc", "width": "76 mm", "depth": "16 mm"}
    beyond = care_needed(cornice(target=worst), set_ups=200)
    never = care_needed(cornice(accuracy={"blade_height": "90 mm"}, target={"tolerance": "0.018 mm"}), set_ups=200)

    assert "Take most care with the blade height." in said(care_needed(cornice(), set_ups=200))
    for care in (beyond, never):
        assert care.most_care is None
        assert math.isfinite(care.place)
        assert "Take most care" not in said(care)
    assert f"However exactly it is set, the shape lies {beyond.exact:.2g} mm off the target, and 0.25" in said(beyond)
    assert said(beyond).endswith("More care with the settings does not mend the shape.")
    assert "None comes within tolerance" in said(never)


def test_the_ranking_used_is_the_ranking_shown():
    """Rows fall in the column of the shape, and the first names what wants most care; in mm and in inches."""
    care = care_needed(cornice(accuracy={"fence_angle": "0.5 deg"}), set_ups=200)

    assert care.most_care == "fence angle"
    for units in ("mm", "in"):
        table = care_table(care, Units(units))
        shapes = [float(row[-1].figure) for row in table.rows]
        assert shapes == sorted(shapes, reverse=True)
        assert table.rows[0][0].startswith("fence angle 0.5 deg")
