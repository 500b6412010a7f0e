"""`fence.png`: the plan of the saw table to scale, and in words how the fence is set."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import Any

from sweep.show.draw.colours import ALARM, FAINT
from sweep.show.draw.dimensioned_plan import TablePlan, plan_drawing, table_plan
from sweep.show.draw.paint_png import DPI, blank, paint, save, write
from sweep.show.say.cautions import LINE, TO_SET
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

_PLAN = 330.0, 260.0  # most that the plan takes of the page, mm
_LEAST_WIDTH = 1760  # pixels
_MARGIN, _TOP, _LINE, _GAP = 60, 190, 40, 14  # pixels
_TITLE, _TEXT, _SMALL = 15.0, 9.0, 8.0  # points


def fitting_scale(plan: TablePlan, width: float, height: float) -> int:
    """Return the largest drawing scale, 1 : n, at which a plan fits on paper of this size, mm; the smallest if none."""
    scales = SCALES if plan.units.metric else INCH_SCALES
    for scale in scales:
        wide, high = plan.size(scale)
        if wide <= width and high <= height:
            return scale
    return scales[-1]


def write_fence(path: Path, report: Report) -> None:
    """Draw `fence.png`.

    Parameters
    ----------
    path : Path
    report : Report
    """
    scene, layout, units = report.scene, report.layout, report.units
    plan = table_plan(scene, layout, units)
    scale = fitting_scale(plan, *_PLAN)
    wide, high = (round(side * DPI / 25.4) for side in plan.size(scale))
    width = max(_LEAST_WIDTH, wide + 2 * _MARGIN)
    by_rip_fence = [rip_sentence(scene, units)]
    by_tape = [tape_sentence(scene, layout, units), strips_sentence(layout.strips, units)]
    notes = [
        *(by_rip_fence if scene.feed.along_blade else by_tape),
        pull_sentence(layout, report.job.loads, report.units),
        clear_sentence(layout, units),
        room_sentence(scene, units),
    ]
    flags = [f"{sentence_of(flag, units)}." for flag in report.flags_of(None) if flag.code in CODES]
    letters = int((width - 2 * _MARGIN) / 13.2)  # of the text, as wide as they usually are
    paragraphs: list[tuple[list[str], dict[str, Any]]] = [(textwrap.wrap(note, letters), {}) for note in notes]
    paragraphs += [(textwrap.wrap(flag, letters), {"color": ALARM}) for flag in flags]
    height = _TOP + high + 140 + sum(_LINE * len(lines) + _GAP for lines, _ in paragraphs)
    figure = blank(width, height)
    write(figure, _MARGIN, 62, title_of(scene, 60), _TITLE, weight="bold")
    write(figure, _MARGIN, 114, fence_headline(layout).replace(" deg", "°"), _TEXT, color=FAINT)
    facts = f"saw table from above, 1 : {scale} at {DPI} pixels an inch"
    write(figure, _MARGIN, 114 + _LINE, facts, _TEXT, color=FAINT)
    paint(figure, plan_drawing(plan, scale), (width - wide) / 2, _TOP, DPI / 25.4)
    level = _TOP + high + 50
    for lines, look in paragraphs:
        for line in lines:
            write(figure, _MARGIN, level, line, _TEXT, **look)
            level += _LINE
        level += _GAP
    write(figure, width / 2, height - 44, f"{TO_SET} {LINE}", _SMALL, ha="center", color=FAINT, style="italic")
    save(figure, path)
