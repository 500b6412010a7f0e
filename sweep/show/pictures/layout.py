"""What the pictures of a run have in common: places in pixels from the top left corner, letters, head and foot."""

from __future__ import annotations

from collections.abc import Sequence

from sweep.show.draw.paint_png import DPI
from sweep.show.draw.sketch import Drawing, Part, drawing, moved, words

MM = DPI / 25.4
"""Pixels to a mm of a drawing."""

MARGIN = 60
"""Pixels."""

LINE = 40
"""Pixels from one line of text to the next."""

TITLE, HEADING, TEXT, SMALL = 13.3, 9.3, 8.0, 7.1
"""Points."""


def laid_out(width: float, height: float, *groups: Sequence[Part]) -> Drawing:
    """Return a drawing of a size in pixels, of all the parts of some groups."""
    return drawing(width / MM, height / MM, *groups)


def line(
    text: str, x: float, y: float, size: float = TEXT, anchor: str = "left", bold: bool = False, colour: str = "ink"
) -> Part:
    """Return a line of words; its place in pixels, as in `words`."""
    return words(text, x / MM, y / MM, anchor, size, bold=bold, colour=colour)


def laid(drawn: Drawing, left: float, top: float) -> list[Part]:
    """Return the parts of a drawing whose corner stands at a place in pixels."""
    return moved(drawn, left / MM, top / MM)


def head(title: str, *facts: str) -> list[Part]:
    """Return a picture's title, with lines of facts below it."""
    below = [line(fact, MARGIN, 120 + LINE * k, colour="faint") for k, fact in enumerate(facts)]
    return [line(title, MARGIN, 62, TITLE, bold=True), *below]


def foot(width: float, height: float, *texts: str) -> list[Part]:
    """Return the lines at the foot of a picture, in its middle."""
    first = height - 40 - LINE * (len(texts) - 1)
    return [line(text, width / 2, first + LINE * k, SMALL, "centre", colour="faint") for k, text in enumerate(texts)]
