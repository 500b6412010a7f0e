"""The set-up that an offcut tells, by one blade, by several, or by a record, on the terminal."""

from __future__ import annotations

from rich.console import Console

from sweep.plan.match import Match
from sweep.plan.rivals import Rivals
from sweep.scene.rack import BladeSet
from sweep.shop.among import Likeness
from sweep.show.say.among import among_sentences, among_table
from sweep.show.say.match import advice, settings_table, verdict
from sweep.show.say.rivals import called, likeness_sentences, rivals_table, why_not
from sweep.show.terminal.tables import print_table
from sweep.units import Units


def print_match(console: Console, match: Match, units: Units) -> None:
    """Print the settings with their intervals, whether this blade can have cut the outline, and what to measure."""
    print_table(console, settings_table(match, units))
    console.print(verdict(match, units), style="green" if match.by_this_blade else "red")
    for line in advice(match, units):
        console.print(line)


def print_rivals(console: Console, rivals: Rivals, rack: BladeSet, units: Units) -> None:
    """Print every blade of a rack, why some cannot have cut the outline, how alike the best two are, and the best."""
    blades = rack.blades
    print_table(console, rivals_table(rivals, blades, units), styles=["" if one.can else "dim" for one in rivals.tried])
    for one in rivals.tried:
        if not one.can:
            console.print(why_not(one, blades[one.number], rack.max_height, units))
    best = rivals.best
    if rivals.likeness is not None:
        pair = (blades[best.number], blades[rivals.tried[1].number])
        told = likeness_sentences(rivals.likeness, pair, best.match.count, best.match.accuracy, units)
        console.print(told, style="" if rivals.likeness.told_apart else "yellow")
    console.print(f"{'With' if best.can else 'The closest of them,'} {called(blades[best.number], units)}:")
    print_match(console, best.match, units)


def print_among(console: Console, answer: Likeness, units: Units) -> None:
    """Print the likeliest jobs of a record, and whether one of them made the piece."""
    if answer.compared:
        print_table(console, among_table(answer, units), styles=["" if one.same else "dim" for one in answer.compared])
    for line in among_sentences(answer, units):
        console.print(line)
