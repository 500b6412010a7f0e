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
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.patches import Patch
from numpy.typing import NDArray

from sweep.cut.moulding import Moulding
from sweep.shape.mesh import joined
from sweep.show.draw.colours import FAINT, FINISHED, INK, WOOD, made_colours, setup_colours
from sweep.show.draw.looks import colour_of
from sweep.show.draw.on_saw import fitting_scale, height_at, on_saw_drawing
from sweep.show.draw.paint_png import DPI, Laid, blank, paint, save, write
from sweep.show.draw.setups import left_drawing, setups_drawing, setups_frame
from sweep.show.pictures.left_above import bar_of_what_is_left, by_what_is_left
from sweep.show.say.cautions import LINE
from sweep.show.say.passes import title_of
from sweep.show.say.profile import verdict_of
from sweep.show.say.setups import SetupsReport
from sweep.show.solids.stock import Batch

WIDTH = 2200
"""Pixels."""

_MM = 1.125 * DPI / 25.4  # pixels to a mm of a drawing: its words of 8 points come out at 9
_MARGIN, _GAP, _LINE = 60, 40, 40  # pixels
_SOLID = (760, 570)  # of a picture of the moulding
_DRAWN = WIDTH - 2 * _MARGIN - _GAP - _SOLID[0]  # width of a section beside it
_SAW = 620  # most of the height of a panel of the stock on the saw
_TITLE, _HEADING, _TEXT = 15.0, 10.5, 9.0  # points
_SLENDER = 5.0  # width over thickness above which fewer panels stand side by side
_LETTERS = 150  # of a line across the page


@dataclass(frozen=True)
class _Rows:
    """Where everything stands, in pixels from the top.

    Parameters
    ----------
    columns : int
        Of the panels of the stock on the saw.
    left, saw : int
        Tops of the row of what is left, where there is one, and of the panels.
    scale : float
        Of the panels, mm of paper to a mm.
    panel, height : int
        Heights of a panel and of the page.
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


def write_setups(path: Path, report: SetupsReport, solids: Sequence[Sequence[NDArray[np.uint8]]]) -> None:
    """Draw `setups.png`.

    Parameters
    ----------
    path : Path
    report : SetupsReport
    solids : sequence of sequences of (rows, columns, 3) uint8
        The pictures of `solids_of_setups`, drawn.
    """
    moulding, units, whole = report.moulding, report.units, report.verdict.whole
    rows = _rows(report)
    figure = blank(WIDTH, rows.height)
    write(figure, _MARGIN, 62, title_of(moulding.scene, 70), _TITLE, weight="bold")
    write(figure, _MARGIN, 122, "   ·   ".join(_facts(report)), _TEXT, color=FAINT)
    pictures: list[Laid] = [(WIDTH - _MARGIN - _SOLID[0], 220, solids[0][0])]
    frame = setups_frame(moulding, _DRAWN / _MM, _SOLID[1] / _MM)
    _headings(
        figure, 190, "what each takes, as the stock was planed, looking along the feed", "finished, by what cut it"
    )
    drawn = setups_drawing(moulding, units, frame)
    paint(figure, drawn, _MARGIN, 220 + (_SOLID[1] - _MM * drawn["height"]) / 2, _MM)
    _legend(figure, moulding, rows.height)
    if rows.left is not None and whole is not None:
        _headings(figure, rows.left, "what is left above the profile", "finished, by what is left")
        drawn = left_drawing(moulding, whole, units, frame)
        paint(figure, drawn, _MARGIN, rows.left + 30 + (_SOLID[1] - _MM * drawn["height"]) / 2, _MM)
        pictures.append((WIDTH - _MARGIN - _SOLID[0], rows.left + 30, solids[1][0]))
        corner = WIDTH - _MARGIN - _SOLID[0] + 110, rows.left + 30 + _SOLID[1] + 20
        bar_of_what_is_left(figure, whole, units, *corner, _SOLID[0] - 220)
        for k, line in enumerate(_verdict(report)):
            write(figure, _MARGIN, rows.left + _SOLID[1] + 200 + _LINE * k, line, _TEXT)
    write(figure, WIDTH / 2, rows.saw, "the stock on the saw, looking along the feed", _HEADING, ha="center")
    wide = _width(rows.columns)
    for place, one in enumerate(report.reports):
        row, column = divmod(place, rows.columns)
        panel = on_saw_drawing(one, moulding, place, rows.scale, wide / _MM, rows.panel / _MM)
        paint(figure, panel, _MARGIN + column * (wide + _GAP), rows.saw + 40 + row * (rows.panel + _GAP), _MM)
    write(figure, WIDTH / 2, rows.height - 40, LINE, ha="center", size=_TEXT, color=FAINT, style="italic")
    save(figure, path, pictures)


def _rows(report: SetupsReport) -> _Rows:
    moulding = report.moulding
    stocks = [one.whole.stock for one in moulding.settings]
    columns = min(len(stocks), 2 if any(one.width > _SLENDER * one.thickness for one in stocks) else 4)
    below = 220 + _SOLID[1] + 120
    whole = report.verdict.whole is not None
    saw = below + (_SOLID[1] + 220 + _LINE * len(_verdict(report)) if whole else 0) + 30
    scale = fitting_scale(moulding, _width(columns) / _MM, _SAW / _MM)
    panel = round(_MM * height_at(moulding, scale))
    height = saw + 40 + math.ceil(len(stocks) / columns) * (panel + _GAP) + 60
    return _Rows(columns, below if whole else None, saw, scale, panel, height)


def _width(columns: int) -> float:
    """Return how wide each of some panels side by side is."""
    return (WIDTH - 2 * _MARGIN - _GAP * (columns - 1)) / columns


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


def _headings(figure: Figure, top: float, left: str, right: str) -> None:
    write(figure, _MARGIN + _DRAWN / 2, top, left, _HEADING, ha="center")
    write(figure, WIDTH - _MARGIN - _SOLID[0] / 2, top, right, _HEADING, ha="center")


def _legend(figure: Figure, moulding: Moulding, height: int) -> None:
    """Draw the colours with the names of what they stand for, in as many rows as they need."""
    colours = setup_colours(len(moulding.settings))
    named = [(textwrap.shorten(f"{one.asked.place}. {one.name}", 36, placeholder="..."), colour)
             for one, colour in zip(moulding.settings, colours, strict=True)]  # fmt: skip
    handles: list[Artist] = [Patch(fc=WOOD, ec=FAINT, lw=0.5, label="planed")]
    handles += [Patch(fc=colour, ec="none", label=name) for name, colour in named]
    if not all(one.is_kept for one in moulding.fallen):
        handles.append(Patch(fc=colour_of("taken"), ec=FAINT, lw=0.5, label="falls off"))
    if moulding.finishing:
        handles.append(Patch(fc=FINISHED, ec="none", label="finishing"))
    letters = sum(len(str(handle.get_label())) + 6 for handle in handles)
    figure.legend(
        handles=handles, loc="center", bbox_to_anchor=(0.5, 1 - (220 + _SOLID[1] + 55) / height),
        ncols=math.ceil(len(handles) / math.ceil(letters / _LETTERS)), frameon=False, fontsize=_TEXT,
        handlelength=1.4, handleheight=1.0, columnspacing=1.7, handletextpad=0.5, labelcolor=INK,
    )  # fmt: skip
