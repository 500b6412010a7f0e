"""The fence in tape-measure terms: against plane trigonometry done otherwise, and against blade and block in space."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from oracles import Cut
from saws import changed, saws, table_of, turned
from strategies import between, fewer, scenes

from sweep.cut.fence import fence_on_table, pull_on_fence
from sweep.cut.lines_on_table import line_on_table
from sweep.cut.load import load_of
from sweep.cut.passes import pass_sections, passes_of
from sweep.scene.model import Scene
from sweep.shape import section, solid
from sweep.shape.feed import StraightFeed


def marks_are_where_a_line_turned_by_the_angle_crosses_the_edges_of_the_table(scene: Scene) -> None:
    """Plane geometry done otherwise: a line straight ahead beside the blade is turned about its centre and crossed."""
    layout = fence_on_table(scene)
    half = scene.stock.width / 2 * (1 if layout.side == "near" else -1)
    for line, beside in ((layout.face, half), (layout.opposite, -half)):
        across = scene.setup.offset + beside
        ahead = turned(shapely.LineString([(across, -1e4), (across, 1e4)]), scene)
        crossed = shapely.get_coordinates(shapely.intersection(ahead, table_of(scene)))

        assert len(line.marks) == len(crossed)
        assert np.allclose([(mark.x, mark.y) for mark in line.marks] or crossed, crossed, atol=1e-6)
        for mark in line.marks:
            at = {"left": (0, 0), "right": (0, 1), "front": (1, 0), "rear": (1, 1)}[mark.edge]
            bounds = np.reshape(table_of(scene).bounds, (2, 2)).T
            assert (mark.x, mark.y)[at[0]] == pytest.approx(bounds[at], abs=1e-9)
            expected = [mark.x - slot for slot in scene.saw.slots] if mark.edge in ("front", "rear") else []
            assert list(mark.from_slots) == pytest.approx(expected)


@pytest.mark.parametrize(("side", "front", "rear"), [("near", -237.5, 287.5), ("far", -362.5, 162.5)])
def test_a_fence_along_a_3_4_5_triangle_is_where_it_can_be_worked_out_by_head(cornice, side, front, rear):
    """Half of 100 mm of stock is 62.5 mm from the blade abreast of its centre; 400 mm before that it is 300 mm less."""
    scene = changed(cornice, "setup", fence_angle=math.atan2(3, 4), fence_side=side)
    scene = changed(changed(scene, "stock", width=100.0), "saw", front_to_blade=400.0, table_depth=700.0)
    face = fence_on_table(changed(scene, "saw", left_to_blade=500.0)).face

    assert [(mark.edge, mark.x, mark.y) for mark in face.marks] == [
        ("front", pytest.approx(front), -400.0),
        ("rear", pytest.approx(rear), 300.0),
    ]
    assert face.difference == pytest.approx(525.0)


def without_a_table_the_difference_is_the_tangent_over_the_distance(scene: Scene, beside: float) -> None:
    """Across the saw up to 45 deg; beyond that along it, where the difference is the cotangent's."""
    angle = scene.setup.fence_angle
    face = fence_on_table(scene, beside).face
    cross = angle <= math.pi / 4
    slope = math.tan(angle) if cross else math.cos(angle) / math.sin(angle)

    assert [mark.edge for mark in face.marks] == (["front", "rear"] if cross else ["left", "right"])
    assert [mark.y if cross else mark.x for mark in face.marks] == [-beside, beside]
    assert face.difference == pytest.approx(2 * beside * slope, abs=1e-9)


def a_mark_set_a_little_wrong_turns_the_fence_by_no_more_than_is_said(scene: Scene) -> None:
    """The angle of the line through both marks, one of them moved; the worse of the two by just that much."""
    face = fence_on_table(scene).face
    if not face.marks or math.dist(*((mark.x, mark.y) for mark in face.marks)) <= 20:
        return
    turns = []
    for wrong in (0, 1):
        places = np.array([(mark.x, mark.y) for mark in face.marks])
        before = np.arctan2(*(places[1] - places[0]))
        places[wrong, 0 if face.marks[wrong].edge in ("front", "rear") else 1] += 1e-4
        turns.append(abs(np.arctan2(*(places[1] - places[0])) - before) / 1e-4)

    assert max(turns) == pytest.approx(face.turn, rel=1e-3, abs=1e-9)


def the_strips_touch_the_tool_and_the_cut_is_as_wide_as_their_gap(scene: Scene) -> None:
    """Each place lies on the solid of revolution; the oracle takes what is just within the gap, and nothing beyond."""
    strips = fence_on_table(scene).strips
    tool, setup = scene.tool, scene.setup
    across = np.array([math.cos(setup.fence_angle), -math.sin(setup.fence_angle)])
    cut = Cut(tool.profile, setup.fence_angle, setup.blade_height, setup.blade_tilt)
    left, right = (float(across @ place) for place in (strips.left, strips.right))

    assert right - left == pytest.approx(strips.gap, abs=1e-9)
    for edge, inward in ((left, 1e-4), (right, -1e-4)):
        assert cut.takes_from_section([[edge + inward, 0.0]], grow=1e-6).all()
        assert not cut.takes_from_section([[edge - inward, 0.0]], grow=-1e-6).any()
    lean, upright = math.sin(setup.blade_tilt), math.cos(setup.blade_tilt)
    for x, y in (strips.left, strips.right):
        along, up = x * upright, x * lean - cut.centre_height / upright
        assert math.hypot(up, y) == pytest.approx(np.interp(along, *zip(*tool.profile, strict=True)), abs=1e-6)


@pytest.mark.parametrize("angle", [5, 28, 60, 85])
@pytest.mark.parametrize("tilt", [-20, 0, 35])
def test_a_gap_a_little_wrong_turns_the_strips_as_said(cornice, angle, tilt):
    """The gap's growth from one angle to the next, seen in the closed form of the edges."""
    scene = changed(cornice, "setup", fence_angle=math.radians(angle), blade_tilt=math.radians(tilt))

    def width(turn: float) -> float:
        left, right = section.edges_at_table(scene.tool, StraightFeed(turn), scene.tilt, scene.setup.blade_height)
        return right - left

    growth = (width(math.radians(angle) + 1e-6) - width(math.radians(angle) - 1e-6)) / 2e-6
    assert 1 / fence_on_table(scene).strips.turn == pytest.approx(growth, rel=1e-5)


def test_a_small_angle_turns_by_the_one_in_sixty_rule(cornice):
    """Navigators and surveyors (common practice): 1 in 60 is a degree, within a twentieth; over 690 mm of table."""
    face = fence_on_table(changed(cornice, "setup", fence_angle=math.radians(0.1))).face

    assert math.degrees(face.turn) == pytest.approx(60 / 690, rel=0.05)


def test_where_a_wider_gap_is_no_greater_angle_the_strips_do_not_tell_it(cornice):
    """Fed square, the rim is as long whatever the angle, and the kerf only makes the gap less."""
    assert fence_on_table(changed(cornice, "setup", fence_angle=math.pi / 2)).strips.turn is None


def the_rim_standing_still_touches_the_end_of_the_block_where_it_is_said(scene: Scene, side: str) -> None:
    """There the end lies on the rim and on the finished section: the oracle's blade, a hair larger, takes it."""
    scene = changed(scene, "setup", fence_side=side)
    setup, half = scene.setup, scene.stock.width / 2
    for touch in fence_on_table(scene).touches:
        y = half - touch.from_fence if side == "near" else touch.from_fence - half
        blade = scene.tool.profile, setup.fence_angle, setup.blade_height, setup.blade_tilt, setup.offset
        assert abs(y) <= half
        # standing still the tool is abreast of a point for one moment only: rounding is kept off its ends
        still = Cut(*blade, touch.travel - 1e-7, touch.travel + 1e-7)
        assert still.takes([[0.0, y, touch.height]], grow=1e-5).all()
        assert not still.takes([[0.0, y, touch.height]], grow=-1e-5).any()
        assert not Cut(*blade).takes_from_section([[y, touch.height]], grow=-1e-5).any()


def the_touches_run_from_one_edge_of_the_cove_over_its_bottom_and_from_either_fence_add_to_the_width(
    scene: Scene,
) -> None:
    """The same places on the end, measured from its two sides; the highest is the blade's height."""
    near, far = (fence_on_table(changed(scene, "setup", fence_side=side)).touches for side in ("near", "far"))

    assert [touch.where for touch in near] == [touch.where for touch in far]
    assert [touch.travel for touch in near] == sorted(touch.travel for touch in near)
    for one, other in zip(near, far, strict=True):
        assert one.from_fence + other.from_fence == pytest.approx(scene.stock.width)
        assert one.height == (scene.setup.blade_height if one.where == "bottom" else 0.0)


BLOCKS = {
    "plain": {},
    "far": {"fence_side": "far", "offset": 6.0},
    "steep": {"fence_angle": math.radians(75)},
    "leaning left": {"blade_tilt": math.radians(-25), "fence_angle": math.radians(35)},
    "leaning right": {"blade_tilt": math.radians(15), "fence_angle": math.radians(12)},
}
BLADES = {
    "flat": {},
    "bevelled": {"tip": "alternate bevel", "bevel": math.radians(20), "kerf": 5.0},
    "shaped": {"diameter": None, "kerf": None, "profile": ((-6.0, 118.0), (-1.0, 127.0), (4.0, 121.0))},
}


@pytest.mark.parametrize("blade", BLADES)
@pytest.mark.parametrize("setup", BLOCKS)
def test_the_model_in_space_of_blade_and_block_meets_just_there(cornice, setup, blade):
    """A block set down over the blade holds none of it; with the blade a hair higher they overlap about the touch."""
    scene = changed(changed(cornice, "setup", **BLOCKS[setup]), "blade", **BLADES[blade])
    scene = changed(scene, "stock", width=170.0)
    stock, half = scene.stock, scene.stock.width / 2
    height, chord = scene.setup.blade_height, 0.001
    planed = section.stock_section(stock.width, stock.thickness)
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, height, chord)
    touches = fence_on_table(scene).touches
    assert {touch.where for touch in touches} == {"left edge", "bottom", "right edge"}
    for touch in touches:
        # the end alone: a slice that stands against the rim from before the touch or from behind it
        y = half - touch.from_fence if scene.setup.fence_side == "near" else touch.from_fence - half
        block = solid.prism(section.rings(section.minus(planed, cut)), 0.2)

        def overlap(blade_height, block=block, touch=touch):
            blade = solid.swept(scene.tool, scene.feed, scene.tilt, blade_height, (touch.travel,) * 2, chord)
            return [solid.common(block, hull) for hull in blade]

        assert sum(map(solid.volume, overlap(height))) < 1e-6
        raised = [solid.to_mesh(one, {}).vertices for one in overlap(height + 0.02) if solid.volume(one) > 0]
        corners = np.vstack(raised)
        assert corners[:, 1].min() - 0.05 <= y <= corners[:, 1].max() + 0.05
        assert corners[:, 2].min() - 0.05 <= touch.height <= corners[:, 2].max() + 0.05
        assert np.hypot(corners[:, 1] - y, corners[:, 2] - touch.height).min() < 0.2


def fence_and_blade_are_as_far_apart_as_the_rims_own_points_say(scene: Scene, side: str) -> None:
    """The points whose hull is the blade above the table, and the two where it passes it."""
    layout = fence_on_table(changed(scene, "setup", fence_side=side))
    across = scene.feed.across
    rim = np.vstack(solid.rim_of_bands(scene.tool, scene.tilt, scene.setup.blade_height, 1e-5))
    rim = rim[rim[:, 2] >= 0] @ across
    low, high = (float(across[:2] @ place) for place in (layout.strips.left, layout.strips.right))
    low, high = min(low, rim.min()), max(high, rim.max())
    left, right = scene.setup.offset - scene.stock.width / 2, scene.setup.offset + scene.stock.width / 2
    gaps = (right - high, low - left) if side == "near" else (low - left, right - high)

    assert (layout.clear, layout.clear_opposite) == pytest.approx(gaps, abs=2e-3)


def test_a_low_fence_is_clear_of_a_blade_that_leans_over_it(cornice):
    """Leaning right the blade reaches furthest right at its top; a fence lower than that is further off."""
    scene = changed(cornice, "setup", fence_angle=math.radians(5), blade_tilt=math.radians(40), offset=-20.0)

    assert fence_on_table(changed(scene, "fence", height=3.0)).clear > fence_on_table(scene).clear + 1


def test_what_presses_into_one_fence_pulls_off_the_other(cornice):
    """The same loads, the other way round; the teeth at the top pull towards the operator's side."""

    def pull(side: str, angle: float):
        scene = changed(cornice, "setup", fence_side=side, fence_angle=math.radians(angle))
        scene = changed(scene, "stock", width=200.0)
        sections, befores = pass_sections(scene, 1e-3), (None, *scene.passes.heights)
        return pull_on_fence(
            [load_of(scene, one, befores[one.number - 1], sections[one.number - 1].area) for one in passes_of(scene)]
        )

    for angle in (28, 60, 90):
        near, far = pull("near", angle), pull("far", angle)
        assert (far.least, far.most) == pytest.approx((-near.most, -near.least))
        assert (far.low, far.high) == pytest.approx((-near.high, -near.low))
        assert near.least > 0 > far.most


def test_nothing_is_said_of_the_pull_on_an_unknown_wood(cornice):
    """No force constants, no figure."""
    scene = changed(cornice, "stock", species="purpleheart")
    sections = pass_sections(scene, 1e-3)
    loads = [load_of(scene, one, None, sections[0].area) for one in passes_of(scene)]

    assert pull_on_fence(loads) is None


def a_line_that_misses_the_table_has_no_marks(scene: Scene) -> None:
    """Three metres to the side it is off every table."""
    assert line_on_table(scene, 3000.0).marks == ()
    assert line_on_table(scene, 3000.0).turn is None


@fewer(5 / 16)
@given(scene=saws())
def test_every_law_of_lines_on_a_table_holds_on_every_saw(scene):
    """The traceback names the law that is broken."""
    marks_are_where_a_line_turned_by_the_angle_crosses_the_edges_of_the_table(scene)
    a_mark_set_a_little_wrong_turns_the_fence_by_no_more_than_is_said(scene)
    a_line_that_misses_the_table_has_no_marks(scene)


@fewer(1 / 4)
@given(scene=scenes(), side=st.sampled_from(["near", "far"]), beside=between(50, 500))
def test_every_law_of_strips_block_and_fence_holds_on_every_scene(scene, side, beside):
    """The traceback names the law that is broken."""
    without_a_table_the_difference_is_the_tangent_over_the_distance(scene, beside)
    the_strips_touch_the_tool_and_the_cut_is_as_wide_as_their_gap(scene)
    the_rim_standing_still_touches_the_end_of_the_block_where_it_is_said(scene, side)
    the_touches_run_from_one_edge_of_the_cove_over_its_bottom_and_from_either_fence_add_to_the_width(scene)
    fence_and_blade_are_as_far_apart_as_the_rims_own_points_say(scene, side)
