"""`surface.png`: the right size, and nothing touches the border."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import shapely
from drawn import crowded, is_drawn, is_free, pixels_of, texts_of, words_of
from reports import report_of

from sweep.show.pictures.layout import MM
from sweep.show.pictures.surface_plot import SIZE, surface_picture
from sweep.show.say.profile import marks_of
from sweep.units import Units


@pytest.mark.parametrize("name", ["shelf-cove", "tilted-cove", "off-the-edge"])
def test_the_surface_is_drawn_with_a_free_border(name):
    """Whatever the units: words may be longer, but none is cut off or runs into another."""
    report = report_of(name)
    for style in ("mm", "in", "in-decimal"):
        drawing = surface_picture(replace(report, units=Units(style)))
        words, (width, height) = words_of(drawing.drawing), (side / MM for side in SIZE)
        assert crowded(words, 0.1) == []
        assert all(shapely.box(2.2, 2.2, width - 2.2, height - 2.2).contains(word.room) for word in words)
    picture = pixels_of(drawing)

    assert picture.shape == (*SIZE[::-1], 3)
    assert is_free(picture, 20)
    assert 0.1 < is_drawn(picture).mean() < 0.6


@pytest.mark.parametrize(("style", "unit"), [("mm", "mm"), ("in", "thou"), ("in-decimal", "thou")])
def test_what_teeth_leave_is_told_in_one_small_unit(style, unit):
    """In the sentence and in the picture: nobody has to count the noughts of a millionth of an inch."""
    report = replace(report_of("picture-rail"), units=Units(style))
    words = texts_of(surface_picture(report).drawing)
    told = " ".join([marks_of(report.surface, report.units), *(word for word in words if "y = " not in word)])

    found = re.findall(r"[0-9] (mm|in|thou)\b(?!/)", told)
    assert len(found) > 8
    assert set(found) == {unit}
