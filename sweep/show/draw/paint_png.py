"""Paints a drawing as PNG, by the templates with which the sheet is painted, in the letters of pictures."""

from __future__ import annotations

import io
import json
import struct
import zlib
from collections.abc import Sequence
from functools import cache
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

_HEADER = 33
"""Bytes with which every PNG begins: its signature, and the chunk with its size."""

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
    give_back()  # painting took twice what its pixels take, and where some are laid on them they are unpacked again now
    path.write_bytes(_laid(drawn, picture.laid) if picture.laid else _to_scale(drawn))


def png_of(drawing: Drawing) -> bytes:
    """Return a drawing as PNG, `DPI` pixels to an inch of its paper."""
    inputs = {"drawing": json.dumps(drawing), "looks": json.dumps(looks())}
    painted: bytes = typst.compile(
        _ROOM / "picture.typ", format="png", ppi=DPI, sys_inputs=inputs, font_paths=_fonts(), ignore_system_fonts=True
    )
    return painted


@cache
def _fonts() -> typst.Fonts:
    """Return the letters of pictures: to look through their folder takes longer than to paint a small picture."""
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[font_folder()])


def _laid(drawn: bytes, laid: Sequence[Laid]) -> bytes:
    """Return a PNG with pixels laid on it."""
    painted = Image.open(io.BytesIO(drawn)).convert("RGB")  # nothing in it is seen through
    for left, top, pixels in laid:
        painted.paste(Image.fromarray(pixels), (left, top))
    held = io.BytesIO()
    painted.save(held, "PNG", dpi=(DPI, DPI), compress_level=_EFFORT)
    return held.getvalue()


def _to_scale(drawn: bytes) -> bytes:
    """Return a PNG that says how large it is: a chunk after its header (W3C, PNG, third edition, 11.3.4.3)."""
    to_a_metre = round(DPI / 0.0254)
    said = b"pHYs" + struct.pack(">IIB", to_a_metre, to_a_metre, 1)
    chunk = struct.pack(">I", len(said) - 4) + said + struct.pack(">I", zlib.crc32(said))
    return drawn[:_HEADER] + chunk + drawn[_HEADER:]
