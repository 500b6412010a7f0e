"""The set-ups for a whole moulding on the terminal: the curve to choose by, and those that were chosen."""

from __future__ import annotations

from rich.console import Console

from sweep.plan.several.solve import Solved
from sweep.show.say.choice import ACROSS, curve_sentences, curve_table, setups_table
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_choice(console: Console, solved: Solved, units: Units) -> None:
    """Print what each number of set-ups takes and the chosen ones in order."""
    print_table(console, curve_table(solved.curve))
    told, *more = curve_sentences(solved, units)
    console.print(told)
    print_table(console, setups_table(solved, units), units_above=True)
    console.print(ACROSS)
    for sentence in more:
        console.print(sentence, style="yellow" if sentence.startswith("!") else None)
