"""The cut list on the terminal: what to cut, what to buy, how long it takes, and what a panel needs."""

from __future__ import annotations

from rich.console import Console

from sweep.check.flag import Flag
from sweep.check.panel import PanelCheck
from sweep.plan.cutlist import CutList
from sweep.scene.model import Scene
from sweep.show.say.order import (
    blanks_sentences,
    blanks_table,
    boards_sentences,
    boards_table,
    pieces_table,
    time_sentence,
)
from sweep.show.say.panel import panel_sentences
from sweep.show.say.passes import title_of
from sweep.show.terminal.flags import print_flags
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_cut_list(
    console: Console, scene: Scene, cut: CutList, panel: PanelCheck | None, flags: list[Flag], units: Units
) -> None:
    """Print an order: `flags` are those of the blanks and of the panel."""
    console.print(f"{title_of(scene)}: cut list", style="bold")
    print_table(console, pieces_table(cut, units))
    console.print()
    print_table(console, blanks_table(cut, units))
    for sentence in blanks_sentences(cut, units):
        console.print(sentence)
    if cut.boards:
        console.print()
        print_table(console, boards_table(cut, units))
    for sentence in boards_sentences(scene, cut, units):
        console.print(sentence)
    console.print(time_sentence(cut))
    for sentence in () if panel is None else panel_sentences(panel, scene.order, units):
        console.print(sentence)
    print_flags(console, flags, units)
