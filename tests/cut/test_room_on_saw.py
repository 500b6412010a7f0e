"""What the set-up takes of the saw: held against figures in the plane and points of the blade in space."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from saws import changed, saws, table_of, turned
from strategies import between, fewer, scenes

from sweep.cut.room_on_saw import room_on_table, throat_needed
from sweep.cut.stages import travel_range
from sweep.shape.frame import centre_height, rim_points


def ahead(scene, left: float, right: float) -> shapely.Polygon:
    """A long strip along the feed between two places across."""
    return turned(shapely.box(min(left, right), -1e4, max(left, right), 1e4), scene)


def along(figure: shapely.Geometry, scene) -> tuple[float, float]:
    """How far a figure reaches along the feed, from abreast of the blade's centre."""
    back = shapely.affinity.rotate(figure, math.degrees(scene.setup.fence_angle), origin=(0, 0))
    return back.bounds[1], back.bounds[3]


@fewer(1 / 8)
@given(scene=saws())
def test_the_fence_is_as_long_as_its_strip_over_the_table(scene):
    """Cut out of the table by shapely and turned back; a corner of the table may stand out between its two sides."""
    hand = 1 if scene.setup.fence_side == "near" else -1
    face = scene.setup.offset + hand * scene.stock.width / 2
    back = face + hand * scene.fence.thickness
    room, table = room_on_table(scene), table_of(scene)
    sides = [shapely.intersection(ahead(scene, side, side + 1e-7), table) for side in (face, back)]
    assume(all(side.area > 1e-6 for side in sides))
    ends = np.array([along(side, scene) for side in sides])
    reach = -travel_range(scene, len(scene.passes.heights))[0]

    assert room.fence_length == pytest.approx(ends[:, 1].max() - ends[:, 0].min(), abs=1e-4)
    beside_the_cut = turned(shapely.box(min(face, back), -reach, max(face, back), reach), scene)
    on_it = shapely.contains(table.buffer(1e-6), beside_the_cut)
    assert on_it == (room.fence_missing < 1e-5)


@fewer(1 / 8)
@given(scene=saws())
def test_carried_as_far_as_needed_the_middle_of_the_stock_just_stands_on_the_support(scene):
    """As a pass begins the leading end is clear before the blade, as it ends the trailing end is clear behind it."""
    table, room = table_of(scene), room_on_table(scene)
    d, u = scene.feed.direction[:2], scene.feed.across[:2]
    foot = scene.setup.offset * u
    assume(shapely.contains(table, shapely.Point(foot)))
    ends = [travel_range(scene, number) for number in range(1, len(scene.passes.heights) + 1)]
    first, last = min(start for start, _ in ends), max(end for _, end in ends)
    for travel, needed, way in ((first, room.before, 1), (last, room.after, -1)):
        middle = foot + (travel - scene.stock.length / 2) * d
        held = middle + way * needed * d  # where the table's edge must reach at the least

        assert shapely.distance(table.exterior, shapely.Point(held)) == pytest.approx(0, abs=1e-6)
        assert (needed > 1e-6) <= (not shapely.contains(table, shapely.Point(middle)))


@fewer(1 / 8)
@given(scene=scenes(), thickness=between(0, 25))
def test_the_throat_holds_every_point_of_the_blade_within_the_plate(scene, thickness):
    """Points all round each circle of the tool, those from the table's top to the underside of its plate."""
    scene = changed(scene, "saw", throat_thickness=thickness)
    tool, tilt = scene.tool, scene.tilt
    centre = centre_height(tool, tilt, scene.setup.blade_height)
    turns = np.linspace(0, 2 * math.pi, 40_001)
    rim = np.vstack([rim_points(a, r, turns, tilt, centre) for a, r in tool.profile])
    inside = rim[(rim[:, 2] <= 0) & (rim[:, 2] >= -thickness - 1e-9)]
    long, wide = throat_needed(scene)

    assert np.all(np.abs(inside[:, 1]) <= long / 2 + 1e-6)
    assert np.all(np.abs(inside[:, 0]) <= wide / 2 + 1e-6)
    assume(len(inside) > 50)
    assert np.abs(inside[:, 1]).max() == pytest.approx(long / 2, abs=0.5)


def test_a_chord_of_the_rim_below_the_table_is_that_of_the_segment(cornice):
    """R = 127 mm, 16 mm high, plate 12 mm: 28 mm above the underside the chord is 2 sqrt(28 (254 - 28))."""
    long, wide = throat_needed(changed(cornice, "saw", throat_thickness=12.0))

    assert long == pytest.approx(2 * math.sqrt(28 * 226))
    assert wide == pytest.approx(3.2)


def test_without_a_table_nothing_is_said_of_it(cornice):
    """Its size cannot be guessed."""
    assert room_on_table(changed(cornice, "saw", table_depth=None)) is None
