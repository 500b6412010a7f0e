"""The exact section against closed forms and against figures that an independent program computed."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from oracles import disc_section_area, disc_section_width
from strategies import between, fewer, scenes

from sweep.shape import section
from sweep.shape.areas import areas_cut
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import Tool, alternate_bevel, flat_tips
from sweep.tolerance import FINE_CHORD

WIDE = section.stock_section(1000, 500)


def measured(
    tool: Tool, angle: float, height: float, tilt: float = 0.0
) -> tuple[float, tuple[float, float], section.Figure]:
    """Area above the table, edges, and the figure of one cut; angles in degrees."""
    cut = section.cut_section(tool, StraightFeed(math.radians(angle)), math.radians(tilt), height)
    above = section.within(cut, WIDE)
    edges = section.edges_at_table(tool, StraightFeed(math.radians(angle)), math.radians(tilt), height)
    return section.area(above), edges, above


@pytest.mark.parametrize(("angle", "height", "width", "area"), [(28, 16, 60.767, 671.478), (12, 8, 21.577, 124.061)])
def test_an_untilted_blade_cuts_the_width_and_area_a_brute_force_program_found(angle, height, width, area):
    """Check values of an independent brute-force program, R = 127 mm, k = 3.2 mm."""
    got_area, (left, right), _ = measured(flat_tips(127, 3.2), angle, height)

    assert width == pytest.approx(right - left, abs=5e-4)
    assert area == pytest.approx(got_area, abs=1e-3)


def test_a_tilted_blade_cuts_the_area_and_edges_a_brute_force_program_found():
    """The same program: 28 deg, 16 mm high, tilted 10 deg."""
    area, (left, right), _ = measured(flat_tips(127, 3.2), 28, 16, tilt=10)

    assert pytest.approx(area, abs=5e-3) == 661.44
    assert pytest.approx(left, abs=0.05) == -30.6
    assert pytest.approx(right, abs=0.05) == 30.1


def test_the_notch_between_two_hands_of_teeth_is_almost_wiped_out_by_the_oblique_feed():
    """The same program: bevelled 15 deg, the cove is 15.964 mm deep on the centreline, though the notch is 0.43 mm."""
    tool = alternate_bevel(127, 3.2, math.radians(15))
    area, _, cut = measured(tool, 28, 16)
    centreline = section.within(cut, section.stock_section(1e-6, 500))

    assert pytest.approx(area, abs=1e-3) == 671.445
    assert pytest.approx(section.height_of(centreline), abs=1e-3) == 15.964
    assert pytest.approx(127 - tool.profile[1][1], abs=5e-3) == 0.43


@fewer(1 / 2)
@given(radius=between(50, 200), kerf=between(1, 8), angle=between(0.5, 90), share=st.floats(0.01, 0.95))
def test_an_untilted_flat_topped_blade_cuts_the_closed_form(radius, kerf, angle, share):
    """Width and area of the polygon are those of the sheared segment and kerf."""
    height = radius * share
    area, (left, right), _ = measured(flat_tips(radius, kerf), angle, height)
    theta = math.radians(angle)

    assert disc_section_width(radius, kerf, theta, height) == pytest.approx(right - left, rel=1e-9)
    assert 0 <= disc_section_area(radius, kerf, theta, height) - area + 1e-9 <= FINE_CHORD * 1.5 * (right - left) + 2e-9


@fewer(1 / 2)
@given(
    radius=between(50, 200), kerf=between(1, 8), angle=between(1, 90), tilt=between(-45, 45), share=st.floats(0.02, 0.8)
)
def test_a_tilted_blade_of_no_kerf_cuts_a_sheared_ellipse(radius, kerf, angle, tilt, share):
    """A shear keeps areas: a thin disc leaves the segment of an upright ellipse, whatever the tilt."""
    beta, thin = math.radians(tilt), 1e-7
    height = radius * math.cos(beta) * share
    area, _, _ = measured(flat_tips(radius, thin), angle, height, tilt)
    segment = radius**2 * math.acos(1 - share) - radius**2 * (1 - share) * math.sqrt(2 * share - share**2)

    assert segment * math.sin(math.radians(angle)) * math.cos(beta) == pytest.approx(area, abs=2 * FINE_CHORD * radius)


def test_a_blade_below_the_table_cuts_nothing_there():
    """Depth nought is area nought."""
    area, edges, _ = measured(flat_tips(127, 3.2), 28, -0.2)

    assert area == 0.0
    assert edges is None


@fewer(1 / 2)
@given(angle=between(1, 90), tilt=between(-45, 45), height=between(2, 20))
def test_the_highest_point_of_the_section_is_the_blade_height(angle, tilt, height):
    """Whatever the tilt, the blade height is that of the highest point above the table."""
    _, _, cut = measured(alternate_bevel(127, 3.2, math.radians(15)), angle, height, tilt)

    assert height == pytest.approx(section.height_of(cut), abs=1e-9)


@fewer(1 / 2)
@given(scene=scenes(stops=False))
def test_the_closed_form_edges_are_those_of_the_figure(scene):
    """The edges at the table, for any tool and tilt, are where the drawn figure crosses it."""
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height)
    left, right = section.edges_at_table(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height)
    line = shapely.intersection(cut, shapely.LineString([(-2000, 0), (2000, 0)]))

    assert pytest.approx(line.bounds[0], abs=2e-3) == left
    assert pytest.approx(line.bounds[2], abs=2e-3) == right
    assert left <= line.bounds[0] + 1e-9
    assert right >= line.bounds[2] - 1e-9


@fewer(1 / 8)
@given(scene=scenes(stops=False), angle=st.sampled_from([None, 0.0]), tilt=between(-45, 45))
def test_the_areas_of_many_heights_are_those_of_a_section_drawn_for_each(scene, angle, tilt):
    """In planed stock and beside a hollow, along the blade and across it, leaning either way."""
    feed = scene.feed if angle is None else StraightFeed(angle, scene.feed.offset)
    tilt = scene.tilt if angle is None else math.radians(tilt)
    heights = np.linspace(0, scene.setup.blade_height, 5)
    planed = section.stock_section(scene.stock.width, scene.stock.thickness)
    hollow = section.minus(planed, section.grown(shapely.Point(feed.offset + 9, 0), 8))
    for wood in (planed, hollow):
        found = areas_cut(scene.tool, feed, tilt, heights, wood)
        cuts = [section.cut_section(scene.tool, feed, tilt, float(height)) for height in heights]
        assert found == pytest.approx([section.area(section.within(cut, wood)) for cut in cuts], abs=1e-9)


def test_a_tool_of_which_only_a_sharp_edge_is_in_wood_takes_nothing():
    """Fed along itself its section is a line, with no sides to go round."""
    ring, planed = Tool(((-12.0, 75.6), (-12.0, 53.5), (6.7, 52.9))), section.stock_section(30.0, 38.0)

    assert areas_cut(ring, StraightFeed(0.0, 0.0), 0.0, np.array([0.0, 11.0]), planed).tolist() == [0.0, 0.0]
