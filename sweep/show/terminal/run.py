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
from sweep.show.terminal.tables import print_table
from sweep.units import Shown

PLACES = 6
"""How many places the bar has that fills up to a limit."""


def print_run(console: Console, report: Report) -> None:
    """Print what a run found, and before it how what the scene left out was worked out."""
    units = report.units
    print_found(console, report.completed, units)
    console.print(headline_of(report.outcome, units), style="bold")
    _print_passes(console, pass_rows(report.outcome, units))
    console.print(wood_sentence(report.scene))
    print_flags(console, report.flags, units)
    print_verdict(console, report.profile, units)
    for sentence in (marks_of(report.surface, units), *finishing_sentences(report.job, units)):
        if sentence:
            console.print(sentence)


def _print_passes(console: Console, rows: tuple[PassRow, ...]) -> None:
    """Print one row a pass, units in the headings; a flagged pass begins with an exclamation mark."""
    headings = ("pass", *(f"{heading}\n" if heading == "limit" else heading for heading in HEADINGS))
    cells = tuple((f"{'!' if row.flags else ' '}{row.number:>3}", *row.cells[:-1], _bar(row)) for row in rows)
    styles = ["bold red" if row.flags else "" for row in rows]
    print_table(console, Table(tuple(map(Column, headings)), cells), units_above=True, styles=styles)


def _bar(row: PassRow) -> Shown:
    """Return how much of its limit a pass takes, behind places that fill up to it."""
    full = min(PLACES, round(PLACES * round(row.share, 2)))
    return Shown(f"{'#' * full}{'-' * (PLACES - full)} {row.used.figure:>3}", row.used.unit)
