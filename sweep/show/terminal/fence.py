"""How the fence is set, on the terminal."""

from __future__ import annotations

from rich.console import Console

from sweep.show.say.fence import (
    BLOCK,
    clear_sentence,
    fence_headline,
    marks_table,
    pull_sentence,
    rip_sentence,
    room_sentence,
    strips_sentence,
    tape_sentence,
    touches_table,
)
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.terminal.flags import print_flags, print_verdict
from sweep.show.terminal.tables import print_table


def print_fence(console: Console, report: Report) -> None:
    """Print the marks of the fence, what sets it without a tape, which way the work is pulled, and what is flagged."""
    scene, layout, units = report.scene, report.layout, report.units
    console.print(f"{title_of(scene)}: {fence_headline(layout)}", style="bold")
    if scene.feed.along_blade:
        console.print(rip_sentence(scene, units))
    else:
        print_table(console, marks_table(scene, layout, units))
        console.print(tape_sentence(scene, layout, units))
        console.print(strips_sentence(layout.strips, units))
    if layout.touches:
        console.print(BLOCK)
        print_table(console, touches_table(layout, units))
    console.print(pull_sentence(layout, report.job.loads, report.units))
    console.print(clear_sentence(layout, units))
    console.print(room_sentence(scene, units))
    print_flags(console, (*report.flags, *report.outcome.may_exceed), units)
    if not report.is_within_tolerance:
        print_verdict(console, report.outcome, units)
