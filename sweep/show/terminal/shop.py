"""A whole folder of profiles, on the terminal."""

from __future__ import annotations

from rich.console import Console

from sweep.show.say.shop import Summary, blades_table, profiles_table, sentences
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_shop(console: Console, summary: Summary, known: int, units: Units) -> None:
    """Print the set-up of each profile, or of many which blades serve, and what is alike or wrong.

    Parameters
    ----------
    console : Console
    summary : Summary
    known : int
        Profiles that an earlier run has worked out.
    units : Units
    """
    if table := profiles_table(summary, units):
        print_table(console, table, units_above=True)
    elif summary.blades:
        print_table(console, blades_table(summary))
    for sentence in sentences(summary, known, units):
        console.print(sentence)
