"""`fence.png`: the plan of the saw table to scale, and in words how the fence is set."""

from __future__ import annotations

import textwrap
from pathlib import Path

from sweep.show.draw.dimensioned_plan import TablePlan, plan_drawing, table_plan
from sweep.show.draw.paint_png import DPI, Painted, write_png
from sweep.show.draw.sketch import Part
from sweep.show.pictures.layout import LINE, MARGIN, MM, foot, head, laid, laid_out, line
from sweep.show.say.cautions import LINE as CAUTION
from sweep.show.say.cautions import TO_SET
from sweep.show.say.fence import (
    clear_sentence,
    fence_headline,
    pull_sentence,
    rip_sentence,
    room_sentence,
    strips_sentence,
    tape_sentence,
)
from sweep.show.say.flags import sentence_of
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report

SCALES = (1, 2, 5, 10, 20, 50, 100)
"""Reductions of technical drawings (ISO 5455, from memory)."""

INCH_SCALES = (1, 2, 4, 6, 8, 12, 16, 24, 32, 48, 96)
"""Reductions by which an inch rule reads, 3 in to the foot and so on."""

CODES = (
    "fence-cut",
    "second-fence-cut",
    "fence-off-table",
    "fence-short",
    "throat-tight",
    "stock-unsupported",
    "off-the-fence",
)
"""Flags that belong to the plan."""

_PLAN = 330.0, 260.0  # most that the plan takes of the picture, mm
_LEAST_WIDTH = 1760  # pixels
_TOP, _GAP = 190, 14  # pixels
_LETTER = 13.2  # usual width of a letter of the text, pixels


def fitting_scale(plan: TablePlan, width: float, height: float) -> int:
    """Return the largest drawing scale, 1 : n, at which a plan fits on paper of this size, mm; the smallest if none."""
    scales = SCALES if plan.units.metric else INCH_SCALES
    for scale in scales:
        wide, high = plan.size(scale)
        if wide <= width and high <= height:
            return scale
    return scales[-1]


def fence_picture(report: Report) -> Painted:
    """Return `fence.png`."""
    scene, layout, units = report.scene, report.layout, report.units
    plan = table_plan(scene, layout, units)
    scale = fitting_scale(plan, *_PLAN)
    wide, high = (side * MM for side in plan.size(scale))
    width = max(_LEAST_WIDTH, round(wide) + 2 * MARGIN)
    by_rip_fence = [rip_sentence(scene, units)]
    by_tape = [tape_sentence(scene, layout, units), strips_sentence(layout.strips, units)]
    notes = [
        *(by_rip_fence if scene.feed.along_blade else by_tape),
        pull_sentence(layout, report.job.loads, report.units),
        clear_sentence(layout, units),
        room_sentence(scene, units),
    ]
    flags = [f"{sentence_of(flag, units)}." for flag in report.flags_of(None) if flag.code in CODES]
    letters = int((width - 2 * MARGIN) / _LETTER)
    words: list[Part] = []
    level = _TOP + high + 50
    for said, colour in (*((note, "ink") for note in notes), *((flag, "alarm") for flag in flags)):
        for text in textwrap.wrap(said, letters):
            words.append(line(text, MARGIN, level, colour=colour))
            level += LINE
        level += _GAP
    height = round(level + 90)
    facts = fence_headline(layout).replace(" deg", "°"), f"saw table from above, 1 : {scale} at {DPI} pixels an inch"
    drawn = laid_out(
        width,
        height,
        head(title_of(scene, 60), *facts),
        laid(plan_drawing(plan, scale), (width - wide) / 2, _TOP),
        words,
        foot(width, height, f"{TO_SET} {CAUTION}"),
    )
    return Painted(drawn)


def write_fence(path: Path, report: Report) -> None:
    """Draw `fence.png`."""
    write_png(path, fence_picture(report))
