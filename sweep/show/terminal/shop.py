"""A whole folder of profiles, on the terminal."""

from __future__ import annotations

from rich.console import Console

from sweep.show.say.shop import Summary, blades_table, sentences
from sweep.show.terminal.tables import print_table

MOST_TOLD = 10
"""Profiles without a figure that are told one by one; the table has all."""


def print_shop(console: Console, summary: Summary) -> None:
    """Print which blades serve, how many profiles they cut, and why some have no figures."""
    if summary.blades:
        print_table(console, blades_table(summary))
    for sentence in sentences(summary):
        console.print(sentence)
    for name, reason in summary.without[:MOST_TOLD]:
        console.print(f"! {name}: {reason}")
    if len(summary.without) > MOST_TOLD:
        console.print(f"! and {len(summary.without) - MOST_TOLD:,} more (shop.csv)")
