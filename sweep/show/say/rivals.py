"""Several blades held against one offcut: a table of them, and sentences on each that cannot have cut it."""

from __future__ import annotations

from collections.abc import Sequence

from sweep.plan.rivals import BladeLikeness, Rivals, Tried
from sweep.scene.keys import Blade
from sweep.show.say.match import reason
from sweep.show.say.table import Column, Table
from sweep.units import Units, degrees
from sweep.words import visible


def rivals_table(rivals: Rivals, blades: Sequence[Blade], units: Units) -> Table:
    """Return one row a blade, the likeliest first, with the settings at which it lies closest to the points."""
    columns = ("blade", "cut it", "fence deg", "height", "tilt deg", "largest", "RMS")
    return Table(
        tuple(Column(heading, left=heading in ("blade", "cut it")) for heading in columns),
        tuple(
            (
                called(blades[one.number], units),
                "can" if one.can else "cannot",
                f"{degrees(one.match.fence_angle.value):.2f}",
                units.length(one.match.blade_height.value),
                f"{degrees(one.match.blade_tilt.value):.2f}",
                units.fine(one.match.largest),
                units.fine(one.match.rms),
            )
            for one in rivals.tried
        ),
    )


def why_not(one: Tried, blade: Blade, max_height: float | None, units: Units) -> str:
    """Return in a sentence why a blade cannot have cut the piece."""
    name = called(blade, units)
    if one.match.by_this_blade and max_height is not None:
        height = units.length(one.match.blade_height.value)
        return f"{name} cannot: it would stand {height} high, and the saw raises it {units.length(max_height)} at most."
    return f"{name} cannot: {reason(one.match, units)}"


def likeness_sentences(
    likeness: BladeLikeness, pair: tuple[Blade, Blade], points: int, accuracy: float, units: Units
) -> str:
    """Return how near the best two blades come to each other, and how finely they would have to be measured."""
    first, second = (called(blade, units) for blade in pair)
    alike = (
        f"{first} and {second}, each set as above, leave outlines that lie at most {units.fine(likeness.largest)} "
        f"apart at these points, RMS {units.fine(likeness.rms)}"
    )
    measured = f"{points} points measured to {units.fine(accuracy)}"
    often = round(100 * likeness.mistaken)
    mistaken = f"{often} times in 100" if often > 1 else "at most once in 100 times"
    if likeness.told_apart:
        return f"{alike}: {measured} take one for the other {mistaken}, so they tell the two apart."
    return (
        f"Diameters are hard to tell apart. {alike}: {measured} take one for the other {mistaken}. "
        f"Measured to {units.fine(likeness.needed)} they would 1 time in 20."
    )


def called(blade: Blade, units: Units) -> str:
    """Return what a blade is called: its name, or else its size."""
    if blade.name:
        return f"'{visible(blade.name)}'"
    if blade.profile is not None:
        return "the blade"
    diameter, kerf = blade.size
    return f"{units.length(diameter)} x {units.length(kerf)}"
