"""The words of a drawing with the room they take, measured in the font itself, and what of them runs into what."""

from __future__ import annotations

import io
from collections.abc import Sequence
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
from sweep.show.pictures.stills import solids_of, stills_picture
from sweep.show.say.report import Report
from sweep.show.solids.stock import Batch


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


def pixels_of(picture: Painted) -> np.ndarray:
    """Return the pixels of a picture, (rows, columns, 3), without the way into a file and out of it."""
    pixels = np.array(Image.open(io.BytesIO(paint_png.png_of(picture.drawing))).convert("RGB"))
    for left, top, laid in picture.laid:
        pixels[top : top + laid.shape[0], left : left + laid.shape[1]] = laid
    return pixels


def coarse_solids(batches: Sequence[Batch]) -> list[list[np.ndarray]]:
    """Draw batches of solids, where nobody looks at how smooth their edges are."""
    from sweep.show.vtk import turned_over  # here, for drawings and their words are looked at without it

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(turned_over, "FINE", 1)
        return turned_over.pictures_end_on(batches)


def stills_of(report: Report) -> np.ndarray:
    """Return the pixels of `passes.png`, (rows, columns, 3), its solids drawn coarsely."""
    return pixels_of(stills_picture(report, coarse_solids(solids_of(report))))


def is_drawn(pixels: np.ndarray) -> np.ndarray:
    """Return which of some pixels, (..., 3), are not paper."""
    return (pixels[..., 0] < 249) | (pixels[..., 1] < 249) | (pixels[..., 2] < 249)


def is_free(pixels: np.ndarray, border: int) -> bool:
    """Return whether nothing is drawn within so many pixels of the four borders."""
    ends = slice(border), slice(-border, None)
    return all(pixels[end].min() >= 249 and pixels[:, end].min() >= 249 for end in ends)


def inked(drawing: dict[str, Any], border: float) -> tuple[float, bool]:
    """Return the share of a drawing that is not paper, and whether its border of so many mm is; by a pixel each 0.3 mm.

    As fine as a picture is written it takes five times as long, and tells no more.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(paint_png, "DPI", 75)
        pixels = pixels_of(Painted(drawing))
    assert pixels.shape[:2] == pytest.approx((drawing["height"] / 25.4 * 75, drawing["width"] / 25.4 * 75), abs=1)
    return is_drawn(pixels).mean(), is_free(pixels, round(border / 25.4 * 75))


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
