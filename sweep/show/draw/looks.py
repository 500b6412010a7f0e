"""What the named strokes and fills of a drawing look like, and the colours of passes."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from sweep.show.draw.colours import ALARM, CAST_IRON, FAINT, FENCE, FINISHED, INK, THROAT, WOOD, hexed, pass_colours
from sweep.show.draw.sketch import Drawing

_PALE = 0.38
"""Share of a colour that is left of it in an area that others are drawn upon."""


@dataclass(frozen=True)
class Stroke:
    """A line: its colour, its width, mm, and its dashes and gaps in turn, mm, or none."""

    colour: str
    width: float
    dashes: tuple[float, ...] = ()


def pale(colour: ArrayLike) -> str:
    """Return a colour mixed with white."""
    return hexed(1 - _PALE * (1 - np.asarray(colour)))


STROKES = {
    "edge": Stroke(hexed(INK), 0.25),
    "thin": Stroke(hexed(INK), 0.3),
    "hair": Stroke(hexed(INK), 0.12),
    "faint": Stroke(hexed(FAINT), 0.1),
    "dotted": Stroke(hexed(FAINT), 0.15, (0.5, 0.7)),
    "dashed": Stroke(hexed(INK), 0.3, (1.8, 1.0)),
    "dashed hair": Stroke(hexed(INK), 0.15, (1.6, 0.7)),
    "target": Stroke(hexed(INK), 0.55, (2.2, 1.4)),
    "axis": Stroke(hexed(FAINT), 0.12, (3.0, 0.8, 0.5, 0.8)),
    "curve": Stroke(hexed(INK), 0.4),
    "ribbon": Stroke(hexed(FAINT), 0.9),
    "within": Stroke("#7fa883", 0.12),
    "pass": Stroke(hexed(FAINT), 0.18),
    "arrow": Stroke(hexed(INK), 0.7),
    "alarm": Stroke(hexed(ALARM), 0.7),
}

FILLS = {
    "wood": hexed(WOOD),
    "taken": pale(WOOD),
    "finishing": pale(FINISHED),
    "table": pale(CAST_IRON),
    "slot": hexed(THROAT),
    "fence": hexed(FENCE),
    "fence beyond": pale(FENCE),
    "within": "#e4efe4",
    "paper": "#ffffff",
    "ink": hexed(INK),
    "faint": hexed(FAINT),
    "alarm": hexed(ALARM),
}


def looks() -> dict[str, Any]:
    """Return both tables, ready for JSON."""
    return {"strokes": {name: asdict(stroke) for name, stroke in STROKES.items()}, "fills": FILLS}


def colour_of(name: str) -> str:
    """Return the colour of a fill or of words."""
    return FILLS.get(name, name)


def in_pass_colours(drawing: Drawing, count: int) -> Drawing:
    """Return a drawing in which what belongs to a pass has that pass's colour: areas pale, lines full."""
    colours = pass_colours(count)
    parts = []
    for part in drawing["parts"]:
        number = part.get("number", 0)
        if number:
            colour = colours[number - 1]
            part = part | ({"fill": pale(colour)} if part["fill"] else {"stroke_colour": hexed(colour)})
        parts.append(part)
    return drawing | {"parts": parts}
