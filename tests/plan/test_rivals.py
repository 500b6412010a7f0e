"""Several blades held against one offcut: the blade that cut it comes first, and how alike the others are is true."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fair import fair

from sweep.plan.match import FINE
from sweep.plan.moulding import Outlines
from sweep.plan.rivals import match_blades
from sweep.shape.outline import curves, settings
from sweep.shape.tool import flat_tips

UNTILTED = (0.0, 0.0)
BLADES = [flat_tips(radius, kerf) for radius, kerf in ((127.0, 3.2), (101.5, 2.8), (80.0, 2.2))]


def cut_by(tool, angle, height, count=24):
    """Points on a hollow and the flats beside it."""
    hollow = curves(tool, settings(*(np.array([one]) for one in (angle, 0.0, height))), FINE)[0]
    hollow = hollow[:: max(1, len(hollow) // count)]
    flat = np.column_stack([np.linspace(2, 12, 6), np.zeros(6)])
    return np.vstack([hollow[0] - flat, hollow, hollow[-1] + flat])


@pytest.mark.parametrize("number", range(3))
def test_the_blade_that_cut_it_comes_first_where_nothing_is_measured_wrongly(number):
    """Each of three in turn, by exact points; the other two lie further off."""
    found = match_blades(BLADES, cut_by(BLADES[number], math.radians(30), 16.0), UNTILTED, 0.1)

    assert found.best.number == number
    assert found.best.match.rms < 1e-4
    assert [one.match.scatter for one in found.tried] == sorted(one.match.scatter for one in found.tried)


def test_two_blades_are_taken_for_each_other_as_often_as_is_said():
    """300 times the points are measured with noise both ways; within what chance allows (99.9 %)."""
    points, accuracy, times = cut_by(BLADES[0], math.radians(30), 16.0), 0.06, 300
    found = match_blades([BLADES[0], BLADES[2]], points, UNTILTED, accuracy)
    settings_of = [
        (one.match.fence_angle, one.match.blade_height, one.match.blade_tilt, one.match.rotation, *one.match.shift)
        for one in found.tried
    ]
    rows = [np.array([[one.value for one in row]]) for row in settings_of]
    outlines = [Outlines((BLADES[0], BLADES[2])[one.number], UNTILTED) for one in found.tried]
    rng, mistaken = np.random.default_rng(5), 0
    for _ in range(times):
        measured = points + accuracy * rng.standard_normal(points.shape)
        first, second = (
            (outline.off(measured, row, FINE) ** 2).sum() for outline, row in zip(outlines, rows, strict=True)
        )
        mistaken += second < first
    low, high = fair(times, found.likeness.mistaken)

    assert 0.05 < found.likeness.mistaken < 0.3
    assert low <= mistaken <= high


def test_measured_as_finely_as_is_said_the_two_are_told_apart():
    """At that accuracy they are mistaken 1 time in 20, a little finer less often."""
    points = cut_by(BLADES[0], math.radians(30), 16.0)
    coarse = match_blades(BLADES[:2], points, UNTILTED, 0.1).likeness
    assert coarse is not None
    at, finer = (match_blades(BLADES[:2], points, UNTILTED, share * coarse.needed).likeness for share in (1.0, 0.9))
    assert at is not None and finer is not None

    assert at.mistaken == pytest.approx(0.05, abs=1e-6)
    assert not coarse.told_apart
    assert finer.told_apart


def test_a_blade_that_the_saw_does_not_raise_so_far_cannot_have_cut_it():
    """And comes after those that can, however close it lies."""
    points = cut_by(BLADES[0], math.radians(30), 16.0)
    found = match_blades(BLADES[:1], points, UNTILTED, 0.1, max_height=15.0)

    assert found.best.too_high and not found.best.can
    assert match_blades(BLADES[:1], points, UNTILTED, 0.1, max_height=16.5).best.can


def test_a_shape_that_no_blade_leaves_is_refused_for_each():
    """Two straight cuts: none can, and nothing is said of how alike they are."""
    y = np.linspace(-40, 40, 81)
    vee = np.column_stack([y, np.maximum(0, 12 - abs(y) / 2)])
    found = match_blades(BLADES[:2], vee, UNTILTED, 0.1)

    assert not any(one.can for one in found.tried)
    assert found.likeness is None
