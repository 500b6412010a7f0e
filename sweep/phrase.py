"""Half a sentence with places for figures, worded only where it is known whether its reader thinks in mm or inches."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from sweep.figure import Figure
from sweep.shown import MM_PER_INCH, inch_fraction, trimmed
from sweep.units import LENGTH

Way = Literal["nearest", "up", "down", "least", "most"]
"""To which side a figure is rounded: up for the least that will do, down for the most that will. ``least`` and ``most``
are the same for the ends of a range that was drawn up in mm: in inches they are rounded to two figures."""

DIGITS = 4
"""How many digits a figure has in a sentence, or as many as show tenths."""

END_DIGITS = 2
"""The same for an end of a range in inches."""

MINUTE = 1e-6
"""In whatever unit; what is smaller is shown with an exponent."""

SAME = 1e-9
"""The share of a figure within which what is shown is that figure, whichever way it would be rounded."""

_PLACE = re.compile(r"\{(\w+)(?::(up|down|least|most))?\}")
_WAYS: dict[str | None, Way] = {"up": "up", "down": "down", "least": "least", "most": "most", None: "nearest"}


@dataclass(frozen=True)
class Example:
    """What to write, for who writes mm and for who writes inches."""

    mm: str
    inches: str


@dataclass(frozen=True)
class Phrase:
    """Half a sentence, and the figures it has places for.

    Parameters
    ----------
    words : str
        With places: ``{value}``, or ``{limit:down}`` and ``{limit:up}`` where what is read must lie within the limit.
    figures : pairs of name and Figure, Phrase, Example or str
        What stands in each place; text stands there as it is.
    """

    words: str
    figures: tuple[tuple[str, In], ...] = ()

    def said(self, inches: bool = False) -> str:
        """Return it in words, in mm or in inches; a place without a figure is left as it stands."""
        figures = dict(self.figures)

        def word(place: re.Match[str]) -> str:
            figure = figures.get(place[1], place[0])
            if isinstance(figure, Phrase):
                return figure.said(inches)
            if isinstance(figure, Example):
                return figure.inches if inches else figure.mm
            return figure if isinstance(figure, str) else shown(figure, inches, _WAYS[place[2]])

        return _PLACE.sub(word, self.words)


In = Figure | Phrase | Example | str
"""What stands in a place."""


def phrase(words: str, **figures: In) -> Phrase:
    """Return half a sentence with its figures.

    Examples
    --------
    >>> phrase("{value} is too high", value=Figure(6.35, LENGTH)).said(inches=True)
    '1/4 in is too high'
    """
    return Phrase(words, tuple(figures.items()))


def shown(figure: Figure, inches: bool = False, way: Way = "nearest") -> str:
    """Return a figure with its unit, to four digits; a length that is a fraction of an inch as that.

    Examples
    --------
    >>> from sweep.figure import length
    >>> shown(length(9.525)), shown(length(9.525), inches=True), shown(length(80.0), inches=True, way="down")
    ('9.525 mm', '3/8 in', '3.149 in')
    >>> shown(length(20000.0), way="most"), shown(length(20000.0), inches=True, way="most")
    ('20000 mm', '780 in')
    """
    kind = figure.kind
    round_end = inches and way in ("least", "most") and bool(kind.inches)
    if inches and kind == LENGTH and not round_end:
        sixty_fourths = figure.value / MM_PER_INCH * 64
        if abs(sixty_fourths - round(sixty_fourths)) <= SAME * max(1.0, abs(sixty_fourths)):
            return inch_fraction(figure.value)
    unit = kind.inches if inches and kind.inches else kind.shown
    digits = END_DIGITS if round_end else DIGITS
    return f"{_digits(figure.value / kind.units[unit.casefold()], way, digits)} {unit}".rstrip()


def _digits(value: float, way: Way, digits: int) -> str:
    """Return a number to some digits, four of them at least to a tenth, without zeros at the end of its decimals."""
    if not MINUTE < abs(value) < math.inf:
        return f"{value:.3g}"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    places = max(1, places) if digits == DIGITS else places
    steps = value * 10.0**places
    whole = round(steps)
    if way != "nearest" and abs(steps - whole) > SAME * max(1.0, abs(steps)):
        whole = math.ceil(steps) if way in ("up", "least") else math.floor(steps)
    return trimmed(f"{whole / 10.0**places:.{max(0, places)}f}")
