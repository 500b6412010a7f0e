"""The letters of pictures: files of DejaVu Sans that the rendering library's own needs bring along, found unloaded."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path

from PIL import ImageFont

from sweep.show.draw.sketch import MM_A_POINT

_FINE = 100
"""Letters are measured at this size, points, so that hinting and whole pixels do not matter."""


@cache
def font_folder() -> Path:
    """Return the folder that holds the files."""
    found = find_spec("matplotlib")
    assert found is not None and found.origin is not None  # it is installed with us
    return Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"


def font_file(bold: bool = False) -> str:
    """Return the path of the font, upright or bold."""
    return str(font_folder() / f"DejaVuSans{'-Bold' if bold else ''}.ttf")


def width_of(text: str, size: float, bold: bool = False) -> float:
    """Return how wide a line of words is at a size in points, mm."""
    return _letters(bold).getlength(text) / _FINE * size * MM_A_POINT


@cache
def _letters(bold: bool) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(font_file(bold), _FINE)
