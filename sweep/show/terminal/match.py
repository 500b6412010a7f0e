"""The set-up that an offcut tells, on the terminal."""

from __future__ import annotations

from rich.console import Console

from sweep.plan.match import Match
from sweep.show.say.match import advice, settings_table, verdict
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_match(console: Console, match: Match, units: Units) -> None:
    """Print the settings with their intervals, whether this blade can have cut the outline, and what to measure."""
    print_table(console, settings_table(match, units))
    console.print(verdict(match, units), style="green" if match.by_this_blade else "red")
    for line in advice(match, units):
        console.print(line)
