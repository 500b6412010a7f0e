"""Drawings painted as pictures: every part where it is said to be, and words as they stand."""

from __future__ import annotations

import numpy as np
import pytest
from drawn import painted, pixels_of, words_of
from PIL import Image

from sweep.show.draw.paint_png import DPI, Laid, Painted, write_png
from sweep.show.draw.sketch import box, drawing, path, words

MM = DPI / 25.4


def extent(inked):
    """The rectangle about all marked pixels: left, top, right and bottom."""
    down, across = np.nonzero(inked)
    return across.min(), down.min(), across.max() + 1, down.max() + 1


@pytest.mark.parametrize("turn", [0, -90, 90, 180])
@pytest.mark.parametrize("anchor", ["left", "centre", "right"])
def test_words_fill_the_room_that_their_font_gives_them(anchor, turn):
    """As they stand, dollar signs and all, about the place and by the end that is said, bold or not."""
    for text, bold in ((r"$\nonsense{$ at $5 a foot", False), ("60.77 mm", True)):
        page = drawing(100, 100, [words(text, 50, 50, anchor, 8.0, turn, bold)])
        room = words_of(page)[0].room
        found = extent((pixels_of(Painted(page)) < 128).any(axis=-1))

        assert np.array(found) / MM == pytest.approx(np.array(room.envelope.bounds), abs=0.45)
        corners = np.array(room.exterior.coords)
        assert np.ptp(corners, axis=0).max() > 10


def test_a_letter_that_no_font_has_is_a_box_as_high_as_a_letter():
    """It is neither left out nor a question mark: a Chinese one has a frame round a white middle."""
    page = drawing(20, 10, [words("木", 10, 5, size=20.0)])
    inked = (pixels_of(Painted(page)) < 128).any(axis=-1)
    left, top, right, bottom = extent(inked)

    assert right - left > 2 * MM and bottom - top > 3 * MM and not inked[(top + bottom) // 2, (left + right) // 2]
    assert inked[top:bottom, left].mean() > 0.9 and inked[top, left:right].mean() > 0.9


def test_places_are_mm_from_the_top_left_corner_and_a_clip_bounds_what_is_painted(tmp_path):
    """A box of 10 by 5 mm, 3 from the left and 2 from the top; of a larger one only what is within its window."""
    page = drawing(40, 20, [box(3, 2, 10, 5, "", "#ff0000")])
    page["parts"].append(path([(15, 0), (40, 0), (40, 20), (15, 20)], "", "#0000ff", True, clip=(20, 6, 7, 9)))
    pixels = painted(Painted(page), tmp_path / "boxes.png")
    for ends, colour in (((3, 2, 13, 7), (255, 0, 0)), ((20, 6, 27, 15), (0, 0, 255))):
        found = extent((pixels == colour).all(axis=-1))
        assert np.array(found) / MM == pytest.approx(ends, abs=1.01 / MM)
    assert pixels.shape == (round(20 * MM), round(40 * MM), 3)


def test_a_picture_is_laid_on_the_page_pixel_for_pixel(tmp_path):
    """Noise comes back unchanged at its place, and nothing beside it is touched."""
    noise = np.random.default_rng(3).integers(0, 256, (40, 60, 3), np.uint8)
    page = painted(Painted(drawing(20, 20, []), (Laid(11, 7, noise),)), tmp_path / "laid.png")

    assert (page[7:47, 11:71] == noise).all()
    page = page.copy()
    page[7:47, 11:71] = 255
    assert (page == 255).all()


@pytest.mark.parametrize("laid", [(), (Laid(0, 0, np.zeros((2, 2, 3), np.uint8)),)])
def test_a_picture_says_how_large_it_is(laid, tmp_path):
    """A plan to scale is printed to scale, whether pixels are laid on it or not."""
    write_png(tmp_path / "plan.png", Painted(drawing(20, 10, []), laid))
    with Image.open(tmp_path / "plan.png") as picture:
        assert picture.info["dpi"] == pytest.approx((DPI, DPI), abs=0.02)  # to a whole pixel a metre
        assert np.array(picture.size) / picture.info["dpi"] * 25.4 == pytest.approx((20, 10), abs=0.1)
