"""`setups.png`: what each of several set-ups takes, the stock on the saw for each, and the moulding that comes of them.

Against a whole moulding that is wanted it shows what is left for planes and scrapers too, and what is cut too deep.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sweep.cut.moulding import Moulding
from sweep.shape.mesh import joined
from sweep.show.draw.colours import FINISHED, WOOD, hexed, made_colours, setup_colours
from sweep.show.draw.legend import legend, swatch
from sweep.show.draw.on_saw import fitting_scale, height_at, on_saw_drawing
from sweep.show.draw.paint_png import Laid, Painted, write_png
from sweep.show.draw.setups import left_drawing, most_of, setups_drawing, setups_frame
from sweep.show.draw.sketch import Part
from sweep.show.pictures.deviation_bar import by_what_is_left, deviation_bar
from sweep.show.pictures.layout import HEADING, LINE, MARGIN, MM, TEXT, foot, head, laid, laid_out, line
from sweep.show.say.cautions import LINE as CAUTION
from sweep.show.say.passes import title_of
from sweep.show.say.profile import verdict_of
from sweep.show.say.setups import SetupsReport
from sweep.show.solids.stock import Batch

WIDTH = 2200
"""Pixels."""

_GAP = 40  # pixels
_SOLID = (760, 570)  # of a picture of the moulding
_DRAWN = WIDTH - 2 * MARGIN - _GAP - _SOLID[0]  # width of a section beside it
_SAW = 620  # most of the height of a panel of the stock on the saw
_SLENDER = 5.0  # width over thickness above which fewer panels stand side by side
_LETTERS = 150  # of a line across the picture


@dataclass(frozen=True)
class _Rows:
    """The place of everything, in pixels from the top.

    Parameters
    ----------
    columns : int
        Of the panels of the stock on the saw.
    left, saw : int
        Tops of the row of what is left, where there is one, and of the panels.
    scale : float
        Of the panels, mm of paper to a mm.
    panel, height : int
        Heights of a panel and of the picture.
    """

    columns: int
    left: int | None
    saw: int
    scale: float
    panel: int
    height: int


def solids_of_setups(report: SetupsReport) -> list[Batch]:
    """Return the moulding coloured by the set-up that cut it and, against a whole target, by what is left on it."""
    moulding, whole = report.moulding, report.verdict.whole
    mesh = joined([piece.mesh for piece in moulding.pieces])
    colours = made_colours([len(job.passes) for job in moulding.jobs], len(moulding.finishing))
    batches = [Batch(moulding.scene.stock, [(mesh, colours[mesh.cut_by], None)], _SOLID)]
    if whole is not None:
        batches.append(Batch(moulding.scene.stock, [by_what_is_left(moulding, whole)], _SOLID, even=True))
    return batches


def setups_picture(report: SetupsReport, solids: Sequence[Sequence[NDArray[np.uint8]]]) -> Painted:
    """Return `setups.png`, given the pictures of `solids_of_setups`, drawn: (rows, columns, 3) each."""
    moulding, units, whole = report.moulding, report.units, report.verdict.whole
    rows = _rows(report)
    right = WIDTH - MARGIN - _SOLID[0]
    pictures = [Laid(right, 220, solids[0][0])]
    frame = setups_frame(moulding, _DRAWN / MM, _SOLID[1] / MM)
    parts = [
        *head(title_of(moulding.scene, 70), "   ·   ".join(_facts(report))),
        *_headings(190, "what each takes, as the stock was planed, looking along the feed", "finished, by what cut it"),
    ]
    drawn = setups_drawing(moulding, units, frame)
    parts += laid(drawn, MARGIN, 220 + (_SOLID[1] - MM * drawn["height"]) / 2)
    parts += _legend(moulding)
    if rows.left is not None and whole is not None:
        drawn = left_drawing(moulding, whole, units, frame)
        bar, colours = deviation_bar(
            most_of(whole), units, right + 110, rows.left + 30 + _SOLID[1] + 20, _SOLID[0] - 220
        )
        parts += _headings(rows.left, "what is left above the profile", "finished, by what is left")
        parts += laid(drawn, MARGIN, rows.left + 30 + (_SOLID[1] - MM * drawn["height"]) / 2)
        parts += bar
        pictures += [Laid(right, rows.left + 30, solids[1][0]), colours]
        for k, text in enumerate(_verdict(report)):
            parts.append(line(text, MARGIN, rows.left + _SOLID[1] + 200 + LINE * k))
    parts.append(line("the stock on the saw, looking along the feed", WIDTH / 2, rows.saw, HEADING, "centre"))
    wide = _width(rows.columns)
    for place, one in enumerate(report.reports):
        row, column = divmod(place, rows.columns)
        panel = on_saw_drawing(one, moulding, place, rows.scale, wide / MM, rows.panel / MM)
        parts += laid(panel, MARGIN + column * (wide + _GAP), rows.saw + 40 + row * (rows.panel + _GAP))
    return Painted(laid_out(WIDTH, rows.height, parts, foot(WIDTH, rows.height, CAUTION)), tuple(pictures))


def write_setups(path: Path, report: SetupsReport, solids: Sequence[Sequence[NDArray[np.uint8]]]) -> None:
    """Draw `setups.png`; see `setups_picture`."""
    write_png(path, setups_picture(report, solids))


def _rows(report: SetupsReport) -> _Rows:
    moulding = report.moulding
    stocks = [one.whole.stock for one in moulding.settings]
    columns = min(len(stocks), 2 if any(one.width > _SLENDER * one.thickness for one in stocks) else 4)
    below = 220 + _SOLID[1] + 120
    whole = report.verdict.whole is not None
    saw = below + (_SOLID[1] + 220 + LINE * len(_verdict(report)) if whole else 0) + 30
    scale = fitting_scale(moulding, _width(columns) / MM, _SAW / MM)
    panel = round(MM * height_at(moulding, scale))
    height = saw + 40 + math.ceil(len(stocks) / columns) * (panel + _GAP) + 60
    return _Rows(columns, below if whole else None, saw, scale, panel, height)


def _width(columns: int) -> float:
    """Return how wide each of some panels side by side is."""
    return (WIDTH - 2 * MARGIN - _GAP * (columns - 1)) / columns


def _verdict(report: SetupsReport) -> list[str]:
    return textwrap.wrap(verdict_of(report.verdict, report.units), _LETTERS)


def _facts(report: SetupsReport) -> list[str]:
    moulding, stock = report.moulding, report.moulding.scene.stock
    species = "" if stock.species == "unknown" else f"{stock.species[:30]}, "
    count, passes = len(moulding.settings), moulding.passes
    facts = [
        f"{species}{report.units.length(stock.length)} long",
        f"{count} setting{'' if count == 1 else 's'} of the saw, {passes} pass{'' if passes == 1 else 'es'}",
    ]
    return facts + ([f"{len(moulding.pieces)} pieces"] if len(moulding.pieces) > 1 else [])


def _headings(top: float, left: str, right: str) -> list[Part]:
    return [
        line(left, MARGIN + _DRAWN / 2, top, HEADING, "centre"),
        line(right, WIDTH - MARGIN - _SOLID[0] / 2, top, HEADING, "centre"),
    ]


def _legend(moulding: Moulding) -> list[Part]:
    """Return the colours with the names of what they stand for, in as many rows as they need."""
    colours = setup_colours(len(moulding.settings))
    entries = [(swatch(hexed(WOOD), "faint"), "planed")]
    for one, colour in zip(moulding.settings, colours, strict=True):
        name = textwrap.shorten(f"{one.asked.place}. {one.name}", 36, placeholder="...")
        entries.append((swatch(hexed(colour)), name))
    if not all(one.is_kept for one in moulding.fallen):
        entries.append((swatch("taken", "faint"), "falls off"))
    if moulding.finishing:
        entries.append((swatch(hexed(FINISHED)), "finishing"))
    middle = (220 + _SOLID[1] + 55) / MM
    return legend(entries, MARGIN / MM, middle, (WIDTH - 2 * MARGIN) / MM, TEXT, centred=True)
