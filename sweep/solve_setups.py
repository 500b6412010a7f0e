"""What `sweep solve` does for a whole moulding: set-ups found, told and written."""

from __future__ import annotations

import sys
from pathlib import Path

from sweep.plan.several.solve import Solved, solve_setups
from sweep.scene.model import Scene
from sweep.scene.write import write_setups
from sweep.show.say.cautions import PARAGRAPH
from sweep.show.say.numbers.choice import setups_answer
from sweep.show.say.numbers.model import written
from sweep.show.terminal.choice import print_choice
from sweep.show.terminal.console import terminal
from sweep.units import Units
from sweep.words import visible


def solve_moulding(scene: Scene, path: Path, units: Units, write: Path | None, as_json: bool) -> int:
    """Find and print the set-ups for a whole moulding; 1 when one of them has too little to ride on."""
    solved = solve_setups(scene)
    if write is not None:
        write_setups(path, write, solved.scene.setups, units)
    if as_json:
        sys.stdout.write(written(setups_answer(solved)))
        return _status(solved)
    console = terminal()
    print_choice(console, solved, units)
    if write is not None:
        console.print(f"Written to {visible(str(write))}", soft_wrap=True)
    console.print(PARAGRAPH, style="dim")
    return _status(solved)


def _status(solved: Solved) -> int:
    return 1 if any(short > 0 for short in solved.curve.choice.ordered.unsupported) else 0
