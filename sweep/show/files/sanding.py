"""`scraper.svg`: a template at 1:1 of what scrapes the finished cove smooth."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from sweep.cut.passes import pass_sections
from sweep.cut.sanding import filling
from sweep.scene.model import WholeScene
from sweep.units import MM_PER_INCH, Units

_MARGIN, _LINE, _TEXT = 10.0, 0.2, 4.0
"""mm on paper: round the drawing, thickness of its lines, height of its letters."""

_LEAST_WIDTH = 150.0
"""mm. Room for the words."""


def write_scraper(folder: Path, scene: WholeScene, units: Units, chord: float) -> None:
    """Write the template into a folder; nothing where there is no cove that it would fit."""
    outline = filling(scene, 0.0, chord)
    if outline is not None:
        (folder / "scraper.svg").write_text(scraper_svg(outline, scene, units), encoding="utf-8")


def scraper_svg(outline: NDArray[np.float64], scene: WholeScene, units: Units) -> str:
    """Return the template as an SVG file in mm, with a bar to check the printer by.

    Parameters
    ----------
    outline : (n, 2) float, mm
        Across, to the right, and upwards from the scraper's back.
    scene : WholeScene
    units : Units
        In inches there is a bar of 4 in below that of 100 mm.
    """
    low, high = outline.min(axis=0), outline.max(axis=0)
    across, up = high - low
    width = max(across, _LEAST_WIDTH) + 2 * _MARGIN
    bars = [("100 mm", 100.0)] if units.metric else [("100 mm", 100.0), ("4 in", 4 * MM_PER_INCH)]
    cove = pass_sections(scene)[-1]  # the drawn outline is of chords, by so much too small
    wide, deep = units.length(cove.width), units.length(cove.top)
    words = [
        scene.title[:60] or "Scraper",
        "Scraper, 1:1, as seen along the feed",
        f"for a cove {wide} wide and {deep} deep.",
        "Print at full size and measure the bar before cutting anything.",
    ]
    text_top = _MARGIN + up + 3 * _TEXT
    bar_top = text_top + len(words) * 1.6 * _TEXT
    height = bar_top + len(bars) * 2.5 * _TEXT + _MARGIN / 2
    drawing = ElementTree.Element(
        "svg",
        xmlns="http://www.w3.org/2000/svg",
        width=f"{width:.4f}mm",
        height=f"{height:.4f}mm",
        viewBox=f"0 0 {width:.4f} {height:.4f}",
    )
    left = (width - across) / 2 - low[0]
    corners = " L ".join(f"{left + y:.4f} {_MARGIN + high[1] - z:.4f}" for y, z in outline)
    _path(drawing, "scraper", f"M {corners} Z")
    inside = min(1.5 * _TEXT, across / 4)
    for place, letter in ((left + low[0] + inside, "L"), (left + high[0] - inside, "R")):
        _words(drawing, letter, place, _MARGIN + up - 0.5 * _TEXT, "middle")
    for number, line in enumerate(words):
        _words(drawing, line, _MARGIN, text_top + number * 1.6 * _TEXT)
    for number, (name, long) in enumerate(bars):
        level = bar_top + number * 2.5 * _TEXT
        _path(
            drawing,
            f"bar {name}",
            f"M {_MARGIN:.4f} {level - 2:.4f} v 4 m 0 -2 h {long:.4f} m 0 -2 v 4",
        )
        _words(drawing, name, _MARGIN + long + 2, level + 0.35 * _TEXT)
    ElementTree.indent(drawing)
    return ElementTree.tostring(drawing, encoding="unicode") + "\n"


def _path(drawing: ElementTree.Element, name: str, course: str) -> None:
    style = {"fill": "none", "stroke": "black", "stroke-width": f"{_LINE}"}
    ElementTree.SubElement(drawing, "path", style | {"id": name.replace(" ", "-"), "d": course})


def _words(drawing: ElementTree.Element, text: str, x: float, y: float, anchor: str = "start") -> None:
    place = {"x": f"{x:.4f}", "y": f"{y:.4f}", "text-anchor": anchor}
    style = {"font-family": "sans-serif", "font-size": f"{_TEXT}"}
    ElementTree.SubElement(drawing, "text", place | style).text = text
