"""Pieces of a drawn line run together: those that meet, in whatever order and direction they were drawn, no others."""

from __future__ import annotations

import math
from itertools import pairwise

import ezdxf
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer

from sweep.scene.drawing.chained import chained
from sweep.scene.drawing.read import read_outline
from sweep.scene.target import MOST_POINTS

WITHIN = 0.01


@given(st.integers(0, 2**32 - 1))
@fewer(1 / 4)
def test_a_line_cut_into_pieces_is_the_line_again_and_what_lies_apart_stays_apart(seed):
    """Open or closed, pieces turned and shuffled, their ends a few thousandths off; another line far away."""
    chance = np.random.default_rng(seed)
    corners = np.cumsum(chance.uniform(0.5, 5, (chance.integers(3, 30), 2)) * chance.choice([-1, 1], 2), axis=0)
    closed = chance.random() < 0.3
    points = [*corners.tolist(), *([corners[0].tolist()] if closed else [])]
    cuts = sorted({0, len(points) - 1, *chance.integers(0, len(points), 5).tolist()})
    pieces = [[tuple(point) for point in points[a : b + 1]] for a, b in pairwise(cuts)]
    for piece in pieces:
        x, y = piece[0]
        piece[0] = (x + chance.uniform(-0.3, 0.3) * WITHIN, y)
    pieces = [piece[:: 1 if chance.random() < 0.5 else -1] for piece in pieces]
    apart = [(1000.0, 0.0), (1001.0, 3.0)]
    shuffled = [[*pieces, apart][k] for k in chance.permutation(len(pieces) + 1)]

    whole, other = sorted(chained(shuffled, WITHIN), key=len, reverse=True)

    assert other == apart
    again = np.array(whole)
    lengths = [np.hypot(*np.diff(np.array(one), axis=0).T).sum() for one in (again, points)]
    assert len(again) == len(points) and lengths[0] == pytest.approx(lengths[1], abs=12 * WITHIN)
    if closed:
        assert np.hypot(*(again[0] - again[-1])) <= WITHIN
    else:
        forwards = again if np.hypot(*(again[0] - points[0])) < 0.1 else again[::-1]
        assert forwards == pytest.approx(np.array(points), abs=WITHIN)


def test_where_three_ends_meet_nobody_guesses_which_two_are_one_line():
    """A stem between two arms: three lines, as they were drawn."""
    lines = [[(0.0, 0.0), (1.0, 0.0)], [(1.0, 0.0), (2.0, 0.0)], [(1.0, 0.0), (1.0, 5.0)]]

    assert chained(lines, WITHIN) == lines


def test_a_moulding_drawn_in_straight_pieces_and_arcs_is_read_as_one_line(tmp_path):
    """A land, a step, a quarter hollow, a land, in inches, not drawn in order: 3 in wide, its length by hand."""
    document = ezdxf.new(units=1)
    space = document.modelspace()
    space.add_arc((0.5, 0.25), 0.75, 90, 180)
    space.add_line((-0.25, 0), (-0.25, 0.25))
    space.add_line((1.5, 1), (0.5, 1))
    space.add_line((-1.5, 0), (-0.25, 0))
    document.saveas(tmp_path / "rail.dxf")
    line = np.array(read_outline(tmp_path / "rail.dxf", MOST_POINTS))

    assert np.ptp(line[:, 0]) == pytest.approx(3 * 25.4)
    length = np.hypot(*np.diff(line, axis=0).T).sum()
    assert length == pytest.approx((1.25 + 0.25 + 0.75 * math.pi / 2 + 1) * 25.4, rel=1e-3)
