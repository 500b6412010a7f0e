"""Paints a drawing as SVG, for pages and for files: a millimetre of paper is one unit."""

from __future__ import annotations

import math
from xml.etree import ElementTree

from sweep.show.draw.looks import STROKES, colour_of
from sweep.show.draw.sketch import CAP_HEIGHT, MM_A_POINT, Drawing, Part

FONT = "system-ui, 'DejaVu Sans', sans-serif"


def svg_of(drawing: Drawing, says: str, name: str) -> str:
    """Return a drawing as an SVG element.

    Parameters
    ----------
    drawing : Drawing
    says : str
        What it shows, for those who cannot see it.
    name : str
        Of letters; told apart from those of other drawings on the same page.
    """
    size = f"{drawing['width']:.3f} {drawing['height']:.3f}"
    svg = ElementTree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {size}",
            "role": "img",
            "aria-label": says,
            "font-family": FONT,
        },
    )
    for number, part in enumerate(drawing["parts"]):
        if "text" in part:
            _words(svg, part)
        else:
            _path(svg, part, f"{name}-{number}")
    return ElementTree.tostring(svg, encoding="unicode")


def _path(svg: ElementTree.Element, part: Part, name: str) -> None:
    ends = "Z" if part["closed"] else ""
    course = "".join("M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in ring) + ends for ring in part["rings"])
    look = {"d": course, "fill": colour_of(part["fill"]) if part["fill"] else "none"}
    if len(part["rings"]) > 1:
        look["fill-rule"] = "evenodd"  # a ring within another is a hole
    if part["stroke"]:
        stroke = STROKES[part["stroke"]]
        look |= {"stroke": part.get("stroke_colour", stroke.colour), "stroke-width": str(stroke.width)}
        look |= {"stroke-dasharray": " ".join(map(str, stroke.dashes))} if stroke.dashes else {}
    if part["number"]:
        look["data-pass"] = str(part["number"])
    if part["clip"] is not None:
        x, y, width, height = map(str, part["clip"])
        window = ElementTree.SubElement(svg, "clipPath", {"id": name})
        ElementTree.SubElement(window, "rect", {"x": x, "y": y, "width": width, "height": height})
        look["clip-path"] = f"url(#{name})"
    ElementTree.SubElement(svg, "path", look)


def _words(svg: ElementTree.Element, part: Part) -> None:
    size = part["size"] * MM_A_POINT
    turn = math.radians(part["turn"])
    x = part["x"] - CAP_HEIGHT / 2 * size * math.sin(turn)
    y = part["y"] + CAP_HEIGHT / 2 * size * math.cos(turn)
    look = {
        "x": f"{x:.2f}",
        "y": f"{y:.2f}",
        "font-size": f"{size:.2f}",
        "text-anchor": {"left": "start", "centre": "middle", "right": "end"}[part["anchor"]],
        "fill": colour_of(part["colour"]),
    }
    look |= {"transform": f"rotate({part['turn']:g} {x:.2f} {y:.2f})"} if part["turn"] else {}
    look |= {"stroke": "#ffffff", "stroke-width": "0.9", "paint-order": "stroke"} if part["halo"] else {}
    look |= {"font-weight": "bold"} if part["bold"] else {}
    ElementTree.SubElement(svg, "text", look).text = part["text"]
