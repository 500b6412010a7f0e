"""What must hold for every finishing operation, on random scenes, and what some of them do in plain figures."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from demos import cornice_with
from hypothesis import assume, given
from strategies import fewer, finished_scenes, scenes

from sweep.cut.finish import Finishing, Piece, finish
from sweep.cut.stages import stage
from sweep.errors import SceneError
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape import section, solid
from sweep.shape.mesh import UNCUT, Mesh
from sweep.tolerance import CHORD, VOLUME

Pieces = tuple[Piece, ...]
Operations = tuple[Finishing, ...]


def done(scene: Scene) -> tuple[Pieces, Operations, float]:
    """The pieces, what each operation did, and the volume before the first of them."""
    last = stage(scene, len(scene.passes.heights))
    try:
        return *finish(scene, last), last.volume
    except SceneError:
        assume(False)
        raise


def with_finish(*operations: dict, **sections: dict) -> Scene:
    """The demo scene with finishing operations."""
    return scene_from(cornice_with(finish=list(operations), **sections))


def outline_of(mesh: Mesh, x: float) -> shapely.Geometry:
    """The section of a mesh as a figure, from its triangles alone."""
    segments, _ = mesh.section(x)
    return shapely.build_area(shapely.multilinestrings(shapely.linestrings(segments.round(7))))


def wood_is_kept_through_every_operation(pieces: Pieces, finishing: Operations, before: float) -> None:
    """What the passes left is the pieces and all that the operations took; none of them gives wood back."""
    taken = sum(one.volume for one in finishing)

    assert abs(before - taken - sum(piece.volume for piece in pieces)) <= VOLUME * before
    for one in finishing:
        assert one.volume >= -VOLUME * before
        assert -VOLUME * before <= one.offcuts <= one.volume + VOLUME * before


def every_piece_is_closed_whole_and_apart_from_the_others(pieces: Pieces) -> None:
    """A closed, oriented mesh of the volume that the kernel says, in one part, sharing no wood with another."""
    for piece in pieces:
        assert piece.mesh.is_closed()
        assert piece.volume == pytest.approx(piece.mesh.volume, rel=1e-9)
        assert piece.volume > 0
    for one, other in pairwise(pieces):
        assert solid.volume(solid.common(one.body, other.body)) == pytest.approx(0, abs=1e-6)


def every_face_knows_what_cut_it(scene: Scene, pieces: Pieces, finishing: Operations) -> None:
    """Numbers run on after the passes; what no operation touched keeps the number of its pass, planed faces none."""
    count = len(scene.passes.heights)
    numbers = {number for piece in pieces for number in piece.mesh.cut_by.tolist()}
    half, top = scene.stock.width / 2, scene.stock.thickness

    assert numbers <= {UNCUT, *range(1, count + len(finishing) + 1)}
    for piece in pieces:
        middles = piece.mesh.vertices[piece.mesh.triangles].mean(axis=1)
        outside = np.minimum(np.abs(np.abs(middles[:, 1]) - half), np.abs(middles[:, 2] - top)) < 1e-9
        ends = np.minimum(middles[:, 0], scene.stock.length - middles[:, 0]) < 1e-9
        assert not piece.mesh.cut_by[outside | ends].any()


@given(scene=finished_scenes(stops=True))
@fewer(1 / 8)
def test_every_law_of_finishing_holds_on_every_scene(scene):
    """Stopped or not; the traceback names the law that is broken."""
    pieces, finishing, before = done(scene)
    wood_is_kept_through_every_operation(pieces, finishing, before)
    every_piece_is_closed_whole_and_apart_from_the_others(pieces)
    every_face_knows_what_cut_it(scene, pieces, finishing)


def a_pieces_section_is_the_plane_figure(scene: Scene, pieces: Pieces) -> None:
    """The solid was cut by the kernel, the figure by plane geometry: areas agree, and so do their outlines."""
    for piece in pieces:
        figure = piece.outline.figure
        assert section.area(figure) * scene.stock.length == pytest.approx(piece.volume, rel=1e-9)
        cut = outline_of(piece.mesh, scene.stock.length / 2)
        assert shapely.symmetric_difference(cut, figure).area < 1e-5 * figure.length


def a_scene_and_its_mirror_image_give_mirror_images(scene: Scene, pieces: Pieces) -> None:
    """Left for right in the whole scene: every piece has its twin on the other side, of the same volume."""
    other = {"left": "right", "right": "left"}
    mirrored = []
    for one in scene.finish:
        changes = {"tilt": -one.tilt, "at": -one.at, "keep": other.get(one.keep, one.keep)} if one.do == "rip" else {}
        if one.do == "bevel":
            changes = {"wall": other[one.wall]}
        if hasattr(one, "edge"):
            face, side = one.edge.split()
            changes = {"edge": f"{face} {other[side]}"}
        mirrored.append(one.model_copy(update=changes))
    twin = mirror_image(scene).model_copy(update={"finish": tuple(mirrored)})
    theirs, _, _ = done(twin)

    assert [piece.volume for piece in reversed(theirs)] == pytest.approx([piece.volume for piece in pieces], rel=1e-9)


@given(scene=finished_scenes())
@fewer(1 / 8)
def test_every_law_of_sections_holds_on_every_scene(scene):
    """Where all passes go through; a cove that is turned over has no mirror image in a scene."""
    pieces, _, _ = done(scene)
    a_pieces_section_is_the_plane_figure(scene, pieces)
    if not any(one.do == "cove" for one in scene.finish):
        a_scene_and_its_mirror_image_give_mirror_images(scene, pieces)


@given(scene=scenes())
@fewer(1 / 16)
def test_without_operations_the_piece_is_what_the_last_pass_left(scene):
    """The very same solid and mesh."""
    last = stage(scene, len(scene.passes.heights))
    (piece,), finishing = finish(scene, last)

    assert finishing == ()
    assert piece.mesh is last.mesh
    assert piece.body is last.body


def mirror_image(scene: Scene) -> Scene:
    """The scene whose cut is the mirror image: the tool, the tilt and the offset the other way round."""
    profile = tuple((-a, r) for a, r in reversed(scene.tool.profile))
    blade = scene.blade.model_copy(
        update={"profile": profile, "diameter": None, "kerf": None, "tip": "flat", "bevel": None}
    )
    setup = scene.setup.model_copy(update={"blade_tilt": -scene.setup.blade_tilt, "offset": -scene.setup.offset})
    return scene.model_copy(update={"blade": blade, "setup": setup})


def test_a_rip_makes_two_mouldings_and_takes_its_kerf():
    """Down the middle: two equal halves, and 3.2 mm of the 6.5 mm left above the cove, all along."""
    pieces, (rip,), before = done(with_finish({"do": "rip", "at": "0 mm"}))

    assert [piece.volume for piece in pieces] == pytest.approx([(before - rip.volume) / 2] * 2, rel=1e-9)
    assert 3.2 * 6.5 * 900 == pytest.approx(rip.volume, rel=1e-3)
    assert rip.offcuts == 0.0


def test_a_tilted_rip_takes_its_kerf_square_to_the_blade():
    """In the shoulder, 20 deg over: kerf / cos(20 deg) across, times the thickness."""
    _, (rip,), _ = done(with_finish({"do": "rip", "at": "-40 mm", "tilt": "20 deg", "kerf": "2 mm"}))

    assert 2 / math.cos(math.radians(20)) * 22.5 * 900 == pytest.approx(rip.volume, rel=1e-9)


def test_a_positive_tilt_leans_the_rip_to_the_right():
    """The left piece then reaches further right at the top than at the table."""
    pieces, _, _ = done(with_finish({"do": "rip", "at": "38 mm", "tilt": "10 deg"}))
    ring = section.rings(pieces[0].outline.figure)[0]
    at_top, at_table = (ring[np.isclose(ring[:, 1], z), 0].max() for z in (22.5, 0.0))

    assert at_top - at_table == pytest.approx(22.5 * math.tan(math.radians(10)), abs=1e-9)


def test_an_offcut_is_what_came_off_whole():
    """Ripped 10 mm from the edge: a strip 10 mm less half the kerf, and the kerf on top of it."""
    (piece,), (rip,), _ = done(with_finish({"do": "rip", "at": "36 mm", "keep": "left"}))

    assert rip.offcuts == pytest.approx((10 - 1.6) * 22.5 * 900, rel=1e-9)
    assert rip.volume - rip.offcuts == pytest.approx(3.2 * 22.5 * 900, rel=1e-9)
    assert section.sides_of(piece.outline.figure) == pytest.approx((-46, 34.4))


def test_the_two_flats_of_a_bevelled_back_are_square_to_each_other():
    """On the mesh itself: faces cut by the bevel lean 38 and 52 deg to the back, as wide as asked, the wall's left."""
    scene = with_finish({"do": "bevel", "spring": "38 deg", "wall_flat": "20 mm", "ceiling_flat": "15 mm"})
    (piece,), _, _ = done(scene)
    mesh = piece.mesh
    corners = mesh.vertices[mesh.triangles[mesh.cut_by == 9]]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    areas = np.hypot(*normals[:, 1:].T) / 2
    left = normals[:, 1] < 0
    wall, ceiling = (normals[side][0] / np.linalg.norm(normals[side][0]) for side in (left, ~left))

    assert wall @ ceiling == pytest.approx(0, abs=1e-12)
    assert math.degrees(math.acos(wall[2])) == pytest.approx(38)
    assert math.degrees(math.acos(ceiling[2])) == pytest.approx(52)
    assert areas[left].sum() == pytest.approx(20 * 900)
    assert areas[~left].sum() == pytest.approx(15 * 900)


@pytest.mark.parametrize("turn", ["about its length", "end for end"])
def test_a_second_cove_is_the_one_that_the_turned_solid_would_get(turn):
    """The finished solid is turned in space by half a turn, cut by the swept blade itself, and turned back."""
    setting = {"fence_angle": "20 deg", "blade_height": "4 mm", "blade_tilt": "12 deg", "offset": "7 mm"}
    scene = with_finish({"do": "cove", "turn": turn, **setting})
    (piece,), _, _ = done(scene)
    last = stage(scene, 8)
    half_turn = np.diag([1.0, -1, -1]) if turn == "about its length" else np.diag([-1.0, 1, -1])
    shift = np.array([[0.0 if turn == "about its length" else 900.0], [0.0], [22.5]])
    motion = np.hstack([half_turn, shift])
    feed = scene.feed.__class__(math.radians(20), 7.0)
    hulls = solid.swept(scene.tool, feed, math.radians(12), 4.0, (-200, 1100), CHORD)
    again = solid.subtract(last.body.transform(motion), hulls).transform(motion)  # half a turn undoes itself

    assert np.linalg.det(half_turn) == 1
    assert solid.volume(piece.body) == pytest.approx(solid.volume(again), rel=1e-9)
    assert solid.volume(solid.common(piece.body, again)) == pytest.approx(piece.volume, rel=1e-9)


def test_the_two_ways_to_turn_the_stock_over_cut_mirror_images():
    """A tilted cove leans to the other side: about its length the sides change places, end for end they do not."""
    setting = {"do": "cove", "fence_angle": "20 deg", "blade_height": "4 mm", "blade_tilt": "12 deg", "offset": "7 mm"}
    figures = []
    for turn in ("about its length", "end for end"):
        (piece,), _, _ = done(with_finish({"turn": turn, **setting}))
        ring = section.rings(piece.outline.figure)[0]
        figures.append(ring[ring[:, 1] > 17])
    mirrored = figures[1] * (-1, 1)

    assert np.sort(figures[0][:, 0]) == pytest.approx(np.sort(mirrored[:, 0]), abs=1e-9)
    assert figures[0][:, 0].mean() > 0 > figures[1][:, 0].mean()


def test_a_rabbet_is_so_wide_and_so_deep():
    """8 by 5 mm, all along; on the piece that is named alone."""
    scene = with_finish(
        {"do": "rip", "at": "0 mm"}, {"do": "rabbet", "edge": "top right", "width": "8 mm", "depth": "5 mm", "piece": 2}
    )
    pieces, (_, rabbet), _ = done(scene)

    assert rabbet.volume == pytest.approx(8 * 5 * 900, rel=1e-9)
    assert pieces[0].volume - pieces[1].volume == pytest.approx(8 * 5 * 900, rel=1e-6)


def test_an_operation_on_all_pieces_goes_by_the_edges_of_each():
    """Chamfered at the top right after a rip: the ripped side of the left piece and the planed one of the right."""
    scene = with_finish({"do": "rip", "at": "10 mm"}, {"do": "chamfer", "edge": "top right", "size": "2 mm"})
    pieces, (_, chamfer), _ = done(scene)

    assert chamfer.volume == pytest.approx(2 * 2 * 2 / 2 * 900, rel=1e-9)
    assert len(chamfer.changes) == len(pieces) == 2


def test_a_cove_that_stops_is_ripped_all_along():
    """The solid keeps the blade's shape at the stop, and the volume of both pieces is what the kernel says."""
    scene = with_finish({"do": "rip", "at": "5 mm"}, passes={"stop": "500 mm"})
    pieces, (rip,), before = done(scene)

    assert sum(piece.volume for piece in pieces) + rip.volume == pytest.approx(before, rel=1e-9)
    assert rip.volume > 3.2 * 6.6 * 900  # more than where the cove goes through


@pytest.mark.parametrize(
    ("operations", "says"),
    [
        ([{"do": "round over", "edge": "top left", "radius": "25 mm"}], "number 1: a radius of 25 mm does not fit"),
        ([{"do": "chamfer", "edge": "table left", "size": "16 mm"}], "number 1: it needs 16 mm of a face that is 15.6"),
        ([{"do": "rip", "at": "0 mm", "piece": 2}], "number 1: there is no piece 2 by then; write at most 1"),
        ([{"do": "rip", "at": "46 mm", "keep": "right"}], "number 1: nothing of the piece is kept"),
        (
            [{"do": "cove", "fence_angle": "20 deg", "blade_height": "7 mm"}],
            "number 1: it cuts the piece apart; write less",
        ),
        ([{"do": "cove", "fence_angle": "20 deg", "blade_height": "130 mm"}], "number 1: a blade height of 130 mm is"),
        (
            [{"do": "rabbet", "edge": "top left", "width": "100 mm", "depth": "30 mm"}],
            "number 1: it takes the whole piece",
        ),
        (
            [
                {"do": "rabbet", "edge": "top left", "width": "5 mm", "depth": "5 mm"},
                {"do": "bevel", "spring": "45 deg", "wall_flat": "5 mm"},
            ],
            "number 2: the back no longer reaches the left side",
        ),
        (
            [{"do": "bevel", "spring": "45 deg", "wall_flat": "32 mm"}],
            "number 1: it needs 22.63 mm of a face that is 22.5",
        ),
        (
            [
                {"do": "round over", "edge": "top left", "radius": "3 mm"},
                {"do": "chamfer", "edge": "top left", "size": "1 mm"},
            ],
            "number 2: there is no corner any more",
        ),
        (
            [{"do": "rip", "at": "-35 mm"}, {"do": "chamfer", "edge": "cove left", "size": "1 mm"}],
            "number 2: on piece 1 there is no cove here",
        ),
    ],
)
def test_what_cannot_be_done_is_refused_naming_the_operation(operations, says):
    """One sentence: which of the list, what is wrong, what to do."""
    with pytest.raises(SceneError, match=says) as wrong:
        finish(with_finish(*operations), stage(with_finish(), 8))

    assert str(wrong.value).startswith("finish, number ")
    assert "; " in str(wrong.value)


def test_the_edge_of_a_cove_that_stops_is_refused():
    """It turns inwards at the stop."""
    scene = with_finish({"do": "chamfer", "edge": "cove left", "size": "1 mm"}, passes={"stop": "500 mm"})

    with pytest.raises(SceneError, match="finish, number 1: the edge of a cove that stops part-way is not straight"):
        finish(scene, stage(scene, 8))
