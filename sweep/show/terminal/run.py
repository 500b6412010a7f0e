"""A run on the terminal: the set-up, one row a pass, what is flagged, how the profile lies, what follows the cove."""

from __future__ import annotations

from rich.console import Console

from sweep.show.say.finishing import finishing_sentences
from sweep.show.say.passes import HEADINGS, PassRow, headline_of, pass_rows
from sweep.show.say.profile import marks_of
from sweep.show.say.report import Report
from sweep.show.say.table import Column, Table
from sweep.show.say.wood import wood_sentence
from sweep.show.terminal.flags import print_flags, print_verdict
from sweep.show.terminal.solve import print_found
from sweep.show.terminal.tables import print_table, width_of
from sweep.units import Shown

PLACES = 6
"""How many places the bar has that fills up to a limit."""

ROOM = 80
"""Columns of the terminal that every maker has; the bar is left out where it would make the table wider."""


NOT_ASKED_FOR = "Left out by --no-pictures: passes.png, load.png, fence.png, surface.png and removal.gif."


def print_run(console: Console, report: Report) -> None:
    """Print what a run found, and before it how what the scene left out was worked out."""
    units = report.units
    print_found(console, report.completed, units)
    console.print(headline_of(report.outcome, units), style="bold")
    print_passes(console, pass_rows(report.outcome, units))
    console.print(wood_sentence(report.scene, report.units))
    print_flags(console, (*report.flags, *report.outcome.may_exceed), units)
    print_verdict(console, report.outcome, units)
    for sentence in (marks_of(report.surface, units), *finishing_sentences(report.job, units)):
        if sentence:
            console.print(sentence)


def print_passes(console: Console, rows: tuple[PassRow, ...]) -> None:
    """Print one row a pass, units in the headings; a flagged pass begins with an exclamation mark."""
    headings = ("pass", *(f"{heading}\n" if heading == "limit" else heading for heading in HEADINGS))
    numbers = [f"{'!' if row.flags else ' '}{row.number:>3}" for row in rows]
    plain, with_bars = (
        Table(
            tuple(map(Column, headings)),
            tuple((number, *row.cells[:-1], last(row)) for number, row in zip(numbers, rows, strict=True)),
        )
        for last in (lambda row: row.used, _bar)
    )
    table = with_bars if width_of(console, with_bars, units_above=True) <= ROOM else plain
    print_table(console, table, units_above=True, styles=["bold red" if row.flags else "" for row in rows])


def _bar(row: PassRow) -> Shown:
    """Return how much of its limit a pass takes, behind places that fill up to it."""
    full = min(PLACES, round(PLACES * round(row.share, 2)))
    return Shown(f"{'#' * full}{'-' * (PLACES - full)} {row.used.figure:>3}", row.used.unit)
