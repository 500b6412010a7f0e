"""Quantities as people write them: what is read, what is refused, and that reading always ends."""

from __future__ import annotations

import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typed import show_quantity

from sweep.quantity import in_inches, read_quantity
from sweep.units import (
    ANGLE,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    POWER,
    ROTATION,
    SHARE,
    SPEED,
    TIME,
    Units,
    minutes,
)

KINDS = [ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME]


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("16 mm", LENGTH, 16.0),
        ("16mm", LENGTH, 16.0),
        ("16 MM", LENGTH, 16.0),
        ("16,5 mm", LENGTH, 16.5),
        ("0,125 in", LENGTH, 3.175),
        ("1,25 mm", LENGTH, 1.25),
        ("1.6 cm", LENGTH, 16.0),
        ("+16 mm", LENGTH, 16.0),
        ("\N{MINUS SIGN}16 mm", LENGTH, -16.0),
        ("16\N{NO-BREAK SPACE}mm", LENGTH, 16.0),
        ("1e3 mm", LENGTH, 1000.0),
        ("5/8 in", LENGTH, 15.875),
        ('5/8"', LENGTH, 15.875),
        ("5 / 8 in", LENGTH, 15.875),
        ("2 1/2 in", LENGTH, 63.5),
        ("2-1/2 in", LENGTH, 63.5),
        ("-2-1/2 in", LENGTH, -63.5),
        ("-1/8 +0.005 in", LENGTH, -3.048),
        ("-3' 6 in", LENGTH, -1066.8),
        ('3 1/2"', LENGTH, 88.9),
        ("3 1/2''", LENGTH, 88.9),
        ("3 1/2\N{DOUBLE PRIME}", LENGTH, 88.9),
        ("3 1/2\N{RIGHT DOUBLE QUOTATION MARK}", LENGTH, 88.9),
        ("3 \N{VULGAR FRACTION ONE HALF} in", LENGTH, 88.9),
        ("3\N{VULGAR FRACTION ONE HALF} in", LENGTH, 88.9),
        ("\N{VULGAR FRACTION THREE EIGHTHS} in", LENGTH, 9.525),
        ("1\N{FRACTION SLASH}2 in", LENGTH, 12.7),
        ("2 1/2 Inches", LENGTH, 63.5),
        ("3 ft 6 in", LENGTH, 1066.8),
        ("3'6\"", LENGTH, 1066.8),
        ("3' 6\"", LENGTH, 1066.8),
        ("3'-6 1/2\"", LENGTH, 1079.5),
        ("3\N{PRIME} 6\N{DOUBLE PRIME}", LENGTH, 1066.8),
        ("-1/8 in", LENGTH, -3.175),
        ("5/8 +0.005 in", LENGTH, 16.002),
        ("28 deg", ANGLE, math.radians(28)),
        ("28,5 deg", ANGLE, math.radians(28.5)),
        ("21 3/8 deg", ANGLE, math.radians(21.375)),
        ("28°", ANGLE, math.radians(28)),
        ("0.5 rad", ANGLE, 0.5),
        ("2 m/min", SPEED, 2000 / 60),
        ("12 ft/min", SPEED, 12 * 304.8 / 60),
        ("4000 rpm", ROTATION, 4000 * 2 * math.pi / 60),
        ("4000 RPM", ROTATION, 4000 * 2 * math.pi / 60),
        ("4000 min\N{SUPERSCRIPT MINUS}\N{SUPERSCRIPT ONE}", ROTATION, 4000 * 2 * math.pi / 60),
        ("1.3 kW", POWER, 1300.0),
        ("130 mm^2", AREA, 130.0),
        ("0.2 in^2", AREA, 0.2 * 25.4**2),
        ("130 mm2", AREA, 130.0),
        ("130 mm\N{SUPERSCRIPT TWO}", AREA, 130.0),
        ("560 kg/m^3", DENSITY, 560.0),
        ("560 kg/m3", DENSITY, 560.0),
        ("0.56 g/cm3", DENSITY, 560.0),
        ("20 lbf", FORCE, 20 * 4.4482216152605),
        ("12 %", SHARE, 0.12),
        ("12%", SHARE, 0.12),
        ("2 min", TIME, 120.0),
        ("1 h 02 min", TIME, 3720.0),
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
        (16, "16 has no unit"),
        (16.5, "has no unit"),
        (16**20, "this number has no unit"),
        ("16", "has no unit"),
        ("5/8", "has no unit"),
        (True, "is no length"),
        (None, "is no length"),
        ([1], "is no length"),
        ("", "is no length"),
        ("x" * 1000, "is no length"),
        ("nan mm", "not a number and a unit"),
        ("mm", "not a number and a unit"),
        ("1e999 mm", "is no finite length"),
        ("1e999999999 mm", "is no finite length"),
        ("3/0 in", "divides by zero"),
        ("1 11/2 in", "a fraction of more than 1 after a whole number"),
        ("1,200 mm", "can be read as 1200 or as 1.200"),
        ("16 blorps", "'blorps', which is no unit of length"),
        ("16 kg", "'kg', which is no unit of length"),
        ("28 m/m", "'m/m', which is no unit of length"),
        ("16 mm mm", "not a number and a unit"),
        ("16 mm 3 mm", "not a number and a unit"),
        ("6 in 3 ft", "not a number and a unit"),
        ("3 ft -6 in", "not a number and a unit"),
        ("+-5 mm", "not a number and a unit"),
        ("--5 mm", "not a number and a unit"),
        ("16 mm'", "no unit of length"),
        ('16 mm"', "no unit of length"),
        ("16 mm,", "not a number and a unit"),
        ("5 -0.500 mm", "not a number and a unit"),
        ("5 -0.005 mm", "not a number and a unit"),
        ("2+3 mm", "not a number and a unit"),
        ("1 mm*9^9^9", "no unit of length"),
        ("1 mm * 2", "not a number and a unit"),
        ("1_000 mm", "not a number and a unit"),
        ("\N{ARABIC-INDIC DIGIT THREE} mm", "not a number and a unit"),
        ("1 __import__('os') mm", "not a number and a unit"),
    ],
)
def test_what_is_no_length_is_refused_in_words_that_say_what_to_write(text, says):
    """One clause says what is wrong, one what to write."""
    with pytest.raises(ValueError, match=says) as wrong:
        read_quantity(text, LENGTH)

    assert str(wrong.value).endswith('; write "16 mm" or "5/8 in"')


def test_a_whole_number_too_long_to_print_is_refused():
    """TOML takes hexadecimal numbers of any length; Python prints none of more than 4300 figures."""
    with pytest.raises(ValueError, match="this number has no unit; write"):
        read_quantity(16**10_000, LENGTH)


@pytest.mark.parametrize(
    ("text", "kind"),
    [("66 Hz", ROTATION), ("28 %", ANGLE), ("28 m/m", ANGLE), ("5 deg", SHARE), ("2 min", SPEED), ("3 N", POWER)],
)
def test_a_unit_of_another_kind_is_refused(text, kind):
    """Turns are not counted in hertz: SI keeps it for periods, and a maker who writes 66 Hz means the mains."""
    with pytest.raises(ValueError, match=f"no unit of {kind.name}"):
        read_quantity(text, kind)


@given(st.floats(-3000, 3000), st.sampled_from(["mm", "in", "in-decimal"]))
def test_whatever_is_shown_can_be_read_back(value, style):
    """To what the last figure shown stands for."""
    units = Units(style)

    assert read_quantity(units.length(value), LENGTH) == pytest.approx(value, abs=0.0128)
    assert read_quantity(units.as_read(value), LENGTH) == pytest.approx(value, abs=0.0128)
    assert read_quantity(units.tape(value), LENGTH) == pytest.approx(value, abs=0.199)
    assert read_quantity(units.written(value), LENGTH) == pytest.approx(value, abs=5.1e-5)
    assert read_quantity(units.fine(value), LENGTH) == pytest.approx(value, abs=5.1e-4)
    assert read_quantity(units.area(value), AREA) == pytest.approx(value, abs=0.33)
    assert read_quantity(units.feed(value), SPEED) == pytest.approx(value, abs=0.26)
    assert read_quantity(minutes(abs(value) * 60), TIME) == pytest.approx(abs(value) * 60, abs=60.1)
    for kind in KINDS:
        for inches in (False, True):
            assert read_quantity(show_quantity(value, kind, inches), kind) == pytest.approx(value, rel=5.1e-6)


PIECES = st.sampled_from(
    [*"0123456789/.,+-eE '\"°%²½⅛″′^*()", "mm", "in", "ft", "deg", "m/min", "rpm", "kW", "9^9^9", "1e99", " 1/2"]
)


@given(st.text(max_size=80) | st.lists(PIECES, max_size=30).map("".join), st.sampled_from(KINDS))
def test_any_text_is_read_or_refused_at_once(text, kind):
    """A finite figure or one sentence of ours, in no time: nothing is evaluated."""
    before = time.process_time()
    try:
        assert math.isfinite(read_quantity(text, kind))
    except ValueError as wrong:
        assert f"; write {kind.examples}" in str(wrong)
    in_inches(text)

    assert time.process_time() - before < 0.1


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_unit_is_read_in_capitals_and_in_small_letters(kind):
    """No two units of a kind differ by a capital only, so no text can mean two things."""
    for name, factor in kind.units.items():
        assert name == name.casefold()
        for spelled in (name, name.upper(), name.capitalize()):
            assert read_quantity(f"3 {spelled}", kind) == 3 * factor


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("48 in", True),
        ("4 ft", True),
        ("4' 2\"", True),
        ("3 ½ in", True),
        ('36"', True),
        ("900 mm", False),
        ("1.2 m", False),
        ("36", False),
        ("", False),
        (36, False),
        ("x" * 1000 + " in", False),
    ],
)
def test_a_length_says_whether_it_is_written_in_inches(text, inches):
    """Feet are inches too."""
    assert in_inches(text) is inches
