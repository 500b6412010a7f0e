"""Paints drawings, and writes, on a page laid out in pixels from its top left corner."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cache
from pathlib import Path as FilePath
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path
from matplotlib.patheffects import withStroke
from numpy.typing import NDArray
from PIL import Image

from sweep.show.draw.colours import INK
from sweep.show.draw.looks import STROKES, colour_of
from sweep.show.draw.sketch import CAP_HEIGHT, MM_A_POINT, Drawing, Part

DPI = 200
"""Pixels an inch, by which pages count points of letters and lines."""

_EFFORT = 3
"""The compression of PNG, 0 to 9; more takes longer than it is worth."""


Laid = tuple[int, int, NDArray[np.uint8]]
"""Left and top of a picture on a page, pixels, and the picture, (rows, columns, 3)."""


def blank(width: float, height: float) -> Figure:
    """Return a white page, its size in pixels."""
    return Figure(figsize=(width / DPI, height / DPI), dpi=DPI, facecolor="white")


def save(figure: Figure, path: FilePath, pictures: Iterable[Laid] = ()) -> None:
    """Write a page as PNG, with pictures laid on it pixel for pixel."""
    canvas = FigureCanvasAgg(figure)
    canvas.draw()  # type: ignore[no-untyped-call]
    drawn = np.asarray(canvas.buffer_rgba())  # type: ignore[no-untyped-call]
    page = Image.fromarray(drawn).convert("RGB")  # nothing in it is seen through
    for left, top, picture in pictures:
        page.paste(Image.fromarray(picture), (left, top))
    page.save(path, "PNG", dpi=(DPI, DPI), compress_level=_EFFORT)


def paint(figure: Figure, drawing: Drawing, left: float, top: float, pixels: float) -> Axes:
    """Paint a drawing, so many pixels to a mm of paper, and return its axes, which count in mm."""
    wide, high = drawing["width"], drawing["height"]
    axes = axes_at(figure, left, top, wide * pixels, high * pixels)
    axes.set(xlim=(0, wide), ylim=(high, 0))
    axes.set_axis_off()
    points = pixels / figure.dpi * 72  # of a line's width, to a mm
    for part in drawing["parts"]:
        if "text" in part:
            _paint_words(axes, part, points * MM_A_POINT)
        else:
            _paint_path(axes, part, points)
    return axes


def _paint_path(axes: Axes, part: Part, points: float) -> None:
    close = [Path.CLOSEPOLY] if part["closed"] else []
    courses = [ring + ring[:1] if part["closed"] else ring for ring in part["rings"]]
    codes = [[Path.MOVETO, *[Path.LINETO] * (len(ring) - 1 - len(close)), *close] for ring in courses]
    outline = Path([point for ring in courses for point in ring], [code for course in codes for code in course])
    look = {"fc": colour_of(part["fill"]) if part["fill"] else "none", "ec": "none", "lw": 0.0}
    if part["stroke"]:
        stroke = STROKES[part["stroke"]]
        look |= {"ec": part.get("stroke_colour", stroke.colour), "lw": stroke.width * points}
        if stroke.dashes:  # counted in widths of the line
            look["ls"] = (0, [length / stroke.width for length in stroke.dashes])
    drawn = axes.add_patch(PathPatch(outline, joinstyle="round", capstyle="butt", **look))
    if part["clip"] is not None:
        x, y, width, height = part["clip"]
        drawn.set_clip_path(Rectangle((x, y), width, height, transform=axes.transData))
    else:
        drawn.set_clip_on(False)


def _paint_words(axes: Axes, part: Part, larger: float) -> None:
    turn, size = math.radians(part["turn"]), part["size"] * MM_A_POINT
    axes.text(
        part["x"] - CAP_HEIGHT / 2 * size * math.sin(turn),
        part["y"] + CAP_HEIGHT / 2 * size * math.cos(turn),
        _in_font(part["text"]),
        fontsize=part["size"] * larger,
        color=colour_of(part["colour"]),
        ha={"centre": "center"}.get(part["anchor"], part["anchor"]),
        va="baseline",
        rotation=-part["turn"],
        rotation_mode="anchor",
        weight="bold" if part["bold"] else "normal",
        parse_math=False,
        path_effects=[withStroke(linewidth=2.6, foreground="white")] if part["halo"] else [],
    )


def write(figure: Figure, x: float, y: float, text: str, size: float, **how: Any) -> None:
    """Write a line of text, as it stands: a dollar sign starts no formula, a letter that the font lacks is a box.

    Parameters
    ----------
    figure : Figure
    x, y : float
        Pixels; y is that of the middle of the line.
    text : str
    size : float
        Points.
    how
        What else matplotlib's text takes.
    """
    width, height = _size(figure)
    figure.text(
        x / width,
        1 - y / height,
        _in_font(text),
        fontsize=size,
        **{"color": INK, "va": "center", "parse_math": False, **how},
    )


def axes_at(figure: Figure, left: float, top: float, width: float, height: float) -> Axes:
    """Return new axes in a rectangle given in pixels."""
    across, down = _size(figure)
    return figure.add_axes((left / across, 1 - (top + height) / down, width / across, height / down))


def _in_font(text: str) -> str:
    return "".join(letter if ord(letter) in _letters() else "\N{WHITE SQUARE}" for letter in text)


@cache
def _letters() -> frozenset[int]:
    """Return the letters of the font that pages are written in, by their numbers."""
    return frozenset(get_font(findfont(FontProperties())).get_charmap())


def _size(figure: Figure) -> tuple[float, float]:
    across, down = figure.get_size_inches()
    return across * figure.dpi, down * figure.dpi
