"""`passes.png`: the stock after each pass, the finished moulding against its target, and the section."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from matplotlib.artist import Artist
from matplotlib.cm import ScalarMappable
from matplotlib.colors import ListedColormap, Normalize
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from numpy.typing import NDArray

from sweep.check.finish import FINISH_CODES
from sweep.check.profile import ProfileCheck, surface_deviation
from sweep.check.whole import WholeCheck
from sweep.cut.stages import Stage
from sweep.shape.mesh import UNCUT, Mesh, joined
from sweep.show.draw.colours import ALARM, FAINT, FINISHED, INK, WOOD, cut_colours, deviation_colours
from sweep.show.draw.looks import in_pass_colours
from sweep.show.draw.paint_png import DPI, axes_at, blank, paint, save, write
from sweep.show.draw.section import (
    deviation_drawing,
    frame_above_deviation,
    frame_of,
    height_for,
    section_drawing,
    signed,
)
from sweep.show.draw.setups import left_drawing, setups_frame
from sweep.show.pictures.left_above import bar_of_what_is_left, by_what_is_left
from sweep.show.say.cautions import LINE
from sweep.show.say.fence import fence_in_short
from sweep.show.say.passes import title_of
from sweep.show.say.profile import verdict_of
from sweep.show.say.report import Report
from sweep.show.solids.stock import Batch, Coloured
from sweep.units import Units, degrees

WIDTH = 2200
"""Pixels."""

MOST_SHOWN = 12
"""A job of more passes shows this many, evenly chosen, the first and the last among them."""

_MM = 1.125 * DPI / 25.4  # pixels to a mm of a drawing: its words of 8 points come out at 9
_MARGIN = 60
_ALONE = 1700  # width of the section where there is no target
_FINISHED = (860, 640)  # of the picture of the finished moulding
_TITLE, _HEADING, _TEXT, _SMALL = 15.0, 10.5, 9.0, 8.0  # points


@dataclass(frozen=True)
class Layout:
    """Where everything stands, in pixels from the top left.

    Parameters
    ----------
    columns, rows : int
        Of the grid of passes.
    cell : (width, height)
        Of the picture of one pass, without its title.
    left, top : int
        Of the grid.
    legend, lower : int
        Tops of the legend and of the lower half.
    alone : int
        Height of the section where it stands alone, for want of a target; else 0.
    height : int
        Of the whole.
    """

    columns: int
    rows: int
    cell: tuple[int, int]
    left: int
    top: int
    legend: int
    lower: int
    alone: int
    height: int

    def corner(self, k: int) -> tuple[int, int]:
        """Return the left and top of the picture of the k-th stage."""
        row, column = divmod(k, self.columns)
        return self.left + column * (self.cell[0] + 20), self.top + row * (self.cell[1] + 84) + 62


def solids_of(report: Report) -> list[Batch]:
    """Return the solids that `passes.png` shows: the stock after its passes, and the moulding by its deviation."""
    job, shown, plan = report.job, _shown(report), _plan(report)
    colours = cut_colours(len(job.passes), len(job.finishing))
    meshes = [stage.mesh for stage in shown]
    if job.finishing:
        meshes.append(joined([piece.mesh for piece in job.pieces]))
    batches = [Batch(job.scene.stock, [(mesh, colours[mesh.cut_by], None) for mesh in meshes], plan.cell)]
    if report.profile is not None:
        batches.append(Batch(job.scene.stock, [_by_deviation(report, report.profile)], _FINISHED, even=True))
    elif report.outcome.whole is not None:
        batches.append(Batch(job.scene.stock, [by_what_is_left(job, report.outcome.whole)], _FINISHED, even=True))
    return batches


def write_stills(path: Path, report: Report, solids: Sequence[Sequence[NDArray[np.uint8]]]) -> None:
    """Draw `passes.png`.

    Parameters
    ----------
    path : Path
    report : Report
    solids : sequence of sequences of (rows, columns, 3) uint8
        The pictures of `solids_of`, drawn.
    """
    shown, plan = _shown(report), _plan(report)
    alone = plan.alone
    figure = blank(WIDTH, plan.height)
    _head(figure, plan, report)
    _stages(figure, plan, report, shown)
    pictures = [(*plan.corner(k), picture) for k, picture in enumerate(solids[0])]
    _legend(figure, plan, report, shown)
    if report.outcome.whole is not None:
        _against_whole(figure, plan, report, report.outcome.whole)
        pictures.append((_MARGIN, plan.lower + 56, solids[1][0]))
    elif report.profile is None:
        _section(figure, plan, report, (WIDTH - _ALONE) // 2, _ALONE, alone)
    else:
        _finished(figure, plan, report.profile, report.units, _MARGIN)
        pictures.append((_MARGIN, plan.lower + 56, solids[1][0]))
        _section(figure, plan, report, _MARGIN + 900, WIDTH - 2 * _MARGIN - 900, 470)
    write(figure, WIDTH / 2, plan.height - 40, LINE, ha="center", size=_TEXT, color=FAINT, style="italic")
    save(figure, path, pictures)


def _shown(report: Report) -> tuple[Stage, ...]:
    stages = report.job.stages[1:]
    room = MOST_SHOWN - bool(report.job.finishing)
    if len(stages) <= room:
        return stages
    return tuple(stages[round(k)] for k in np.linspace(0, len(stages) - 1, room))


def _plan(report: Report) -> Layout:
    compared = report.profile or report.outcome.whole
    alone = 0 if compared else round(min(900, _MM * height_for(report.outcome, report.units, _ALONE / _MM)))
    count = len(_shown(report)) + bool(report.job.finishing)
    columns = {1: 1, 2: 2, 3: 3, 4: 4, 5: 3, 6: 3, 9: 3}.get(count, 4)
    rows = math.ceil(count / columns)
    wide = min(660, (WIDTH - 2 * _MARGIN - 20 * (columns - 1)) // columns)
    cell = (wide, round(0.80 * wide))
    left = (WIDTH - columns * wide - 20 * (columns - 1)) // 2
    top = 176
    legend = top + rows * (cell[1] + 84) + 30
    lower = legend + 104
    return Layout(columns, rows, cell, left, top, legend, lower, alone, lower + (alone + 160 if alone else 920))


def _head(figure: Figure, plan: Layout, report: Report) -> None:
    job, units = report.job, report.units
    stock, setup = job.scene.stock, job.scene.setup
    count = len(job.passes)
    write(figure, _MARGIN, 62, title_of(job.scene, 70), _TITLE, weight="bold")
    species = "" if stock.species == "unknown" else f"{stock.species[:30]}, "
    facts = [
        f"{species}{units.length(stock.length)} long",
        fence_in_short(job.scene) if job.scene.feed.along_blade else f"fence at {degrees(setup.fence_angle):.2f}°",
        f"blade {units.length(setup.blade_height)} high",
        f"tilted {degrees(setup.blade_tilt):.2f}°".replace("-", "\N{MINUS SIGN}"),
        f"{count} pass" + ("es" if count > 1 else "") + (f", {MOST_SHOWN} shown" if count > MOST_SHOWN else ""),
    ]
    write(figure, _MARGIN, 122, "   ·   ".join(facts), _TEXT, color=FAINT)


def _stages(figure: Figure, plan: Layout, report: Report, shown: tuple[Stage, ...]) -> None:
    """Write the titles of the pictures of passes, and of the finished moulding."""
    job, labels = report.job, []
    for one in (job.passes[stage.number - 1] for stage in shown):
        flagged = bool(report.flags_of(one.number))
        labels.append((f"pass {one.number}, {report.units.length(one.height)}", flagged))
    if job.finishing:
        count = f", {len(job.pieces)} pieces" if len(job.pieces) > 1 else ""
        labels.append((f"finished{count}", any(flag.code in FINISH_CODES for flag in report.flags)))
    for k, (label, flagged) in enumerate(labels):
        left, top = plan.corner(k)
        look = {"color": ALARM, "weight": "bold"} if flagged else {}
        label = ("! " if flagged else "") + label
        write(figure, left + plan.cell[0] / 2, top - 28, label, _HEADING, ha="center", **look)


def _legend(figure: Figure, plan: Layout, report: Report, shown: tuple[Stage, ...]) -> None:
    colours = cut_colours(len(report.job.passes))
    handles: list[Artist] = [Patch(fc=WOOD, ec=FAINT, lw=0.5, label="planed")]
    for number in (stage.number for stage in shown):
        label = f"pass {number}" if number > 1 else "cut by pass 1"
        handles.append(Patch(fc=colours[number], ec="none", label=label))
    if report.job.finishing:
        handles.append(Patch(fc=FINISHED, ec="none", label="finishing"))
    if any(report.flags_of(s.number) for s in report.job.stages[1:]):
        handles.append(Line2D([], [], ls="none", marker="$!$", ms=8, color=ALARM, label="flagged"))
    figure.legend(
        handles=handles, loc="center", bbox_to_anchor=(0.5, 1 - (plan.legend + 20) / plan.height),
        ncols=len(handles) if len(handles) <= 11 else math.ceil(len(handles) / 2), frameon=False, fontsize=_TEXT,
        handlelength=1.4, handleheight=1.0, columnspacing=1.7, handletextpad=0.5, labelcolor=INK,
    )  # fmt: skip


def _by_deviation(report: Report, profile: ProfileCheck) -> Coloured:
    """Return the finished moulding coloured by its deviation from the target."""
    mesh = _by_passes_alone(report)
    deviation = surface_deviation(mesh, np.array(profile.target))
    colours = np.empty((len(mesh.triangles), 3, 3))
    colours[:] = WOOD
    cut = mesh.cut_by != UNCUT
    colours[cut] = deviation_colours(deviation[mesh.triangles[cut]] / _most(profile))
    return mesh, colours, cut


def _most(profile: ProfileCheck) -> float:
    """Return the deviation at the ends of the colour bar, mm."""
    return max(profile.tolerance, profile.max_deviation)


def _finished(figure: Figure, plan: Layout, profile: ProfileCheck, units: Units, left: int) -> None:
    """Write the title of the finished moulding coloured by deviation, and draw its colour bar."""
    width, height = _FINISHED
    top = plan.lower + 56
    heading = "finished, deviation from the target"
    write(figure, left + width / 2, plan.lower + 24, heading, _HEADING, ha="center")
    most = _most(profile)
    shades = ListedColormap(deviation_colours(np.linspace(-1, 1, 256)))
    scale = ScalarMappable(Normalize(-most, most), shades)

    bar = axes_at(figure, left + 130, top + height + 40, width - 260, 26)
    drawn = figure.colorbar(scale, cax=bar, orientation="horizontal")
    labels = {
        -most: f"{signed(units, -most)}\ncut too deep",
        0.0: "0",
        most: f"{signed(units, most)}\nwood left",
    }
    if most > 2.5 * profile.tolerance:
        labels |= {sign * profile.tolerance: "" for sign in (-1, 1)}
    drawn.set_ticks(sorted(labels), labels=[labels[place] for place in sorted(labels)], fontsize=_TEXT)
    drawn.outline.set_linewidth(0.5)
    bar.tick_params(length=4, color=FAINT, labelcolor=INK)


def _against_whole(figure: Figure, plan: Layout, report: Report, whole: WholeCheck) -> None:
    """Write the title of the moulding coloured by what is left above a whole one, its bar, its section and verdict."""
    (width, height), left = _FINISHED, _MARGIN + 900
    write(figure, _MARGIN + width / 2, plan.lower + 24, "finished, by what is left", _HEADING, ha="center")
    bar_of_what_is_left(figure, whole, report.units, _MARGIN + 130, plan.lower + 56 + height + 40, width - 260)
    wide = WIDTH - _MARGIN - left
    write(figure, left + wide / 2, plan.lower + 24, "what is left above the profile", _HEADING, ha="center")
    frame = setups_frame(report.job, wide / _MM, 470 / _MM)
    paint(figure, left_drawing(report.job, whole, report.units, frame), left, plan.lower + 56, _MM)
    for k, line in enumerate(textwrap.wrap(verdict_of(report.outcome, report.units), 82)):
        write(figure, left, plan.lower + 610 + 40 * k, line, _TEXT)


def _by_passes_alone(report: Report) -> Mesh:
    """Return the finished moulding with only what the passes cut marked as cut: no target is named for the rest."""
    mesh = joined([piece.mesh for piece in report.job.pieces])
    of_passes = mesh.cut_by <= len(report.job.passes)
    return Mesh(mesh.vertices, mesh.triangles, np.where(of_passes, mesh.cut_by, UNCUT))


def _section(figure: Figure, plan: Layout, report: Report, left: int, width: int, height: int) -> None:
    """Paint the section and, with a target, the deviation below it to the same scale across."""
    write(figure, left + width / 2, plan.lower + 24, "section, looking along the feed", _HEADING, ha="center")
    seen_from = frame_of if report.profile is None else frame_above_deviation
    frame = seen_from(report.outcome, report.units, width / _MM, height / _MM)
    drawn = in_pass_colours(section_drawing(report.outcome, report.units, frame), len(report.job.passes))
    paint(figure, drawn, left, plan.lower + 56, _MM)
    if report.profile is not None:
        paint(figure, deviation_drawing(report.outcome, report.units, frame, 250 / _MM), left, plan.lower + 560, _MM)
