"""Distances of curves and a line: against shapely's, and slopes against distances looked for anew."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point
from strategies import between, fewer

from sweep.plan.closeness import deviations, deviations_beside, largest, largest_about

places = st.tuples(between(-60, 60), between(-30, 30))
paths = st.lists(places, min_size=2, max_size=8).filter(lambda path: len(set(path)) > 1)


@given(chords=paths, line=paths, again=st.integers(0, 6), aside=places)
@fewer(1 / 2)
def test_distances_both_ways_are_shapelys(chords, line, again, aside):
    """For any two lines, in loops too, and with a corner written twice; the largest of lines about one as of each."""
    chords.insert(again % len(chords), chords[again % len(chords)])
    ends, target = np.array(chords), np.array(line)
    curve = np.empty((2 * len(ends) - 1, 2))
    curve[::2], curve[1::2] = ends, (ends[1:] + ends[:-1]) / 2  # chords that do not bulge
    found = np.abs(deviations(curve[None], target, target)[0])
    true = [LineString(chords).distance(Point(p)) for p in line] + [LineString(line).distance(Point(p)) for p in curve]

    assert np.abs(found - true).max() < 1e-9
    curves = np.stack([curve + aside, curve, curve - aside, curve[::-1]])
    assert largest_about(curves, target, target) == pytest.approx(largest(curves, target, target), abs=1e-9)


@given(rise=between(2, 20), way=st.tuples(between(-1, 1), between(-1, 1)), step=st.sampled_from([1e-5, 1.0]))
@fewer(1 / 2)
def test_beside_another_curve_distances_are_what_they_are_alone(rise, way, step):
    """For a nudge, and for curves that are not alike after all."""
    turn = np.linspace(np.pi, 0, 31)
    line = np.column_stack([30 * np.cos(turn), 12 * np.sin(turn)])
    curve = np.column_stack([28 * np.cos(turn), rise * np.sin(turn)])
    curves = np.stack([curve, curve + step * np.array(way), curve * (1 + step / 30)])

    apart = np.abs(deviations_beside(curves, line, line) - deviations(curves, line, line)).max()

    assert apart < 3e-5  # at most twice a nudge, where two pieces are as near
