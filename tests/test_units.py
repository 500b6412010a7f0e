"""Figures as they are shown."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typed import show_quantity

from sweep.quantity import read_quantity
from sweep.units import ANGLE, LENGTH, Units, inch_fraction


@given(st.integers(-64 * 500, 64 * 500))
def test_every_sixty_fourth_is_shown_as_its_own_fraction_and_read_back(count):
    """Fractions are first-class, in and out."""
    inches = Fraction(count, 64)
    shown = inch_fraction(float(inches) * 25.4)

    assert "+" not in shown
    assert float(inches) * 25.4 == pytest.approx(read_quantity(shown, LENGTH), abs=1e-12)


@given(st.floats(-2000, 2000))
def test_a_fraction_and_its_thousandths_add_up_to_the_length(mm):
    """What is over the nearest 1/64 is given to the nearest thousandth, never more than 8 of them."""
    shown = inch_fraction(mm).removesuffix(" in").split()
    over = float(shown.pop()) if shown[-1][0] in "+-" and "." in shown[-1] else 0.0
    sign = -1 if shown and shown[0].startswith("-") else 1
    total = sign * sum(Fraction(part.lstrip("-")) for part in shown) + Fraction(str(over))

    assert abs(over) <= 0.008
    assert float(total) == pytest.approx(mm / 25.4, abs=0.00051)


def test_lengths_are_shown_in_the_units_asked_for():
    """Mm to a hundredth, inches as fractions or decimals."""
    assert Units("mm").length(15.875) == "15.88 mm"
    assert Units("in").length(15.875) == "5/8 in"
    assert Units("in").length(16.0) == "5/8 +0.005 in"
    assert Units("in-decimal").length(16.0) == "0.630 in"


def test_a_bound_is_shown_as_a_user_would_write_it():
    """What is shown can be read."""
    assert show_quantity(math.radians(45), ANGLE) == "45 deg"
    assert read_quantity(show_quantity(20000, LENGTH), LENGTH) == pytest.approx(20000)
