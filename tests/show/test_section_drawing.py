"""The section as plain data: what is drawn is what each pass takes, and every painter paints the same."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from drawn import words_of
from hypothesis import given
from PIL import Image
from reports import report_of
from strategies import fewer, scenes

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.show.draw.looks import colour_of, in_pass_colours, pale
from sweep.show.draw.paint_png import DPI, png_of
from sweep.show.draw.paint_svg import svg_of
from sweep.show.draw.section import cove_dimensions, deviation_drawing, frame_above_deviation, frame_of, section_drawing
from sweep.show.draw.sketch import drawing
from sweep.units import Units

SVG = "{http://www.w3.org/2000/svg}"


def area_of(part) -> float:
    """What the rings of a part enclose, mm2 of paper: outlines less holes, by the shoelace formula."""
    total = 0.0
    for ring in part["rings"]:
        x, y = np.array(ring).T
        total += (x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2
    return abs(total)


@fewer(1 / 20)
@given(scenes(stops=False))
def test_the_areas_drawn_are_what_the_passes_take_and_leave(scene):
    """Each pass its own, the wood the rest; lines of the cut keep off the planed faces."""
    outcome = judge(simulate(scene))
    frame = frame_of(outcome, Units(), 133.0, 53.0)
    parts = [part for part in section_drawing(outcome, Units(), frame)["parts"] if "rings" in part]
    drawn = dict.fromkeys(range(1, len(outcome.job.passes) + 1), 0.0)
    for part in parts:
        if part["number"] and part["fill"]:
            drawn[part["number"]] += area_of(part) / frame.scale**2
    loose = 0.05 * scene.stock.width  # chords and thousandths of a mm on paper
    for taken in outcome.job.sections:
        assert drawn[taken.number] == pytest.approx(taken.area, abs=loose)
    wood = sum(area_of(part) for part in parts if part["fill"] == "wood") / frame.scale**2
    assert wood == pytest.approx(scene.stock.width * scene.stock.thickness - sum(drawn.values()), abs=loose)
    faces = frame.at([(-scene.stock.width / 2, 0), (scene.stock.width / 2, scene.stock.thickness)])
    for part in parts:
        if part["stroke"] != "pass":
            continue
        for ring in part["rings"]:
            points = np.array(ring)
            for axis in (0, 1):
                for face in faces[:, axis]:
                    on_it = np.abs(points[:, axis] - face) < 2e-3
                    assert not (on_it[1:] & on_it[:-1]).any()


def test_every_painter_paints_the_same_section(cornice):
    """In the picture and in SVG the middle of each pass's area has the pale colour of that pass."""
    outcome = judge(simulate(cornice))
    frame = frame_above_deviation(outcome, Units(), 133.0, 53.0)
    drawing = in_pass_colours(section_drawing(outcome, Units(), frame), len(outcome.job.passes))
    pixels = np.asarray(Image.open(io.BytesIO(png_of(drawing))).convert("RGB"))
    svg = ElementTree.fromstring(svg_of(drawing, "section", "one"))
    painted = {part.get("data-pass"): part.get("fill") for part in svg.iter(f"{SVG}path") if part.get("fill") != "none"}
    heights = [0.0, *(one.height for one in outcome.job.passes)]
    for number in range(1, len(heights)):
        x, y = frame.at((0.0, (heights[number - 1] + heights[number]) / 2))
        seen = "#" + bytes(pixels[round(DPI / 25.4 * y), round(DPI / 25.4 * x)]).hex()
        assert seen == painted[str(number)]
    x, y = frame.at((0.0, (heights[-1] + cornice.stock.thickness) / 2))
    assert "#" + bytes(pixels[round(DPI / 25.4 * y), round(DPI / 25.4 * x)]).hex() == colour_of("wood")


def test_the_deviation_is_drawn_as_many_times_as_large_as_it_says(cornice):
    """Its height on paper over the section's scale is the figure in its words, to the two digits given."""
    outcome = judge(simulate(cornice))
    frame = frame_above_deviation(outcome, Units(), 133.0, 53.0)
    drawing = deviation_drawing(outcome, Units(), frame, 28.0)
    said = next(part["text"] for part in drawing["parts"] if "times as large" in part.get("text", ""))
    band = next(part for part in drawing["parts"] if part.get("fill") == "within")
    high = np.ptp(np.array(band["rings"][0])[:, 1])
    times = high / (2 * outcome.profile.tolerance) / frame.scale
    assert float(said.split(", ")[1].split(" ")[0]) == pytest.approx(times, rel=0.05)


@pytest.mark.parametrize("name", ["too-greedy", "corner-cupboard-cornice"])
def test_the_worst_place_is_marked_on_the_line_of_the_deviation(name):
    """Where a cove is wider than the target too: the line goes on to the cove's edges, and the mark stands on it."""
    report = report_of(name)
    outcome = report.outcome
    drawn = deviation_drawing(outcome, report.units, frame_above_deviation(outcome, report.units, 133.0, 53.0), 28.0)
    rings = [(part["stroke"], np.array(part["rings"][0])) for part in drawn["parts"] if "rings" in part]
    line = shapely.LineString(next(ring for stroke, ring in rings if stroke == "edge"))
    mark = shapely.Point(next(ring for _, ring in rings if len(ring) == 24).mean(axis=0))

    assert line.distance(mark) < 0.3  # half the mark


def test_pale_keeps_the_hue_and_white_stays_white():
    """A colour goes 62 % of the way to white."""
    assert pale((1.0, 1.0, 1.0)) == "#ffffff"
    assert pale((0.0, 0.5, 1.0)) == "#9ecfff"


@pytest.mark.parametrize("name", ["picture-rail", "out-of-reach", "off-the-edge"])
def test_every_figure_of_a_narrow_section_stands_whole_in_it(name):
    """As a phone has it, after every pass: one that is cut off at its beginning reads as another."""
    report = report_of(name)
    outcome = report.outcome
    for style in ("mm", "in", "in-decimal"):
        units = Units(style)
        frame = frame_of(outcome, units, 90.0, 110.0, brief=True)
        for taken in outcome.job.sections:
            drawn = drawing(*frame.size, cove_dimensions(report.scene.stock, taken, units, frame))
            for word in words_of(drawn):
                left, _, right, _ = word.room.bounds
                assert left > -0.3, (style, taken.width, word.text)
                assert right < 90.3, (style, taken.width, word.text)
