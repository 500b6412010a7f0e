"""Quantities as people write them, in and out."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweep.units import (
    ANGLE,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    POWER,
    ROTATION,
    SPEED,
    Units,
    inch_fraction,
    read_quantity,
    show_quantity,
)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("16 mm", LENGTH, 16.0),
        ("1.6 cm", LENGTH, 16.0),
        ("5/8 in", LENGTH, 15.875),
        ('5/8"', LENGTH, 15.875),
        ("2 1/2 in", LENGTH, 63.5),
        ("2 1/2 inches", LENGTH, 63.5),
        ("3 ft 6 in", LENGTH, 1066.8),
        ("-1/8 in", LENGTH, -3.175),
        ("28 deg", ANGLE, math.radians(28)),
        ("21 3/8 deg", ANGLE, math.radians(21.375)),
        ("28°", ANGLE, math.radians(28)),
        ("0.5 rad", ANGLE, 0.5),
        ("2 m/min", SPEED, 2000 / 60),
        ("12 ft/min", SPEED, 12 * 304.8 / 60),
        ("4000 rpm", ROTATION, 4000 * 2 * math.pi / 60),
        ("1.3 kW", POWER, 1300.0),
        ("130 mm^2", AREA, 130.0),
        ("0.2 in^2", AREA, 0.2 * 25.4**2),
        ("130 mm2", AREA, 130.0),
        ("560 kg/m^3", DENSITY, 560.0),
        ("560 kg/m3", DENSITY, 560.0),
        ("0.56 g/cm3", DENSITY, 560.0),
        ("20 lbf", FORCE, 20 * 4.4482216152605),
    ],
)
def test_a_quantity_is_read_in_any_unit_of_its_kind(text, kind, value):
    """The inch is 25.4 mm by definition (NIST SP 811, appendix B: exact)."""
    assert value == pytest.approx(read_quantity(text, kind), rel=1e-12)


def test_a_horsepower_is_550_foot_pounds_a_second():
    """NIST SP 811, appendix B.8: 1 hp (550 ft lbf/s) = 7.456 999 E+02 W."""
    assert pytest.approx(read_quantity("1.75 hp", POWER), rel=1e-6) == 1.75 * 745.6999


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (16, "has no unit"),
        (16.5, "has no unit"),
        ("16", "has no unit"),
        ("5/8", "has no unit"),
        (True, "not a length"),
        (None, "not a length"),
        ([1], "not a length"),
        ("", "not a length"),
        ("x" * 1000, "not a length"),
        ("nan mm", "not a number and a unit"),
        ("16,5 mm", "not a number and a unit"),
        ("mm", "not a number and a unit"),
        ("1e999 mm", "not a finite length"),
        ("1e999999999 mm", "not a finite length"),
        ("3/0 in", "divides by zero"),
        ("16 blorps", "is not a unit of length"),
        ("16 kg", "does not measure a length"),
        ("16 mm mm", "not a number and a unit"),
        ("1 __import__('os') mm", "not a number and a unit"),
    ],
)
def test_what_is_no_length_is_refused_in_words_that_say_what_to_write(text, says):
    """One clause says what is wrong, one what to write."""
    with pytest.raises(ValueError, match=says) as wrong:
        read_quantity(text, LENGTH)

    assert 'write "16 mm" or "5/8 in"' in str(wrong.value)


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
    total = sign * (sum(Fraction(part.lstrip("-")) for part in shown) + Fraction(str(over)))

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
