"""`passes.png`: the stock after each pass, the finished moulding against its target, and the section."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sweep.check.finish import FINISH_CODES
from sweep.check.profile import ProfileCheck, surface_deviation
from sweep.check.whole import WholeCheck
from sweep.cut.stages import Stage
from sweep.shape.mesh import UNCUT, Mesh, joined
from sweep.show.draw.colours import FINISHED, WOOD, cut_colours, deviation_colours, hexed
from sweep.show.draw.legend import legend, swatch
from sweep.show.draw.looks import in_pass_colours
from sweep.show.draw.paint_png import Laid, Painted, write_png
from sweep.show.draw.section import (
    deviation_drawing,
    frame_above_deviation,
    frame_of,
    height_for,
    section_drawing,
)
from sweep.show.draw.setups import left_drawing, most_of, setups_frame
from sweep.show.draw.sketch import Part, words
from sweep.show.pictures.deviation_bar import by_what_is_left, deviation_bar
from sweep.show.pictures.layout import HEADING, LINE, MARGIN, MM, TEXT, foot, head, laid, laid_out, line
from sweep.show.say.cautions import LINE as CAUTION
from sweep.show.say.fence import fence_in_short
from sweep.show.say.passes import title_of
from sweep.show.say.profile import verdict_of
from sweep.show.say.report import Report
from sweep.show.solids.stock import Batch, Coloured
from sweep.units import degrees

WIDTH = 2200
"""Pixels."""

MOST_SHOWN = 12
"""A job of more passes shows this many, evenly chosen, the first and the last among them."""

_ALONE = 1700  # width of the section where there is no target
_FINISHED = (860, 640)  # of the picture of the finished moulding
_BESIDE = MARGIN + 900  # left edge of the section beside it


@dataclass(frozen=True)
class Layout:
    """The place of everything, in pixels from the top left.

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


def stills_picture(report: Report, solids: Sequence[Sequence[NDArray[np.uint8]]]) -> Painted:
    """Return `passes.png`, given the pictures of `solids_of`, drawn: (rows, columns, 3) each."""
    shown, plan = _shown(report), _plan(report)
    pictures = [Laid(*plan.corner(k), picture) for k, picture in enumerate(solids[0])]
    parts = [*_head(report), *_stages(plan, report, shown), *_legend(plan, report, shown)]
    if plan.alone:
        parts += _section(plan, report, (WIDTH - _ALONE) // 2, _ALONE, plan.alone)
    else:
        compared, bar = _compared(plan, report)
        parts += compared
        pictures += [Laid(MARGIN, plan.lower + 56, solids[1][0]), bar]
    return Painted(laid_out(WIDTH, plan.height, parts, foot(WIDTH, plan.height, CAUTION)), tuple(pictures))


def write_stills(path: Path, report: Report, solids: Sequence[Sequence[NDArray[np.uint8]]]) -> None:
    """Draw `passes.png`; see `stills_picture`."""
    write_png(path, stills_picture(report, solids))


def _shown(report: Report) -> tuple[Stage, ...]:
    stages = tuple(report.job.stages)[1:]
    room = MOST_SHOWN - bool(report.job.finishing)
    if len(stages) <= room:
        return stages
    return tuple(stages[round(k)] for k in np.linspace(0, len(stages) - 1, room))


def _plan(report: Report) -> Layout:
    compared = report.profile or report.outcome.whole
    alone = 0 if compared else round(min(900, MM * height_for(report.outcome, report.units, _ALONE / MM)))
    count = len(_shown(report)) + bool(report.job.finishing)
    columns = {1: 1, 2: 2, 3: 3, 4: 4, 5: 3, 6: 3, 9: 3}.get(count, 4)
    rows = math.ceil(count / columns)
    wide = min(660, (WIDTH - 2 * MARGIN - 20 * (columns - 1)) // columns)
    cell = (wide, round(0.80 * wide))
    left = (WIDTH - columns * wide - 20 * (columns - 1)) // 2
    top = 176
    legend = top + rows * (cell[1] + 84) + 30
    lower = legend + 104
    return Layout(columns, rows, cell, left, top, legend, lower, alone, lower + (alone + 160 if alone else 920))


def _head(report: Report) -> list[Part]:
    job, units = report.job, report.units
    stock, setup = job.scene.stock, job.scene.setup
    count = len(job.passes)
    species = "" if stock.species == "unknown" else f"{stock.species[:30]}, "
    facts = [
        f"{species}{units.length(stock.length)} long",
        fence_in_short(job.scene) if job.scene.feed.along_blade else f"fence at {degrees(setup.fence_angle):.2f}°",
        f"blade {units.length(setup.blade_height)} high",
        f"tilted {degrees(setup.blade_tilt):.2f}°".replace("-", "\N{MINUS SIGN}"),
        f"{count} pass" + ("es" if count > 1 else "") + (f", {MOST_SHOWN} shown" if count > MOST_SHOWN else ""),
    ]
    return head(title_of(job.scene, 70), "   ·   ".join(facts))


def _stages(plan: Layout, report: Report, shown: tuple[Stage, ...]) -> list[Part]:
    """Return the titles of the pictures of passes, and of the finished moulding."""
    job, labels = report.job, []
    for one in (job.passes[stage.number - 1] for stage in shown):
        flagged = bool(report.flags_of(one.number))
        labels.append((f"pass {one.number}, {report.units.length(one.height)}", flagged))
    if job.finishing:
        count = f", {len(job.pieces)} pieces" if len(job.pieces) > 1 else ""
        labels.append((f"finished{count}", any(flag.code in FINISH_CODES for flag in report.flags)))
    parts = []
    for k, (label, flagged) in enumerate(labels):
        left, top = plan.corner(k)
        middle = left + plan.cell[0] / 2
        if flagged:
            parts.append(line(f"! {label}", middle, top - 28, HEADING, "centre", bold=True, colour="alarm"))
        else:
            parts.append(line(label, middle, top - 28, HEADING, "centre"))
    return parts


def _legend(plan: Layout, report: Report, shown: tuple[Stage, ...]) -> list[Part]:
    colours = cut_colours(len(report.job.passes))
    entries = [(swatch(hexed(WOOD), "faint"), "planed")]
    for number in (stage.number for stage in shown):
        label = f"pass {number}" if number > 1 else "cut by pass 1"
        entries.append((swatch(hexed(colours[number])), label))
    if report.job.finishing:
        entries.append((swatch(hexed(FINISHED)), "finishing"))
    if any(report.flags_of(one.number) for one in report.job.passes):
        entries.append((lambda x, y: [words("!", x, y, size=TEXT, bold=True, colour="alarm")], "flagged"))
    return legend(entries, MARGIN / MM, (plan.legend + 20) / MM, (WIDTH - 2 * MARGIN) / MM, TEXT, centred=True)


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


def _compared(plan: Layout, report: Report) -> tuple[list[Part], Laid]:
    """Return all that is below the passes where there is a target, but the moulding itself, and the bar's colours."""
    whole, profile = report.outcome.whole, report.profile
    middle, below = MARGIN + _FINISHED[0] / 2, plan.lower + 56 + _FINISHED[1] + 40
    ends = MARGIN + 130, below, _FINISHED[0] - 260
    if profile is not None:
        heading = "finished, deviation from the target"
        bar, colours = deviation_bar(_most(profile), report.units, *ends, profile.tolerance)
        beside = _section(plan, report, _BESIDE, WIDTH - MARGIN - _BESIDE, 470)
    else:
        assert whole is not None  # one of both is compared
        heading = "finished, by what is left"
        bar, colours = deviation_bar(most_of(whole), report.units, *ends)
        beside = _against_whole(plan, report, whole)
    return [line(heading, middle, plan.lower + 24, HEADING, "centre"), *bar, *beside], colours


def _against_whole(plan: Layout, report: Report, whole: WholeCheck) -> list[Part]:
    """Return the section coloured by what is left above a whole moulding, and the verdict."""
    wide = WIDTH - MARGIN - _BESIDE
    frame = setups_frame(report.job, wide / MM, 470 / MM)
    verdict = textwrap.wrap(verdict_of(report.outcome, report.units), 82)
    return [
        line("what is left above the profile", _BESIDE + wide / 2, plan.lower + 24, HEADING, "centre"),
        *laid(left_drawing(report.job, whole, report.units, frame), _BESIDE, plan.lower + 56),
        *(line(text, _BESIDE, plan.lower + 610 + LINE * k) for k, text in enumerate(verdict)),
    ]


def _by_passes_alone(report: Report) -> Mesh:
    """Return the finished moulding with only what the passes cut marked as cut: no target is named for the rest."""
    mesh = joined([piece.mesh for piece in report.job.pieces])
    of_passes = mesh.cut_by <= len(report.job.passes)
    return Mesh(mesh.vertices, mesh.triangles, np.where(of_passes, mesh.cut_by, UNCUT))


def _section(plan: Layout, report: Report, left: int, width: int, height: int) -> list[Part]:
    """Return the section and, with a target, the deviation below it to the same scale across."""
    seen_from = frame_of if report.profile is None else frame_above_deviation
    frame = seen_from(report.outcome, report.units, width / MM, height / MM)
    drawn = in_pass_colours(section_drawing(report.outcome, report.units, frame), len(report.job.passes))
    parts = [line("section, looking along the feed", left + width / 2, plan.lower + 24, HEADING, "centre")]
    parts += laid(drawn, left, plan.lower + 56)
    if report.profile is not None:
        deviation = deviation_drawing(report.outcome, report.units, frame, 250 / MM)
        parts += laid(deviation, left, plan.lower + 560)
    return parts
