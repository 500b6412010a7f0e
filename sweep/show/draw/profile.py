"""The section on the first page: what each pass takes, what is left, the line wanted, and every dimension."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.check.judge import Outcome
from sweep.scene.model import Scene
from sweep.shape import section
from sweep.show.draw.sketch import Drawing, Part, Placing, across, drawing, open_at_table, path, upright, words
from sweep.units import Units

DRAWN_CHORD = 0.01
"""mm. Chords of the rim on paper: a tenth of a line's thickness."""

_LEFT, _TOP, _BOTTOM = 9.0, 7.0, 9.0  # room for the dimensions, mm
_LETTER = 1.35  # width of a letter of the figures at the right, mm
_GAP = 4.5  # from the stock to a dimension, mm


def coves(scene: Scene, height: float) -> list[NDArray[np.float64]]:
    """Return what the blade at a height takes from the planed section, without its mouth: (n, 2) mm in (y, z) each."""
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, height, DRAWN_CHORD)
    inside = section.within(cut, section.stock_section(scene.stock.width, scene.stock.thickness))
    return [open_at_table(ring) for ring in section.rings(inside)]


def profile(outcome: Outcome, units: Units, width: float, height: float) -> Drawing:
    """Return the section looking along the feed, as large as it fits, with its dimensions.

    Parameters
    ----------
    outcome : Outcome
    units : Units
    width, height : float, mm
        Most that it may take of the page.
    """
    job = outcome.job
    scene, stock = job.scene, job.scene.stock
    at_right = _GAP + 3 + _LETTER * max(map(len, _depths(outcome, units)))
    scale = min((width - _LEFT - at_right) / stock.width, (height - _TOP - _BOTTOM) / stock.thickness)
    half, base = stock.width / 2 * scale, _TOP + stock.thickness * scale
    middle = _LEFT + (width - _LEFT - at_right) / 2

    def at(points: ArrayLike) -> NDArray[np.float64]:
        return (middle, base) + np.asarray(points, float) * (scale, -scale)

    parts = [path(at(ring), "", "taken", closed=True) for ring in section.rings(job.sections[-1].left)]
    parts += [
        path(at(ring), "edge", "wood", closed=True)
        for piece in job.pieces
        for ring in section.rings(piece.outline.figure)
    ]
    parts += [path(at(line), "faint") for one in job.passes[:-1] for line in coves(scene, one.height)]
    corners = [(-stock.width / 2, 0), (stock.width / 2, 0), (stock.width / 2, stock.thickness)]
    parts.append(path(at([*corners, (-stock.width / 2, stock.thickness)]), "dotted", closed=True))
    if outcome.profile is not None:
        parts.append(path(at(outcome.profile.target), "dashed"))
    return drawing(width, base + _BOTTOM, parts, _dimensions(outcome, units, at, (middle - half, middle + half)))


def _dimensions(outcome: Outcome, units: Units, at: Placing, sides: tuple[float, float]) -> list[Part]:
    stock, last = outcome.job.scene.stock, outcome.job.sections[-1]
    left, right = sides
    (_, base), (_, top) = at([(0, 0), (0, stock.thickness)])
    parts = across(sides, top, top - _GAP + 1, units.length(stock.width))
    parts += upright((top, base), left, left - _GAP + 1, units.length(stock.thickness))
    if last.edges is not None:
        ends = at([(last.edges[0], 0), (last.edges[1], 0)])[:, 0].tolist()
        parts += across(tuple(ends), base, base + _GAP + 2, units.length(last.width))
    if last.top <= 0:
        return parts
    outline = np.vstack(section.rings(last.left))
    highest = outline[np.argmin(np.abs(outline[:, 1] - last.top))]
    place, level = at([highest])[0]
    out = right + _GAP
    parts.append(path([[place, level], [out, level]], "faint"))
    parts += upright((level, base), right, out, "")
    parts += upright((top, level), right, out, "")
    deep, above = (level + base) / 2, (top + level) / 2
    push = max(0.0, 4.0 - (deep - above)) / 2
    labels = _depths(outcome, units)
    return [*parts, *(words(labels[k], out + 2, y, "left") for k, y in enumerate((deep + push, above - push)))]


def _depths(outcome: Outcome, units: Units) -> tuple[str, str]:
    """Return how deep the cove is and how much wood stands above it, in words."""
    last = outcome.job.sections[-1]
    above = units.length(outcome.job.scene.stock.thickness - last.top)
    return f"{units.length(last.top)} deep", f"{above} above"
