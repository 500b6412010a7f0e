"""The programme of the least largest deviation against textbook examples, and targets against handbook formulas.

Linear best approximations of e^x: on [-1, 1] 1.2643 + 1.1752 x with error 0.2788 (Atkinson, *An Introduction to
Numerical Analysis*, section 4.6; from memory, and the second coefficient is sinh 1), on [0, 1] 0.8941 + 1.7183 x
with error 0.1059 (the slope is e - 1; from memory). Ellipse and segment: area formulas of any handbook, from memory.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sweep.check.target import target_line
from sweep.plan.fit import _least_largest
from sweep.scene.model import Scene


@pytest.mark.parametrize(
    ("low", "high", "constant", "slope", "error"), [(-1, 1, 1.2643, 1.1752, 0.2788), (0, 1, 0.8941, 1.7183, 0.1059)]
)
def test_the_best_straight_line_through_an_exponential_is_the_textbooks(low, high, constant, slope, error):
    """A linear problem: a few steps reach the best line, and its error touches three times."""
    x = np.linspace(low, high, 2001)
    line = np.zeros(2)
    for _ in range(6):
        off = np.exp(x) - line[0] - line[1] * x
        step, _ = _least_largest(off, np.stack([-np.ones_like(x), -x]), np.full(2, -5.0), np.full(2, 5.0))
        line += step
    off = np.exp(x) - line[0] - line[1] * x

    assert line == pytest.approx([constant, slope], abs=6e-5)
    assert np.abs(off).max() == pytest.approx(error, abs=6e-5)
    assert [off[0] > 0, off[-1] > 0, off[np.argmin(off)] < 0] == [True, True, True]


def area_under(line: np.ndarray) -> float:
    """The area between a line and the axis."""
    return float(np.trapezoid(line[:, 1], line[:, 0]))


def wanting(scene: Scene, shape: str, width: float, depth: float) -> np.ndarray:
    """The line of another target in a scene."""
    update = {"shape": shape, "width": width, "depth": depth}
    return target_line(scene.target.model_copy(update=update), scene.tool, scene.tilt)


@pytest.mark.parametrize(("width", "depth"), [(60.0, 16.0), (40.0, 20.0), (90.0, 7.0)])
def test_a_half_ellipse_has_the_handbooks_area(cornice, width, depth):
    """Pi a b / 2 with a half the width and b the depth; chords take off less than one part in 2,000."""
    exact = math.pi * width * depth / 4

    assert 0 <= 1 - area_under(wanting(cornice, "ellipse", width, depth)) / exact < 5e-4


@pytest.mark.parametrize(("width", "depth"), [(60.0, 16.0), (40.0, 20.0), (90.0, 7.0)])
def test_an_arc_has_the_handbooks_area_of_a_segment(cornice, width, depth):
    """(r l - c (r - h)) / 2, with l the arc's length, c the chord and h the depth."""
    radius = width**2 / (8 * depth) + depth / 2
    arc = 2 * radius * math.asin(min(1.0, width / (2 * radius)))
    exact = (radius * arc - width * (radius - depth)) / 2

    assert 0 <= 1 - area_under(wanting(cornice, "arc", width, depth)) / exact < 5e-4
