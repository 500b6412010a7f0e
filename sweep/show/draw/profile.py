"""A profile of a catalogue: its section in the stock, at 1:1 or as large as there is room."""

from __future__ import annotations

import numpy as np

from sweep.shape import section
from sweep.shop.row import Answer
from sweep.show.draw.sketch import Drawing, area, drawing
from sweep.tolerance import DRAWN

ROUND = 1.0
"""mm. Room about the stock, for its lines."""


def profile_drawing(answer: Answer, scale: float) -> Drawing:
    """Return the section of the wood that a profile leaves, mm of paper; `scale` of the wood's size.

    A cove is taken from the stock below its line. Of a whole moulding what lies beyond an open line stays, seen from
    the table, or what a closed one holds.
    """
    line = np.array(answer.wanted, float) / 100
    width, thickness = answer.stock_mm
    stock = section.stock_section(width, thickness)
    closed = np.hypot(*(line[0] - line[-1])) < DRAWN
    if not answer.whole:
        wood = section.minus(stock, section.together(line))
    elif closed:
        wood = section.together(line)
    else:
        back = line[[-1, 0]].copy()
        back[:, 1] = thickness
        wood = section.within(section.together(np.vstack([line, back])), stock)
    corner = (ROUND + width / 2 * scale, ROUND + thickness * scale)
    rings = [corner + ring * (scale, -scale) for ring in section.rings(wood)]
    return drawing(width * scale + 2 * ROUND, thickness * scale + 2 * ROUND, [area(rings, "edge", "wood")])
