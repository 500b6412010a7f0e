"""Plane drawings as plain data: paths and words in mm of paper from the top left corner, y downwards.

Whoever draws decides the scale; the sheet, the pictures and the page only paint what they are given. Strokes and fills
are names from `looks.py`, or colours as `#rrggbb`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Part = dict[str, Any]
"""One path, or one line of words."""

Drawing = dict[str, Any]
"""Width and height, mm, and its parts in the order in which they are painted."""

MM_A_POINT = 25.4 / 72
CAP_HEIGHT = 0.73
"""The share of a letter's size to which capitals and figures rise in the fonts of screens and pictures."""

_STROKE = 0.9  # half the height of the oblique strokes that end a dimension, mm
_BEYOND = 1.2  # how far extension lines go past it, mm
_WIDE = 0.2  # of a letter of the figure, mm to the point, in the widest of the fonts that it is seen in
_LETTER = 2.1  # from a dimension to the middle of its figure, mm


def drawing(width: float, height: float, *groups: Sequence[Part]) -> Drawing:
    """Return a drawing of a size, mm, and of all the parts of some groups."""
    return {"width": width, "height": height, "parts": [part for group in groups for part in group]}


def moved(drawing: Drawing, left: float, top: float) -> list[Part]:
    """Return the parts of a drawing whose corner stands at a place of a larger one, mm."""
    parts = []
    for part in drawing["parts"]:
        if "text" in part:
            parts.append(part | {"x": part["x"] + left, "y": part["y"] + top})
            continue
        rings = [[[x + left, y + top] for x, y in ring] for ring in part["rings"]]
        clip = part["clip"] and [part["clip"][0] + left, part["clip"][1] + top, *part["clip"][2:]]
        parts.append(part | {"rings": rings, "clip": clip})
    return parts


def trimmed(drawing: Drawing, room: float) -> Drawing:
    """Return a drawing without what is empty above and below its parts, but for so much room, mm."""
    reached = [level for part in drawing["parts"] for level in _levels(part)]
    if not reached:
        return drawing
    top = min(reached) - room
    return {"width": drawing["width"], "height": max(reached) + room - top, "parts": moved(drawing, 0.0, -top)}


def _levels(part: Part) -> list[float]:
    """Return how high and how low a part reaches on paper, mm; words as wide as theirs in most fonts."""
    if "text" in part:
        letter = part["size"] * MM_A_POINT
        half = letter * (0.3 * len(part["text"]) if part["turn"] else 0.5)
        return [part["y"] - half, part["y"] + half]
    levels = [y for ring in part["rings"] for _, y in ring]
    if part["clip"] is None:
        return levels
    _, top, _, height = part["clip"]
    return [min(max(level, top), top + height) for level in levels]


def path(
    points: ArrayLike, stroke: str, fill: str = "", closed: bool = False, clip: ArrayLike | None = None, number: int = 0
) -> Part:
    """Return a path through points.

    Parameters
    ----------
    points : (n, 2) float, mm
    stroke, fill : str
        Empty for none.
    closed : bool
    clip : (left, top, width, height), mm, or None
        What lies outside this rectangle is not painted.
    number : int
        Of the pass that it belongs to, or 0.
    """
    return area([np.asarray(points, float)], stroke, fill, closed, clip, number)


def area(
    rings: Sequence[NDArray[np.float64]],
    stroke: str,
    fill: str = "",
    closed: bool = True,
    clip: ArrayLike | None = None,
    number: int = 0,
) -> Part:
    """Return a path of several rings, (n, 2) mm each; a ring within another is a hole. See `path`."""
    return {
        "rings": [ring.round(3).tolist() for ring in rings],
        "stroke": stroke,
        "fill": fill,
        "closed": closed,
        "clip": None if clip is None else np.asarray(clip, float).round(3).tolist(),
        "number": number,
    }


def box(left: float, top: float, width: float, height: float, stroke: str, fill: str = "") -> Part:
    """Return a rectangle."""
    right, bottom = left + width, top + height
    return path([[left, top], [right, top], [right, bottom], [left, bottom]], stroke, fill, closed=True)


def words(
    text: str,
    x: float,
    y: float,
    anchor: str = "centre",
    size: float = 8.0,
    turn: float = 0,
    bold: bool = False,
    colour: str = "ink",
    halo: bool = False,
) -> Part:
    """Return a line of words whose middle, or whose left or right end, stands at a place.

    Parameters
    ----------
    text : str
    x, y : float, mm
        y is that of the middle of the line.
    anchor : str
        ``"centre"``, ``"left"`` or ``"right"``: which end of the words stands there.
    size : float, points
    turn : float, deg
        Clockwise.
    bold : bool
    colour : str
        As for a fill.
    halo : bool
        Whether a little white is round the letters, so that no line runs through them.
    """
    return {
        "text": text,
        "x": round(float(x), 3),
        "y": round(float(y), 3),
        "anchor": anchor,
        "size": size,
        "turn": turn,
        "bold": bold,
        "colour": colour,
        "halo": halo,
    }


def kept_within(part: Part, width: float) -> Part:
    """Return a part; a level line of words moved aside so far that none of it is beyond a width, mm.

    A figure that is cut off at its beginning reads as another.
    """
    if "text" not in part or part["turn"]:
        return part
    letter = _WIDE * part["size"] * (1.1 if part["bold"] else 1.0)
    wide = min(letter * len(part["text"]), width)
    left = {"left": 0.0, "centre": 0.5, "right": 1.0}[part["anchor"]] * wide
    return part | {"x": round(min(max(part["x"], left), width - wide + left), 3)}


def across(
    ends: tuple[float, float], start: float, level: float, text: str, size: float = 8.0, room: float = math.inf
) -> list[Part]:
    """Return a dimension across: its line at `level`, extension lines from `start`, its figure above or behind it.

    Behind it is to the right, or where there is no room up to so far, mm, to the left; where there is none either, it
    stands above it over the extension lines.
    """
    over = _BEYOND if level > start else -_BEYOND
    parts = [path([[end, start + over / 2], [end, level + over]], "faint") for end in ends]
    parts.append(path([[ends[0], level], [ends[1], level]], "hair"))
    parts += [path([[x - _STROKE, level + _STROKE], [x + _STROKE, level - _STROKE]], "thin") for x in ends]
    if not text:
        return parts
    wide, behind = _WIDE * size * len(text), _BEYOND + 1
    if abs(ends[1] - ends[0]) >= wide:
        return [*parts, words(text, sum(ends) / 2, level - _LETTER, size=size)]
    if max(ends) + behind + wide < room:
        return [*parts, words(text, max(ends) + behind, level, "left", size)]
    if min(ends) - behind - wide > 0 or room == math.inf:
        return [*parts, words(text, min(ends) - behind, level, "right", size)]
    return [*parts, kept_within(words(text, sum(ends) / 2, level - _LETTER, size=size, halo=True), room)]


def upright(ends: tuple[float, float], start: float, level: float, text: str, size: float = 8.0) -> list[Part]:
    """Return an upright dimension: its line at `level`, extension lines from `start`, its figure turned, left of it.

    A figure longer than the line stands further off, clear of the strokes at its ends.
    """
    over = _BEYOND if level > start else -_BEYOND
    parts = [path([[start + over / 2, end], [level + over, end]], "faint") for end in ends]
    parts.append(path([[level, ends[0]], [level, ends[1]]], "hair"))
    parts += [path([[level - _STROKE, y + _STROKE], [level + _STROKE, y - _STROKE]], "thin") for y in ends]
    clear = _STROKE if abs(ends[1] - ends[0]) < _WIDE * size * len(text) else 0.0
    return [*parts, words(text, level - _LETTER - clear, sum(ends) / 2, size=size, turn=-90)] if text else parts


def cross(x: float, y: float, arm: float = 1.6) -> list[Part]:
    """Return an upright cross on a place to be marked."""
    return [path([[x - arm, y], [x + arm, y]], "hair"), path([[x, y - arm], [x, y + arm]], "hair")]


def dot(x: float, y: float, radius: float, stroke: str, fill: str) -> Part:
    """Return a small round mark."""
    turn = np.linspace(0, 2 * math.pi, 25)[:-1]
    return path((x, y) + radius * np.column_stack([np.cos(turn), np.sin(turn)]), stroke, fill, closed=True)
