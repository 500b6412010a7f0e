"""The letters of pictures: files of DejaVu Sans that the drawing library brings along, found without loading it."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path


@cache
def font_file(bold: bool = False) -> str:
    """Return the path of the font, upright or bold."""
    found = find_spec("matplotlib")
    assert found is not None and found.origin is not None  # it is installed with us
    library = Path(found.origin).parent
    return str(library / "mpl-data" / "fonts" / "ttf" / f"DejaVuSans{'-Bold' if bold else ''}.ttf")
