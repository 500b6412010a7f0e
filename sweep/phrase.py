"""Half a sentence with places for figures, worded only where it is known whether its reader thinks in mm or inches."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from sweep.figure import Figure
from sweep.shown import MM_PER_INCH, inch_fraction
from sweep.units import LENGTH

Way = Literal["nearest", "up", "down"]
"""To which side a figure is rounded: up for the least that will do, down for the most that will."""

DIGITS = 4
"""How many digits a figure has in a sentence, or as many as show tenths."""

MINUTE = 1e-6
"""In whatever unit; what is smaller is shown with an exponent."""

SAME = 1e-9
"""The share of a figure within which what is shown is that figure, whichever way it would be rounded."""

_PLACE = re.compile(r"\{(\w+)(?::(up|down))?\}")
_WAYS: dict[str | None, Way] = {"up": "up", "down": "down", None: "nearest"}


@dataclass(frozen=True)
class Phrase:
    """Half a sentence, and the figures it has places for.

    Parameters
    ----------
    words : str
        With places: ``{value}``, or ``{limit:down}`` and ``{limit:up}`` where what is read must lie within the limit.
    figures : pairs of name and Figure, Phrase or str
        What stands in each place; text stands there as it is.
    """

    words: str
    figures: tuple[tuple[str, Figure | Phrase | str], ...] = ()

    def said(self, inches: bool = False) -> str:
        """Return it in words, in mm or in inches; a place without a figure is left as it stands."""
        figures = dict(self.figures)

        def word(place: re.Match[str]) -> str:
            figure = figures.get(place[1], place[0])
            if isinstance(figure, Phrase):
                return figure.said(inches)
            return figure if isinstance(figure, str) else shown(figure, inches, _WAYS[place[2]])

        return _PLACE.sub(word, self.words)


def phrase(words: str, **figures: Figure | Phrase | str) -> Phrase:
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
    """
    kind = figure.kind
    if inches and kind == LENGTH:
        sixty_fourths = figure.value / MM_PER_INCH * 64
        if abs(sixty_fourths - round(sixty_fourths)) <= SAME * max(1.0, abs(sixty_fourths)):
            return inch_fraction(figure.value)
    unit = kind.inches if inches and kind.inches else kind.shown
    return f"{_digits(figure.value / kind.units[unit.casefold()], way)} {unit}".rstrip()


def _digits(value: float, way: Way) -> str:
    """Return a number to four digits, and at least to a tenth, without zeros at its end."""
    if not MINUTE < abs(value) < math.inf:
        return f"{value:.3g}"
    places = max(1, DIGITS - 1 - math.floor(math.log10(abs(value))))
    steps = value * 10.0**places
    whole = round(steps)
    if way != "nearest" and abs(steps - whole) > SAME * max(1.0, abs(steps)):
        whole = math.ceil(steps) if way == "up" else math.floor(steps)
    return f"{whole / 10.0**places:.{places}f}".rstrip("0").rstrip(".")
