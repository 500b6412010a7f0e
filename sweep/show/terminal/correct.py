"""How a job goes on, on the terminal."""

from __future__ import annotations

from rich.console import Console

from sweep.plan.correct.correction import Correction
from sweep.show.say.correct import passes_table, passes_title, sentences, settings_table
from sweep.show.say.passes import title_of
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_correction(console: Console, found: Correction, units: Units) -> None:
    """Print what was really set, what to move, what comes of it, and the passes that remain."""
    console.print(f"{title_of(found.scene)}: after pass {found.found.number}", style="bold")
    print_table(console, settings_table(found, units))
    for told in sentences(found, units):
        console.print(f"! {told.words}" if told.warns else told.words, style="red" if told.warns else None)
    console.print(passes_title(found))
    if found.passes:
        print_table(console, passes_table(found, units), units_above=True)
