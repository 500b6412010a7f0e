"""Paints a drawing as PNG, by the templates with which the sheet is painted, in the letters of pictures."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import NamedTuple

import numpy as np
import typst
from numpy.typing import NDArray
from PIL import Image

from sweep.apart import give_back
from sweep.show.draw.fonts import font_folder
from sweep.show.draw.looks import looks
from sweep.show.draw.sketch import Drawing

DPI = 225
"""Pixels an inch, so that words of 8 points are read on a screen."""

_EFFORT = 3
"""The compression of PNG, 0 to 9; more takes longer than it is worth."""

_ROOM = Path(__file__).parent


class Laid(NamedTuple):
    """Pixels laid on a picture, (rows, columns, 3): where their left and top are."""

    left: int
    top: int
    pixels: NDArray[np.uint8]


class Painted(NamedTuple):
    """What is painted of a picture, and what is laid upon that pixel for pixel: solids, shades."""

    drawing: Drawing
    laid: tuple[Laid, ...] = ()


def write_png(path: Path, picture: Painted) -> None:
    """Write a picture as PNG; a letter that its font lacks is a box."""
    drawn = png_of(picture.drawing)
    give_back()  # painting took twice what its pixels take, and they are unpacked again now
    painted = Image.open(io.BytesIO(drawn)).convert("RGB")  # nothing in it is seen through
    for left, top, pixels in picture.laid:
        painted.paste(Image.fromarray(pixels), (left, top))
    painted.save(path, "PNG", dpi=(DPI, DPI), compress_level=_EFFORT)


def png_of(drawing: Drawing) -> bytes:
    """Return a drawing as PNG, `DPI` pixels to an inch of its paper."""
    inputs = {"drawing": json.dumps(drawing), "looks": json.dumps(looks())}
    painted: bytes = typst.compile(
        _ROOM / "picture.typ",
        format="png",
        ppi=DPI,
        sys_inputs=inputs,
        font_paths=[font_folder()],
        ignore_system_fonts=True,
    )
    return painted
