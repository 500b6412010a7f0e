"""The set-ups that were found for a whole moulding: what each number of them takes, and those that were chosen."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sweep.scene.setups import CoveSetup, RabbetSetup, RipSetup, SetupOfSeveral
from sweep.show.say.table import Column, Table
from sweep.units import Shown, Units, degrees, minutes

if TYPE_CHECKING:  # the optimisers load only where set-ups are to be found
    from sweep.plan.several.choose import Curve
    from sweep.plan.several.solve import Solved


def curve_table(curve: Curve) -> Table:
    """Return what each number of set-ups takes, one row a number, the chosen one marked."""
    rows, before = [], 0.0
    for place, row in enumerate(curve.rows):
        rows.append(
            (
                f"{'>' if place == curve.chosen else ' '} {row.setups}",
                _share(row.share),
                _share(row.share - before),
                minutes(row.seconds),
                "proven" if row.proven else "found",
            )
        )
        before = row.share
    columns = (
        Column("set-ups"),
        Column("of the waste"),
        Column("more"),
        Column("at the saw"),
        Column("choice", left=True),
    )
    return Table(columns, tuple(rows))


def curve_sentences(solved: Solved, units: Units) -> list[str]:
    """Return how the choice was made, and what it lacks to ride on."""
    curve, scene = solved.curve, solved.scene
    found = [
        f"Waste is what lies more than {units.fine(scene.plan.leave)} above the profile (plan.leave). Times are for "
        "one piece, with setting the saw. A choice is worth the waste that it takes, less a little for each minute at "
        f"the saw and for too little flat to ride on. Proven: of the {curve.tried} cuts left to choose from no others "
        "are worth more; those chosen were then moved between the settings tried first. Ask for more or fewer by "
        "plan.most_setups."
    ]
    if curve.is_thinned:
        found.append(
            f"With {len(scene.choice)} blades fewer angles and tilts are tried first than with a few: a shorter list "
            "may find a little more."
        )
    found.append(_fences(solved))
    short = [number for number, mm in enumerate(curve.choice.ordered.unsupported, start=1) if mm > 0]
    if short:
        which = "Set-up" if len(short) == 1 else "Set-ups"
        has = "leaves" if len(short) == 1 else "leave"
        found.append(
            f"! {which} {_listed(short)} {has} too little flat to ride on: leave strips of the waste standing at the "
            "edges as runners and rip them off last, or fix the stock to a carrier board (common practice)."
        )
    return found


def _fences(solved: Solved) -> str:
    """Return why the fences stand where they do."""
    scene = solved.scene
    if "fence_side" in scene.plan.model_fields_set:
        coves = f"A cove's fence stands on the {scene.plan.fence_side} side, as plan.fence_side says"
    else:
        coves = (
            "A cove's fence stands where the blade leaves it whole and pushes the work into it, if either side is such"
        )
    return f"{coves}; a rip fence stands beside what stays, so that nothing is caught between it and the blade."


def setups_table(solved: Solved, units: Units) -> Table:
    """Return the set-ups that were chosen, in order, as the saw is set for the stock as it lies."""
    rows = tuple(
        (f"{number} {one.do}", one.blade or "the blade", _lies(one), *_settings(one, units), _minutes(seconds))
        for number, (one, seconds) in enumerate(
            zip(solved.scene.setups, solved.curve.choice.ordered.seconds, strict=True), start=1
        )
    )
    headings = ("set-up", "blade", "face down", "fence", "side", "tilt", "height", "across", "time")
    return Table(tuple(Column(heading, left=heading in (*headings[:3], "side")) for heading in headings), rows)


ACROSS = (
    "Across is a cove's offset, the middle of a rip's kerf from the stock's centreline to the right, or a rabbet's "
    "width; a rabbet's height is its depth."
)


def _settings(one: SetupOfSeveral, units: Units) -> tuple[str, ...]:
    match one:
        case CoveSetup():
            fence, tilt = _angle(one.fence_angle), _angle(one.blade_tilt)
            return fence, one.fence_side, tilt, units.length(one.blade_height), units.length(one.offset + 0.0)
        case RipSetup():
            height = "through" if one.blade_height is None else units.length(one.blade_height)
            return "rip", one.fence_side, _angle(one.blade_tilt), height, units.length(one.at + 0.0)
        case RabbetSetup():
            side = "right" if one.edge == "left" else "left"
            return "rip", side, _angle(0.0), units.length(one.depth), units.length(one.width)


def _lies(one: SetupOfSeveral) -> str:
    return one.face + (",\nend for end" if one.ends == "end for end" else "")


def _angle(radians: float) -> Shown:
    return Shown(f"{degrees(radians + 0.0):.1f}", "deg")


def _minutes(seconds: float) -> Shown:
    return Shown(f"{math.ceil(seconds / 60)}", "min")


def _share(share: float) -> Shown:
    return Shown(f"{100 * share:.1f}", "%")


def _listed(numbers: list[int]) -> str:
    words = [str(number) for number in numbers]
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
