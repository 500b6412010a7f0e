"""A quantity as it is read: numbers as they are written out, and the fractions of an inch."""

from __future__ import annotations

import math
from fractions import Fraction

MM_PER_INCH = 25.4


class Shown(str):
    """A quantity as it is read, which knows its parts, so that nothing has to split the text again.

    Parameters
    ----------
    figure : str
        ``"16.00"``, ``"5/8"``, or a word that stands for one.
    unit : str
    over : str
        Thousandths over a fraction of an inch, with their sign: ``"+0.005"``.

    Examples
    --------
    >>> size = inch_fraction(16.0)
    >>> size, size.figure, size.over, size.unit, size.bare
    ('5/8 +0.005 in', '5/8', '+0.005', 'in', '5/8 +0.005')
    """

    figure: str
    unit: str
    over: str

    def __new__(cls, figure: str, unit: str = "", over: str = "") -> Shown:
        shown = super().__new__(cls, " ".join(part for part in (figure, over, unit) if part))
        shown.figure, shown.unit, shown.over = figure, unit, over
        return shown

    @property
    def bare(self) -> str:
        """The quantity without its unit, for a column that names it."""
        return f"{self.figure} {self.over}" if self.over else self.figure

    def signed(self, sign: str) -> Shown:
        """Return the same quantity with a sign before it."""
        return Shown(sign + self.figure, self.unit, self.over)


def inch_fraction(length: float, finest: int = 64) -> Shown:
    """Return a length in mm as the nearest fraction of an inch and what is over, in thousandths.

    Examples
    --------
    >>> inch_fraction(15.875)
    '5/8 in'
    >>> inch_fraction(16.0)
    '5/8 +0.005 in'
    >>> inch_fraction(-63.5)
    '-2 1/2 in'
    >>> inch_fraction(-0.3)
    '-1/64 +0.004 in'
    >>> inch_fraction(0.0)
    '0 in'
    """
    inches = abs(length) / MM_PER_INCH
    nearest = Fraction(round(inches * finest), finest)
    over = round(1000 * (inches - float(nearest)))
    whole, part = divmod(nearest, 1)
    text = " ".join(piece for piece in (str(whole) if whole or not part else "", str(part) if part else "") if piece)
    sign = "-" if length < 0 and nearest else ""
    over = -over if length < 0 else over  # so that both add up
    return Shown(f"{sign}{text}", "in", f"{over / 1000:+.3f}" if over else "")


def significant(value: float, figures: int, finest: int) -> str:
    """Return a number to so many figures, but to no more than `finest` decimals."""
    rounded = float(f"{value:.{figures}g}")
    digits = figures - 1 - math.floor(math.log10(abs(rounded))) if rounded else finest
    return f"{rounded:.{max(0, min(digits, finest))}f}"


def trimmed(text: str) -> str:
    """Return a number without zeros at the end of its decimals."""
    return no_minus_zero(text.rstrip("0").rstrip(".") if "." in text else text)


def no_minus_zero(text: str) -> str:
    """Return a number without the sign of one that is rounded to nothing."""
    return text.lstrip("-") if not text.strip("-0.") else text
