"""What is refused: its figures and its words, in mm and in inches, and that what it tells to write would be taken."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweep.errors import SceneError, UnusableError
from sweep.figure import Figure, angle, area, count, force, length, power, rotation, share, speed, volume
from sweep.phrase import phrase, shown
from sweep.quantity import read_quantity
from sweep.units import LENGTH

TOO_HIGH = SceneError(
    "setup.blade_height",
    "{value} is more than the saw can raise it, {limit:down}",
    "write at most that",
    value=length(6.35),
    limit=length(4.7625),
)


def test_a_refusal_is_told_in_mm_or_in_inches():
    """A maker who writes 1/4 in reads 3/16 in."""
    assert str(TOO_HIGH) == (
        "setup.blade_height: 6.35 mm is more than the saw can raise it, 4.762 mm; write at most that."
    )
    assert TOO_HIGH.sentence(inches=True) == (
        "setup.blade_height: 1/4 in is more than the saw can raise it, 3/16 in; write at most that."
    )


def test_a_refusal_carries_its_figures_with_their_kinds_and_a_code():
    """The same code whatever the figures."""
    assert TOO_HIGH.figures == {"value": Figure(6.35, LENGTH), "limit": Figure(4.7625, LENGTH)}
    assert TOO_HIGH.code == "is-more-than-the-saw-can-raise-it"


def test_a_refusal_found_where_the_field_is_not_known_keeps_its_parts():
    """Problem and remedy are taken over, figures and all."""
    wrong = UnusableError("{value} is too; wide", "write less", value=length(25.4))
    on_piece = phrase("on piece {piece} {problem}", piece=count(2), problem=wrong.problem)

    assert str(wrong) == "25.4 mm is too; wide; write less"
    assert SceneError("finish, number 1", on_piece, wrong.remedy).sentence(inches=True) == (
        "finish, number 1: on piece 2 1 in is too; wide; write less."
    )


def test_what_a_maker_wrote_is_never_taken_for_a_place():
    """Braces are text like any other."""
    wrong = SceneError(
        "title", "'{written}' is not known", "write {limit}", written="{limit} {0} {x", limit=length(1.0)
    )

    assert str(wrong) == "title: '{limit} {0} {x' is not known; write 1 mm."
    assert str(SceneError("{a}", "{b}", "{c} {", d="e")) == "{a}: {b}; {c} {."


@pytest.mark.parametrize(
    ("figure", "in_mm", "in_inches"),
    [
        (length(0.0), "0 mm", "0 in"),
        (length(9.525), "9.525 mm", "3/8 in"),
        (length(12.7 + 25.4 / 128), "12.9 mm", "0.5078 in"),
        (length(1234.56), "1234.6 mm", "48.6 in"),
        (length(20_000.0), "20000 mm", "787.4 in"),
        (length(-63.5), "-63.5 mm", "-2 1/2 in"),
        (area(645.16), "645.2 mm2", "1 in2"),
        (volume(16387.064), "16.39 cm3", "1 in3"),
        (angle(math.radians(28)), "28 deg", "28 deg"),
        (speed(2000 / 60), "2 m/min", "6.562 ft/min"),
        (rotation(2 * math.pi * 4000 / 60), "4000 rpm", "4000 rpm"),
        (power(1105.0), "1.105 kW", "1.482 hp"),
        (force(90.0), "90 N", "20.23 lbf"),
        (share(0.125), "12.5 %", "12.5 %"),
        (count(12), "12", "12"),
    ],
)
def test_a_figure_is_shown_to_four_digits_in_the_units_of_its_reader(figure, in_mm, in_inches):
    """A length that is a fraction of an inch is shown as that fraction."""
    assert shown(figure) == in_mm
    assert shown(figure, inches=True) == in_inches


@given(st.floats(1e-4, 1e5), st.booleans())
def test_a_limit_that_is_told_would_be_taken(value, inches):
    """Rounded down it is no more than the limit, rounded up no less, and either way within a thousandth of it."""
    low, high = (read_quantity(shown(length(value), inches, way), LENGTH) for way in ("down", "up"))

    assert low <= value * (1 + 1e-8)
    assert high >= value * (1 - 1e-8)
    assert high - low <= 1.01e-3 * value
    assert not re.search("[eE][+-]", shown(length(value), inches))
