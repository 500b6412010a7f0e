"""How a job goes on, in words: the sentences are `WORDS`, with places for figures, and a phone fills the same ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweep.show.say.passes import turns_of
from sweep.show.say.table import Column, Table
from sweep.units import Shown, Units, degrees

if TYPE_CHECKING:  # a phone takes the words alone, and finding loads the optimiser
    from sweep.plan.correct.correction import Correction
    from sweep.plan.correct.found import FoundSetting
    from sweep.plan.correct.moves import Move

WORDS = {
    "not_measured": "not measured",
    "slipped": (
        "The measurements after different passes do not go together: a figure is misread, or the fence moved between "
        "them. What follows is told by pass {number} alone."
    ),
    "apart": "These measurements do not go together, as exact as they are said to be: measure again.",
    "angle_as_meant": (
        "Fence: {meant} is within what was measured. Measure finer, or once more after the next pass, before moving it."
    ),
    "fence_as_meant": "Fence: angle and offset are within what was measured. Measure finer before moving it.",
    "if_confirmed": "If it is confirmed, move",
    "move": "Fence: with the saw unplugged, move",
    "moves": (
        "{lead} its {first_edge} mark {first} and its {second_edge} mark {second}, both. The {first_edge} one alone "
        "would shift the cove {first_alone}, the {second_edge} one alone {second_alone}."
    ),
    "no_marks": "Fence: set it anew by its marks (`sweep fence`).",
    "higher": (
        "Blade: it stood {by} higher than it was set. Raise it from where it stands, or let its scale read {by} less."
    ),
    "lower": (
        "Blade: it stood {by} lower than it was set. Raise it from where it stands, or let its scale read {by} more."
    ),
    "other_pass": "That is nearer to the height of pass {number}, {height}: was it measured after that one?",
    "height_as_meant": "Blade: {meant} is within what was measured.",
    "left": (
        "If nothing is moved the cove will be {width} wide and {depth} deep, at most {deviation} from the target "
        "(tolerance {tolerance})."
    ),
    "in_reach": "The target is in reach.",
    "out_from": "If nothing is moved, the target is out of reach from {out_from} up.",
    "perhaps_from": (
        "As exactly as was measured, it may be out of reach from {perhaps_from} up: measure again "
        "before a pass goes higher."
    ),
    "out_of_reach": (
        "The target is out of reach: the cove goes {beyond} beyond it already, the tolerance is {tolerance}, and cut "
        "wood does not come back. The fence put right, it can come as near as {closest}."
    ),
    "passes": (
        "Passes that remain with the fence put right, none deeper than the target. Heights are the blade's above the "
        "table; measure the width after each."
    ),
    "no_passes": "No pass remains.",
    "right": "{by} to the right",
    "left_hand": "{by} to the left",
    "away": "{by} away from you",
    "towards": "{by} towards you",
}
"""Sentences by name. Left and right of the fence's marks are the operator's; of the cove, as seen along the feed."""

FENCE_STAYS = 0.05
"""mm. Moves of the marks that are smaller are none: no tape shows them."""

ALIKE = 0.02
"""mm. A height that is lower than one that was told by less is not told as well."""


@dataclass(frozen=True)
class Advice:
    """One sentence, and whether it warns."""

    words: str
    warns: bool = False


def settings_table(found: Correction, units: Units) -> Table:
    """Return what each setting was set to and what was measured, with its interval."""
    every, finely = found.found, units.length if units.metric else units.fine
    rows = [
        ("fence angle", _angle, every.fence_angle, _angle),
        ("blade height", units.length, every.blade_height, finely),
        ("offset", units.length, every.offset, finely),
    ]
    return Table(
        (
            Column("setting", left=True),
            Column("set to"),
            Column("measured"),
            Column("95 % interval", left=True),
        ),
        tuple(
            (
                name,
                shown(one.meant),
                "-" if one.half is None else shown(one.value),
                WORDS["not_measured"] if one.half is None else f"+- {read(one.half)}",
            )
            for name, shown, one, read in rows
        ),
    )


def sentences(found: Correction, units: Units) -> Iterator[Advice]:
    """Yield what there is to say below the settings, in the order in which it matters."""
    if found.slipped:
        yield Advice(WORDS["slipped"].format(number=found.found.number), True)
    elif not found.found.together:
        yield Advice(WORDS["apart"], True)
    yield from _fence(found, units)
    yield from _blade(found.found.blade_height, units)
    if found.other_pass is not None:
        height = units.length(found.scene.passes.heights[found.other_pass - 1])
        yield Advice(WORDS["other_pass"].format(number=found.other_pass, height=height), True)
    deviation, tolerance = units.fine(found.left.deviation), units.bound(found.tolerance)
    yield Advice(
        WORDS["left"].format(
            width=units.nearest(found.left.width),
            depth=units.nearest(found.left.depth),
            deviation=deviation,
            tolerance=tolerance,
        ),
        found.left.deviation > found.tolerance,
    )
    if not found.in_reach:
        beyond, closest = units.fine(found.beyond), units.fine(found.closest)
        yield Advice(WORDS["out_of_reach"].format(beyond=beyond, closest=closest, tolerance=tolerance), True)
        return
    yield Advice(WORDS["in_reach"])
    if found.out_from is not None:
        yield Advice(WORDS["out_from"].format(out_from=units.length(found.out_from)), True)
    if found.perhaps_from is not None and (found.out_from is None or found.out_from - found.perhaps_from > ALIKE):
        yield Advice(WORDS["perhaps_from"].format(perhaps_from=units.length(found.perhaps_from)))


def passes_title(found: Correction) -> str:
    """Return what stands above the passes that remain."""
    return WORDS["passes"] if found.passes else WORDS["no_passes"]


def passes_table(found: Correction, units: Units) -> Table:
    """Return the passes that remain; in turns of the wheel from where the blade stands, where the lift is known."""
    numbered = list(enumerate(found.passes, start=found.found.number + 1))
    columns: dict[str, list[str]] = {
        "pass": [str(number) for number, _ in numbered],
        "height": [units.length(one.height) for _, one in numbered],
        "rise": [units.as_read(one.rise) for _, one in numbered],
    }
    if found.scene.saw.lift_per_turn is not None:
        columns["wheel"] = [Shown(turns_of(one.rise, found.scene), "turns") for _, one in numbered]
    columns["feed"] = [units.feed(one.feed_speed) for _, one in numbered]
    if any(one.stop is not None for _, one in numbered):
        columns["stop"] = ["through" if one.stop is None else units.tape(one.stop) for _, one in numbered]
    columns["width"] = [units.nearest(one.width) for _, one in numbered]
    return Table(tuple(map(Column, columns)), tuple(zip(*columns.values(), strict=True)))


def _fence(found: Correction, units: Units) -> Iterator[Advice]:
    angle, offset = found.found.fence_angle, found.found.offset
    as_meant = angle.as_meant and offset.as_meant
    if angle.half is None and offset.half is None:
        return
    if as_meant:
        told_by_angle = WORDS["angle_as_meant"].format(meant=_angle(angle.meant))
        yield Advice(told_by_angle if offset.half is None else WORDS["fence_as_meant"])
    if not found.moves:
        if not as_meant:
            yield Advice(WORDS["no_marks"], True)
        return
    if max(abs(move.by) for move in found.moves) < FENCE_STAYS:
        return
    first, second = found.moves
    words = WORDS["moves"].format(
        lead=WORDS["if_confirmed" if as_meant else "move"],
        first_edge=first.mark.edge,
        second_edge=second.mark.edge,
        first=_moved(first, units),
        second=_moved(second, units),
        first_alone=_aside(first.alone, units),
        second_alone=_aside(second.alone, units),
    )
    yield Advice(words, not as_meant)


def _blade(height: FoundSetting, units: Units) -> Iterator[Advice]:
    if height.half is None:
        return
    if height.as_meant:
        yield Advice(WORDS["height_as_meant"].format(meant=units.length(height.meant)))
    else:
        name = "higher" if height.error > 0 else "lower"
        off = abs(height.error)
        yield Advice(WORDS[name].format(by=units.length(off) if units.metric else units.fine(off)), True)


def _moved(move: Move, units: Units) -> str:
    if move.mark.edge in ("front", "rear"):
        return _aside(move.by, units)
    return WORDS["away" if move.by > 0 else "towards"].format(by=units.tape(abs(move.by)))


def _aside(mm: float, units: Units) -> str:
    return WORDS["right" if mm > 0 else "left_hand"].format(by=units.tape(abs(mm)))


def _angle(radians: float) -> Shown:
    return Shown(f"{degrees(radians):.2f}", "deg")
