"""What is taken off the corner of a plane figure, against plane geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.shape import edges, rounds
from sweep.tolerance import SAME_POINT

CHORD = 1e-4


def wedge(opening: float) -> np.ndarray:
    """A triangle with a corner of some opening, rad, at the origin, its two faces 50 mm long."""
    return np.array([[0.0, 0.0], [50.0, 0.0], [50 * math.cos(opening), 50 * math.sin(opening)]])


def taken(outline: np.ndarray, ring: np.ndarray) -> shapely.Geometry:
    """The part of a figure that lies within an outline."""
    return shapely.intersection(shapely.polygons(outline), shapely.polygons(ring))


@fewer(1 / 4)
@given(opening=st.floats(math.radians(20), math.radians(150)), size=between(0.5, 20))
def test_a_chamfer_takes_the_triangle_between_the_corner_and_its_two_ends(opening, size):
    """Half the product of two sides and the sine between them."""
    ring = wedge(opening)
    cut = taken(edges.chamfer(edges.corner_at(ring, (0, 0)), size), ring)

    assert cut.area == pytest.approx(size * size * math.sin(opening) / 2, rel=1e-9)


@fewer(1 / 4)
@given(opening=st.floats(math.radians(40), math.radians(150)), radius=between(0.5, 12))
def test_a_round_takes_what_lies_between_the_corner_and_the_circle_that_touches_both_faces(opening, radius):
    """Two right triangles of legs r and r / tan(opening / 2), less the sector of pi - opening: a textbook's fillet."""
    ring = wedge(opening)
    cut = taken(rounds.round_over(edges.corner_at(ring, (0, 0)), radius, CHORD), ring)
    exact = radius**2 * (1 / math.tan(opening / 2) - (math.pi - opening) / 2)

    assert exact < cut.area < exact + CHORD * radius * math.pi


@fewer(1 / 4)
@given(opening=st.floats(math.radians(40), math.radians(150)), radius=between(0.5, 12))
def test_a_round_runs_smoothly_into_both_faces(opening, radius):
    """It leaves no corner that turns more than its own chords do, and all of it lies on the circle."""
    ring = wedge(opening)
    outline = rounds.round_over(edges.corner_at(ring, (0, 0)), radius, CHORD)
    left = shapely.difference(shapely.polygons(ring), shapely.polygons(outline))
    outline = edges.clean(shapely.get_coordinates(left)[:-1])
    near = np.hypot(*outline.T) < 45
    step = 2 * math.acos(1 - min(CHORD, radius / 8) / radius)

    assert np.abs(edges.turns(outline)[near]).max() < step + 1e-6


@fewer(1 / 4)
@given(thick=between(4, 60), share=st.sampled_from([0.5, 0.2, 0.37, 0.81]), first=st.booleans())
def test_two_rounds_that_meet_on_a_face_leave_no_corner_and_no_flat(thick, share, first):
    """A full bullnose, of equal radii or not, in either order: a rectangle less two corners of quarter circles."""
    board = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, thick], [0.0, thick]])
    radii = {0.0: share * thick, thick: thick - share * thick}
    left = shapely.polygons(board)
    for z in sorted(radii, reverse=first):
        ring = edges.clean(shapely.get_coordinates(left)[:-1])
        outline = rounds.round_over(edges.corner_at(ring, (0, z)), radii[z], CHORD)
        left = shapely.difference(left, shapely.polygons(outline))
    ring = edges.clean(shapely.get_coordinates(left)[:-1])
    exact = 100 * thick - sum((1 - math.pi / 4) * radius**2 for radius in radii.values())
    step = 2 * math.acos(1 - min(CHORD, min(radii.values()) / 8) / min(radii.values()))

    assert exact - 2 * CHORD * thick * math.pi < left.area < exact
    assert np.abs(edges.turns(ring)[ring[:, 0] < 99]).max() < step + 1e-6
    with pytest.raises(ValueError, match="no corner any more"):
        edges.corner_at(ring, (0.0, share * thick))


def test_a_round_too_large_for_what_an_earlier_one_left_is_refused_by_that():
    """A board 20 mm thick has 12 mm of side left beside a round of 8."""
    board = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 20.0], [0.0, 20.0]])
    outline = rounds.round_over(edges.corner_at(board, (0, 0)), 8.0, CHORD)
    ring = edges.clean(shapely.get_coordinates(shapely.difference(*map(shapely.polygons, (board, outline))))[:-1])

    with pytest.raises(ValueError, match=r"a radius of 12\.01 mm does not fit on a face 12 mm wide"):
        rounds.round_over(edges.corner_at(ring, (0, 20)), 12.01, CHORD)
    assert len(rounds.round_over(edges.corner_at(ring, (0, 20)), 12.0, CHORD)) > 10


def test_a_round_at_a_hollow_touches_flat_and_hollow():
    """On the lip of a hollow of radius 40 mm: the centre lies 40 + r from that of the hollow, and r above the flat."""
    angles = np.linspace(math.radians(150), math.radians(30), 2001)
    hollow = 40 * np.column_stack([np.cos(angles), np.sin(angles)]) - (0, 20)
    lip = hollow[0]
    ring = edges.clean(np.vstack([[-60, 0], hollow, [60, 0], [60, 40], [-60, 40]]))
    radius = 3.0
    outline = rounds.round_over(edges.corner_at(ring, lip), radius, CHORD)
    centre_z = radius
    centre_y = -math.sqrt((40 + radius) ** 2 - (centre_z + 20) ** 2)
    arc = outline[:-3]

    assert np.hypot(*(arc - (centre_y, centre_z)).T) == pytest.approx(radius, abs=2e-5)
    assert arc[0, 1] == pytest.approx(0, abs=1e-6) or arc[-1, 1] == pytest.approx(0, abs=1e-6)


@fewer(1 / 4)
@given(
    opening=st.floats(math.radians(60), math.radians(140)),
    slope=st.floats(math.radians(10), math.radians(35)),
    width=between(1, 15),
)
def test_a_flat_is_as_wide_and_as_steep_as_it_was_asked_to_be(opening, slope, width):
    """Whatever the opening of the corner: by the sine rule, here by measuring what is left."""
    ring = wedge(opening)
    corner = edges.corner_at(ring, (0, 0))
    line = edges.flat_across(corner, corner.onward, corner.backward, slope, width)
    face = shapely.intersection(
        shapely.linestrings([np.array(line.point) + t * np.array(line.direction) for t in (-100, 100)]),
        shapely.polygons(ring),
    )

    assert face.length == pytest.approx(width, rel=1e-9)
    assert abs(math.atan(line.direction[1] / line.direction[0])) == pytest.approx(slope, abs=1e-9)
    assert line.distances([(0, 0)])[0] < 0


@pytest.mark.parametrize(
    ("take", "says"),
    [
        (lambda corner: edges.chamfer(corner, 50.0), "50 mm of a face that is 50 mm wide"),
        (lambda corner: rounds.round_over(corner, 30.0, CHORD), "a radius of 30 mm does not fit"),
        (lambda corner: edges.flat_across(corner, corner.onward, corner.backward, 1.2, 30.0), "never meets it"),
    ],
)
def test_what_the_faces_have_no_room_for_is_refused(take, says):
    """In words that say what there is."""
    with pytest.raises(ValueError, match=says):
        take(edges.corner_at(wedge(math.radians(120) if "never" in says else math.radians(60)), (0, 0)))


def test_where_the_outline_runs_on_there_is_no_corner():
    """A round has none any more, and a hollow corner is none to take anything off."""
    angles = np.linspace(0, 2 * math.pi, 100, endpoint=False)
    circle = 30 * np.column_stack([np.cos(angles), np.sin(angles)])
    notch = np.array([[0.0, 0], [10, 0], [10, 10], [5, 5], [0, 10]])

    for ring, place in ((circle, (30, 0)), (notch, (5, 5))):
        with pytest.raises(ValueError, match="no corner any more"):
            edges.corner_at(edges.clean(ring), place)


def test_points_that_repeat_and_the_way_round_do_not_matter():
    """Cleaned, an outline runs with the figure on its left."""
    square = np.array([[0.0, 0], [0, 4], [4, 4], [4, 4 - SAME_POINT / 2], [4, 0]])

    assert len(edges.clean(square)) == 4
    assert edges.turns(edges.clean(square)) == pytest.approx([math.pi / 2] * 4, abs=1e-6)
