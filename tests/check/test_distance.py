"""Points and lines: how far they are from each other is what measuring all against all says."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sweep.check.distance import distances


@pytest.mark.parametrize("count", [2, 3, 7, 8, 13, 14, 400])
def test_a_point_is_as_far_from_lines_as_from_their_nearest_segment(count):
    """A line, a ring and several lines alike, of however many segments; their own corners lie on them."""
    chance = np.random.default_rng(count)
    points = chance.uniform(-9, 9, (300, 2))
    line = shapely.linestrings(np.column_stack([np.linspace(-8, 8, count), chance.uniform(-8, 8, count)]))
    ring = shapely.boundary(shapely.buffer(shapely.points(chance.uniform(-4, 4, 2)), 3.0, quad_segs=count))
    for lines in (line, ring, shapely.multilinestrings([line, shapely.linestrings([[9, 9], [9, -9]])])):
        assert distances(points, lines).tolist() == shapely.distance(shapely.points(points), lines).tolist()
        assert np.all(distances(shapely.get_coordinates(lines), lines) == 0.0)


def test_from_no_line_nothing_is_any_way_off():
    """Not a number, as the library says."""
    assert np.isnan(distances(np.zeros((2, 2)), shapely.MultiLineString())).all()
