"""What was worked out, on the terminal: the candidates, the pass plan, and the care that the set-up needs."""

from __future__ import annotations

from rich.console import Console

from sweep.plan.accuracy import Care
from sweep.plan.complete import Completed
from sweep.plan.dense import DenseCheck
from sweep.show.say.care import care_sentences, care_table
from sweep.show.say.planning import (
    NOTHING_LEFT_OUT,
    candidates_table,
    dense_check_of,
    held_by,
    plan_table,
    planning_sentence,
    stopped_by,
)
from sweep.show.say.wood import is_unchecked, wood_sentence
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_solved(
    console: Console, completed: Completed, units: Units, check: DenseCheck | None, care: Care | None
) -> None:
    """Print what was worked out, or that nothing was left to be, and the care that the set-up needs."""
    if not completed.candidates and completed.plan is None:
        console.print(NOTHING_LEFT_OUT)
    print_found(console, completed, units, check)
    if completed.plan and is_unchecked(completed.scene):
        console.print(wood_sentence(completed.scene, units), style="red")
    if care is not None:
        print_care(console, care, completed, units)


def print_found(console: Console, completed: Completed | None, units: Units, check: DenseCheck | None = None) -> None:
    """Print the blades at their best and the pass plan, each where it was worked out."""
    if completed is None:
        return
    candidates = completed.candidates
    if candidates:
        print_table(console, candidates_table(candidates, units), units_above=True)
        for sentence in stopped_by(candidates, units):
            console.print(sentence, style="red")
        console.print(held_by(candidates[0], units))
        if check is not None:
            console.print(dense_check_of(check, candidates[0], units))
    if completed.plan:
        print_table(console, plan_table(completed.plan, units), units_above=True)
        console.print(planning_sentence(completed.plan, completed.scene.plan, units))


def print_care(console: Console, care: Care, completed: Completed, units: Units) -> None:
    """Print what a small error of each setting does, and how often the set-up comes within tolerance."""
    print_table(console, care_table(care, units))
    for sentence in care_sentences(care, completed.scene.accuracy, units):
        console.print(sentence)
