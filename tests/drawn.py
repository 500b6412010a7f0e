"""The words of a drawing with the room they take, measured in the font itself, and what of them runs into what."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pytest
import shapely
import shapely.affinity
from PIL import Image, ImageFont

from sweep.show.draw import paint_png
from sweep.show.draw.fonts import font_file
from sweep.show.draw.paint_png import Painted, write_png
from sweep.show.draw.sketch import CAP_HEIGHT, MM_A_POINT


@dataclass(frozen=True)
class Word:
    """A line of words of a drawing, its part, and the room that its letters take, mm of paper."""

    text: str
    part: dict[str, Any]
    room: shapely.Polygon


def words_of(drawing: dict[str, Any]) -> list[Word]:
    """Return all lines of words, in the order in which they are painted."""
    return [Word(part["text"], part, _room(part)) for part in drawing["parts"] if part.get("text")]


def texts_of(drawing: dict[str, Any]) -> list[str]:
    """Return what the lines of words say."""
    return [word.text for word in words_of(drawing)]


def crowded(words: list[Word], less: float) -> list[tuple[str, str]]:
    """Return the pairs of lines that overlap, each made smaller by so much all round, mm."""
    rooms = [word.room.buffer(-less) for word in words]
    pairs = shapely.STRtree(rooms).query(rooms, predicate="intersects").T
    return [(words[a].text, words[b].text) for a, b in pairs if a < b]


def painted(picture: Painted, path) -> np.ndarray:
    """Return the pixels of a picture as it is written, (rows, columns, 3)."""
    write_png(path, picture)
    return np.asarray(Image.open(path).convert("RGB"))


def inked(drawing: dict[str, Any], border: float) -> tuple[float, bool]:
    """Return the share of a drawing that is not paper, and whether its border of so many mm is; by a pixel each 0.3 mm.

    As fine as a picture is written it takes five times as long, and tells no more.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(paint_png, "DPI", 75)
        dark = (np.asarray(Image.open(io.BytesIO(paint_png.png_of(drawing))).convert("RGB")) < 249).any(axis=-1)
    assert dark.shape == pytest.approx((drawing["height"] / 25.4 * 75, drawing["width"] / 25.4 * 75), abs=1)
    share, wide = dark.mean(), round(border / 25.4 * 75)
    dark[wide:-wide, wide:-wide] = False
    return share, not dark.any()


def _room(part: dict[str, Any]) -> shapely.Polygon:
    font, size = _font(part["bold"]), part["size"] * MM_A_POINT
    mm = size / 100
    left, top, right, bottom = (mm * end for end in font.getbbox(part["text"], anchor="ls"))
    middle = -CAP_HEIGHT / 2 * size  # of the line, from its baseline
    ahead = {"left": 0.0, "centre": 0.5, "right": 1.0}[part["anchor"]] * mm * font.getlength(part["text"])
    room = shapely.box(left - ahead, top - middle, right - ahead, bottom - middle)
    turned = shapely.affinity.rotate(room, part["turn"], origin=(0, 0))  # y runs down, so clockwise
    return shapely.affinity.translate(turned, part["x"], part["y"])


@cache
def _font(bold: bool) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(font_file(bold), 100)
