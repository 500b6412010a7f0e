"""How straight finishing cuts are set on a saw: with that fence, face and tilt the piece is the one that is wanted."""

from __future__ import annotations

import math

import pytest
import shapely
from demos import cornice_with
from hypothesis import assume, given
from shapely.affinity import rotate
from strategies import fewer, finished_scenes

from sweep.cut.finish import Finishing, finish
from sweep.cut.stages import stage
from sweep.cut.straight_cuts import StraightCut, straight_cuts
from sweep.errors import SceneError
from sweep.scene.model import Scene
from sweep.scene.read import scene_from

FAR = 5e3
"""mm. Beyond any stock."""


def finishing_of(scene: Scene) -> tuple[Finishing, ...]:
    """What the operations of a scene did."""
    try:
        return finish(scene, stage(scene, len(scene.passes.heights)))[1]
    except SceneError:
        assume(False)
        raise


def laid(figure: shapely.Geometry, down: str) -> shapely.Geometry:
    """A section as the piece lies on the saw: turned about its length where its back lies down."""
    return rotate(figure, 180, origin=(0, 0)) if down == "top" else figure


def blade_and_fence(before: shapely.Geometry, cut: StraightCut) -> tuple[float, float, float, int]:
    """The table, where the blade comes up, how far it leans for each mm, and to which side all that lies beyond it."""
    left, table, right, _ = laid(before, cut.down).bounds
    fence_at_left = (cut.edge == "left") == (cut.down == "table")
    away = 1 if fence_at_left else -1
    return table, (left if fence_at_left else right) + away * cut.distance, away * math.tan(cut.tilt), away


def sawn(before: shapely.Geometry, cut: StraightCut) -> shapely.Geometry:
    """What a saw leaves between fence and blade."""
    table, foot, lean, away = blade_and_fence(before, cut)
    low, high = (foot - lean * FAR, table - FAR), (foot + lean * FAR, table + FAR)
    beyond = shapely.Polygon([low, high, (away * 1e5, table + FAR), (away * 1e5, table - FAR)])
    return laid(shapely.difference(laid(before, cut.down), beyond), cut.down)


@fewer(1 / 8)
@given(scene=finished_scenes())
def test_a_piece_sawn_as_it_is_told_is_the_piece_that_is_wanted(scene):
    """Random pieces: fence, face down, lean and height make the section, and a blade that is clear cuts no more."""
    for one in finishing_of(scene):
        if one.operation.do not in ("rip", "bevel", "chamfer"):
            continue
        for change in one.changes:
            cuts, left = straight_cuts(change, one.kerf), change.before
            assert len(cuts) == (2 if one.operation.do == "bevel" else 1) or not all(cut.is_clear for cut in cuts)
            if not all(cut.can_be_sawn for cut in cuts):
                continue
            for cut in cuts:
                table, foot, lean, _ = blade_and_fence(left, cut)
                above = shapely.LineString(
                    [(foot + lean * up, table + up) for up in (cut.height + 0.01, FAR)]  # just through
                )
                assert shapely.intersection(above, laid(left, cut.down)).length < 0.05
                left = sawn(left, cut)
            assert shapely.symmetric_difference(left, change.after).area < 2e-3


def test_the_cornices_back_and_edges_are_set_as_worked_out_by_hand():
    """26 mm flats at 45 deg reach 26 sin 45 up and leave 92 - 26 cos 45; a kerf is 3.2 / cos 45 wide there."""
    operations = [
        {"do": "bevel", "spring": "45 deg", "wall_flat": "26 mm"},
        {"do": "rip", "at": "-40 mm", "tilt": "-45 deg", "keep": "right"},
        {"do": "rip", "at": "40 mm", "tilt": "45 deg", "keep": "left"},
    ]
    half = math.sqrt(0.5)
    flats, first, second = (
        straight_cuts(one.changes[0], 3.2) for one in finishing_of(scene_from(cornice_with(finish=operations)))
    )

    for flat, edge in zip(flats, ("left", "right"), strict=True):
        assert (flat.down, flat.edge, flat.is_steady, flat.is_clear) == ("top", edge, True, True)
        figures = flat.distance, flat.tilt, flat.height, flat.face
        assert figures == pytest.approx((92 - 26 * half, math.pi / 4, 26 * half, 26), abs=1e-6)
    near = -40 + 1.6 / half  # the kerf's near side at the table
    high = (near + 46 + 22.5 - 26 * half) / 2  # where it, y = near - z, meets the flat, y = -46 - 22.5 + 26 half + z
    assert (first[0].down, first[0].edge, second[0].down, second[0].edge) == ("table", "right", "table", "left")
    assert (first[0].distance, first[0].height) == pytest.approx((46 - near, high), abs=1e-6)
    assert second[0].distance == pytest.approx(-near - (near - high), abs=1e-6)  # the first rip left an edge there


@pytest.mark.parametrize(
    ("operation", "sawn", "steady"),
    [
        ({"do": "bevel", "spring": "38 deg", "wall_flat": "9 mm"}, [False, True], True),  # 52 deg from upright
        ({"do": "chamfer", "edge": "cove left", "size": "2 mm"}, [False], None),  # the blade would go on into the wood
        ({"do": "rip", "at": "44 mm", "tilt": "20 deg", "keep": "right"}, [True], False),  # a splinter with no middle
    ],
)
def test_what_a_saw_cannot_cut_is_not_told_as_its_setting(operation, sawn, steady):
    """A face that leans beyond 45 deg, and one that ends inside the wood; what would tip over is told to."""
    ((change,),) = (one.changes for one in finishing_of(scene_from(cornice_with(finish=[operation]))))
    cuts = straight_cuts(change, 3.2)

    assert sorted(cut.can_be_sawn for cut in cuts) == sawn
    assert [cut.is_steady for cut in cuts if cut.can_be_sawn] == ([] if steady is None else [steady])
