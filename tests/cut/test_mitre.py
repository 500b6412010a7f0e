"""The moulding on the wall and round a rectangle: volumes in closed form, and angles measured on the meshes."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from demos import SCENES, cornice_with
from hypothesis import given
from strategies import between, fewer, finished_scenes

from sweep.cut.finish import finish
from sweep.cut.mitre import SQUARE, Seated, mitre_angles, mitred, seated, wrapped, wrapped_piece
from sweep.cut.stages import stage
from sweep.errors import SceneError
from sweep.scene.model import Scene
from sweep.scene.read import read_scene, scene_from
from sweep.shape.mesh import Mesh

FITTED = read_scene(SCENES / "cornice-to-fit.toml")

TABLE = {
    (38, 90): (31.6, 33.9, 0.05),
    (45, 90): (35.3, 30.0, 0.05),
    (52, 1): (89.36550, 37.99830, 5e-6),
    (52, 4): (87.46259, 37.97274, 5e-6),
    (52, 7): (85.56180, 37.91655, 5e-6),
}
"""deg. Spring and corner to mitre, bevel and half of the last figure printed. Square corners: WOODWEB, *Finding
Compound Angles for Crown Moulding* (2007). Others: SBE Builders, *Crown Molding Miter Angle and Bevel Angle Settings*,
the table for a spring of 52 deg, of which these rows were read."""


def sprung(spring: float, wall: str = "left") -> Scene:
    """The demo scene with a bevelled back."""
    bevel = {"do": "bevel", "spring": f"{spring} deg", "wall_flat": "12 mm", "wall": wall}
    return scene_from(cornice_with(finish=[bevel]))


def sitting(scene: Scene) -> Seated:
    """How the finished moulding of a scene sits."""
    pieces, _ = finish(scene, stage(scene, len(scene.passes.heights)))
    return seated(wrapped_piece(pieces))


def figure_of(moulding: Seated) -> shapely.Polygon:
    """Its section on the wall."""
    return shapely.Polygon(moulding.rings[0])


def normals_of(mesh: Mesh) -> np.ndarray:
    """The unit normal of every triangle, (m, 3)."""
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    return normals / np.linalg.norm(normals, axis=1, keepdims=True)


@pytest.mark.parametrize(("given_", "listed"), TABLE.items())
def test_the_saws_angles_are_those_of_published_tables(given_, listed):
    """To the last figure that is printed, at square corners and at others."""
    spring, corner = map(math.radians, given_)
    *angles, printed = listed

    assert [math.degrees(angle) for angle in mitre_angles(spring, corner)] == pytest.approx(angles, abs=printed)


@pytest.mark.parametrize("corner", [60, 90, 120, 135])
def test_a_moulding_flat_on_the_wall_is_cut_with_the_bevel_alone(corner):
    """Like the sides of a box: half of what the corner lacks of 180 deg, and no mitre."""
    mitre, bevel = mitre_angles(0.0, math.radians(corner))

    assert mitre == 0
    assert math.degrees(bevel) == pytest.approx(90 - corner / 2)


@pytest.mark.parametrize("corner", [60, 90, 135])
def test_a_moulding_flat_under_the_ceiling_is_cut_with_the_mitre_alone(corner):
    """Like a picture frame."""
    mitre, bevel = mitre_angles(math.pi / 2, math.radians(corner))

    assert bevel == pytest.approx(0, abs=1e-12)
    assert math.degrees(mitre) == pytest.approx(90 - corner / 2)


@pytest.mark.parametrize("wall", ["left", "right"])
@pytest.mark.parametrize("spring", [30, 38, 45, 60])
def test_the_saws_angles_are_those_of_the_mitres_on_the_mesh(spring, wall):
    """Measured between the end of a side and its back: nothing here goes by the formula."""
    front = mitred(sitting(sprung(spring, wall)), (600, 320), "outside")[0]
    normals = normals_of(front)
    # of the faces along the side, the back is the one that leans away from the wall by the spring
    leaning = np.array([0.0, math.cos(math.radians(spring)), math.sin(math.radians(spring))])
    back = normals[np.argmin(np.linalg.norm(normals - leaning, axis=1))]
    end = normals[np.argmax(normals[:, 0])]
    across = np.cross(back, [1.0, 0, 0])
    bevel = math.asin(abs(end @ back))
    mitre = math.atan2(abs(end @ across), abs(end[0]))

    assert back == pytest.approx(leaning, abs=1e-9)
    assert (mitre, bevel) == pytest.approx(mitre_angles(math.radians(spring)), abs=1e-9)


@given(scene=finished_scenes(), front=between(400, 1500), side=between(400, 1500))
@fewer(1 / 20)
def test_the_volume_round_a_rectangle_is_section_times_mean_length(scene, front, side):
    """As Pappus has it: the length of the line through the centre of the section, here straight with square corners."""
    try:
        moulding = sitting(scene)
    except SceneError:
        return
    figure = figure_of(moulding)
    for wrap, out in (("outside", 1), ("inside", -1)):
        sides = mitred(moulding, (front, side), wrap)
        mean = 2 * (front + side) + 8 * out * figure.centroid.x

        assert all(one.is_closed() for one in sides)
        assert sum(one.volume for one in sides) == pytest.approx(figure.area * mean, rel=1e-9)


@pytest.mark.parametrize(("wrap", "out"), [("outside", 1), ("inside", -1)])
def test_the_wall_flat_lies_on_the_rectangle_and_mitres_stand_upright_at_45_deg(wrap, out):
    """Round 600 by 320 mm: nothing of the moulding beyond the line, a flat on each face, ends halving the corner."""
    moulding = sitting(FITTED)
    sides = mitred(moulding, (600, 320), wrap)
    away = np.array([[0.0, -1], [1, 0], [0, 1], [-1, 0]])

    for one, outward, half in zip(sides, away, (160, 300, 160, 300), strict=True):
        from_line = out * (one.vertices[:, :2] @ outward - half)
        assert from_line.min() == pytest.approx(0, abs=1e-9)
        assert from_line.max() == pytest.approx(moulding.projection)
        normals = normals_of(one)
        flat = normals[:, :2] @ outward * -out > 1 - 1e-9
        assert np.isclose(out * (one.vertices[one.triangles[flat], :2] @ outward - half), 0).all(axis=1).any()
        along = np.array([-outward[1], outward[0]])
        ends = np.abs(normals[:, :2] @ along) > 0.1
        assert np.abs(normals[ends, :2] @ along) == pytest.approx(math.sqrt(0.5))
        assert normals[ends, 2] == pytest.approx(0, abs=1e-9)


def test_neighbouring_sides_meet_in_one_face():
    """Both ends at a corner hold the same points."""
    sides = mitred(sitting(FITTED), (600, 320), "outside")
    for one, other in ((0, 1), (1, 2), (2, 3), (3, 0)):
        shared = [{tuple(vertex) for vertex in sides[k].vertices.round(6).tolist()} for k in (one, other)]

        assert len(shared[0] & shared[1]) == len(sides[one].vertices) / 2


def test_the_fitted_cornices_edges_are_level_and_plumb():
    """Ripped and sprung at 45 deg: on the wall the lower edge runs straight out, the upper one straight down."""
    figure = figure_of(sitting(FITTED))
    low, out = figure.bounds[1], figure.bounds[2]
    below = shapely.intersection(figure, shapely.box(0, low, 200, low + 1e-6))
    beyond = shapely.intersection(figure, shapely.box(out - 1e-6, low, out, 0))

    assert below.bounds[2] - below.bounds[0] > 5
    assert beyond.bounds[3] - beyond.bounds[1] > 5


def test_a_moulding_without_a_bevel_stands_with_its_back_on_the_wall():
    """It then stands out by the stock's thickness and comes down by its width."""
    moulding = sitting(scene_from(cornice_with()))

    assert (moulding.spring, moulding.projection, moulding.drop) == (0.0, 22.5, 92.0)


def test_a_front_and_two_returns_end_square_at_the_back():
    """Three sides: the mean length counts two mitres at the front alone."""
    moulding = sitting(FITTED)
    figure = figure_of(moulding)
    sides = mitred(moulding, (600, 320), "outside", sides=3)
    mean = 600 + 2 * 320 + 4 * figure.centroid.x

    assert len(sides) == 3
    assert sum(one.volume for one in sides) == pytest.approx(figure.area * mean, rel=1e-9)
    assert max(one.vertices[:, 1].max() for one in sides) == pytest.approx(160)


def test_open_joints_take_their_width_from_every_end():
    """Half of it on either side of a mitre."""
    moulding = sitting(FITTED)
    shut, wide = (sum(one.volume for one in mitred(moulding, (600, 320), "outside", 4, gap)) for gap in (0.0, 0.5))

    assert shut - wide == pytest.approx(8 * 0.25 * figure_of(moulding).area, rel=1e-9)


def test_a_moulding_that_fills_the_frame_is_refused():
    """Inside, a side must be longer than twice what it stands out."""
    scene = FITTED.model_copy(
        update={"order": FITTED.order.model_copy(update={"rectangle": (600.0, 120.0), "wrap": "inside"})}
    )
    pieces, _ = finish(scene, stage(scene, 8))

    with pytest.raises(SceneError, match=r"order.rectangle: inside, a side must be longer than 124.3 mm") as wrong:
        wrapped(scene, pieces)
    assert "longer than 4.892 in; " in wrong.value.sentence(inches=True)


def test_a_piece_sits_by_its_own_back():
    """One of two pieces is bevelled: the other stands flat on the wall."""
    listed = [{"do": "rip", "at": "0 mm"}, {"do": "bevel", "spring": "38 deg", "wall_flat": "9 mm", "piece": 2}]
    scene = scene_from(cornice_with(finish=listed))
    pieces, _ = finish(scene, stage(scene, 8))

    assert [seated(piece).spring for piece in pieces] == pytest.approx([0.0, math.radians(38)])


def test_of_several_pieces_the_largest_is_wrapped():
    """Ripped off the middle."""
    scene = scene_from(cornice_with(finish=[{"do": "rip", "at": "-10 mm"}]))
    pieces, _ = finish(scene, stage(scene, 8))

    assert wrapped_piece(pieces).number == 2
    assert wrapped(scene, pieces) == ()
    assert pytest.approx(math.pi / 2) == SQUARE
