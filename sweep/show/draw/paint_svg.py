"""Paints a drawing as SVG, for pages and for files: a millimetre of paper is one unit."""

from __future__ import annotations

import math
from html import escape
from itertools import chain, repeat

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
    shapes = [
        _words(part) if "text" in part else _path(part, f"{name}-{number}")
        for number, part in enumerate(drawing["parts"])
    ]
    look = {"xmlns": "http://www.w3.org/2000/svg", "viewBox": f"0 0 {size}", "role": "img"}
    return _element("svg", look | {"aria-label": says, "font-family": FONT}, "".join(shapes))


def _element(name: str, look: dict[str, str], inside: str = "") -> str:
    """Return an element with its attributes, which are escaped, and what stands in it, which is markup already."""
    given = "".join(f' {key}="{escape(value)}"' for key, value in look.items())
    return f"<{name}{given}>{inside}</{name}>" if inside else f"<{name}{given}/>"


def _path(part: Part, name: str) -> str:
    ends, before = "Z" if part["closed"] else "", ""
    look = {"d": "".join(map(_course, part["rings"], repeat(ends)))}
    look["fill"] = colour_of(part["fill"]) if part["fill"] else "none"
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
        window = _element("rect", {"x": x, "y": y, "width": width, "height": height})
        before = _element("clipPath", {"id": name}, window)
        look["clip-path"] = f"url(#{name})"
    return before + _element("path", look)


def _course(ring: list[list[float]], ends: str) -> str:
    """Return a way from point to point; all of its numbers are written at once, for there are thousands."""
    return f"M{'L'.join(['%.2f %.2f'] * len(ring))}{ends}" % tuple(chain.from_iterable(ring))


def _words(part: Part) -> str:
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
    return _element("text", look, escape(part["text"]))
