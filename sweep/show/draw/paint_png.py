"""A drawn page, laid out in pixels from its top left corner."""

from __future__ import annotations

from functools import cache

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font

from sweep.show.draw.colours import INK


def write(figure: Figure, x: float, y: float, text: str, size: float, **how: object) -> None:
    """Write a line of text, as it stands: a dollar sign starts no formula, a letter that the font lacks is a box.

    Parameters
    ----------
    figure : Figure
    x, y : float
        Pixels; y is that of the middle of the line.
    text : str
    size : float
        Points.
    how : object
        What else matplotlib's text takes.
    """
    width, height = _size(figure)
    figure.text(
        x / width,
        1 - y / height,
        _in_font(text),
        fontsize=size,
        **{"color": INK, "va": "center", "parse_math": False, **how},
    )


def axes_at(figure: Figure, left: float, top: float, width: float, height: float) -> Axes:
    """Return new axes in a rectangle given in pixels."""
    across, down = _size(figure)
    return figure.add_axes((left / across, 1 - (top + height) / down, width / across, height / down))


def _in_font(text: str) -> str:
    return "".join(letter if ord(letter) in _letters() else "\N{WHITE SQUARE}" for letter in text)


@cache
def _letters() -> frozenset[int]:
    """Return the letters of the font that pages are written in, by their numbers."""
    return frozenset(get_font(findfont(FontProperties())).get_charmap())


def _size(figure: Figure) -> tuple[float, float]:
    across, down = figure.get_size_inches()
    return across * figure.dpi, down * figure.dpi
