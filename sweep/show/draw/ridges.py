"""Tooth marks along the profile: how high they stand over the width, and the section below, to one scale across."""

from __future__ import annotations

import numpy as np

from sweep.cut.surface import Surface
from sweep.scene.keys import Stock
from sweep.show.draw.axes import Axes
from sweep.show.draw.colours import ALARM, hexed
from sweep.show.draw.sketch import Drawing, Part, dot, drawing, path, words
from sweep.units import Units

NO_RIDGE = 1e-3
"""Share of the spacing under which marks are drawn as none."""

_LEFT, _TOP = 22.0, 2.0  # room for the figures beside the ridges, and above them, mm
_RIDGES, _BETWEEN, _SECTION, _FOOT = 54.0, 9.0, 34.0, 5.0  # heights of the parts, of what is between them, below, mm
_SPOT = 0.75  # mm
_TEXT = 8.0  # points


def ridges_drawing(stock: Stock, surface: Surface, units: Units, width: float) -> Drawing:
    """Return the ridges over the width of the stock and, below, the section in true proportion, so wide, mm.

    The highest ridge has a dot in both. The surface has one: the last pass is in the wood.
    """
    assert surface.where is not None
    half, wide = stock.width / 2, width - _LEFT - 2 * _SPOT
    y, z = np.array(surface.points).T
    most = max(surface.largest, NO_RIDGE * surface.spacing)
    upper = Axes(_LEFT, _TOP, wide, _RIDGES, (-half, half), (0.0, 1.12 * most))
    ridges = upper.at(np.column_stack([y, surface.ridges]))
    foot = upper.at([(y[-1], 0.0), (y[0], 0.0)])
    parts: list[Part] = []
    for level in (most / 2, most):
        parts.append(path(upper.at([(-half, level), (half, level)]), "faint"))
    parts += [path(np.vstack([ridges, foot]), "", "wood", closed=True), path(ridges, "curve")]
    parts += upper.frame()
    parts += upper.beside([(0.0, "0"), *((tick, units.minute(tick)) for tick in (most / 2, most))], _TEXT)

    deep = min(_SECTION, wide * stock.thickness / stock.width)
    across = deep * stock.width / stock.thickness  # thick stock is drawn smaller
    top = _TOP + _RIDGES + _BETWEEN
    lower = Axes(_LEFT + (wide - across) / 2, top + (_SECTION - deep) / 2, across, deep, (-half, half),
                 (0.0, stock.thickness))  # fmt: skip
    y[[0, -1]] = np.where(z[[0, -1]] > 0.0, (-half, half), y[[0, -1]])  # run off a side
    line = lower.at(np.column_stack([[-half, *y, half], [0.0, *z, 0.0]]))
    above = lower.at([(half, stock.thickness), (-half, stock.thickness)])
    parts += [path(np.vstack([line, above]), "", "wood", closed=True), path(line[1:-1], "edge")]
    parts.append(words("section, looking along the feed", _LEFT + wide / 2, top - 3.4, size=_TEXT, colour="faint"))
    for axes, high in ((upper, surface.largest), (lower, surface.where[1])):
        x, level = axes.at((surface.where[0], high)).tolist()
        parts.append(dot(x, level, _SPOT, "", hexed(ALARM)))
    high = surface.where[1]
    said = "at the table" if high < 0.005 else f"{units.nearest(high)} above the table"
    note = f"the highest, at y = {units.nearest(surface.where[0])}, {said}: drawn beside"
    note = note.replace("-", "\N{MINUS SIGN}")
    parts.append(words(note, _LEFT + wide / 2, top + _SECTION + 3.4, size=_TEXT, colour="alarm"))
    return drawing(width, top + _SECTION + _FOOT, parts)
