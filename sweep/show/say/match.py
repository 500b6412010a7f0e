"""The set-up that an offcut tells: its settings as a table, the rest in sentences."""

from __future__ import annotations

import math
from collections.abc import Callable

from sweep.plan.match import Estimate, Match
from sweep.show.say.table import Column, Table
from sweep.units import Units, degrees


def settings_table(match: Match, units: Units) -> Table:
    """Return one row a setting; no interval where the outline is not this blade's, no figure where it is not told."""
    hollow_up = abs(match.rotation.value) > math.pi / 2
    rows = [
        ("fence angle", match.fence_angle, _angle, _angle),
        ("blade height", match.blade_height, units.length, units.fine),
        ("blade tilt", match.blade_tilt, _angle, _angle),
        (f"rotation, hollow {'up' if hollow_up else 'down'}", _small(match.rotation), _angle, _angle),
        ("shift y", match.shift[0], units.length, units.fine),
        ("shift z", match.shift[1], units.length, units.fine),
    ]
    first = "setting" if match.by_this_blade else "closest"
    return Table(
        (Column(first, left=True), Column("value"), Column("95 % interval", left=True)),
        tuple((name, *_told(one, shown, finely, match.by_this_blade)) for name, one, shown, finely in rows),
    )


def verdict(match: Match, units: Units) -> str:
    """Return in a sentence or two whether the blade can have cut the outline."""
    measured, lie = f"measuring to {units.fine(match.accuracy)}", _lie(match, units)
    if not match.by_this_blade:
        return (
            f"! NOT an outline of this blade: {reason(match, units)} "
            "Another blade, a tilt outside the range, two cuts or sanding may have made it."
        )
    if match.rough:
        return (
            f"This blade may have cut it: {lie}. That is more than {measured} explains, "
            "but they scatter without a pattern, as bad measuring does."
        )
    if match.in_waves:
        return (
            f"This blade can have cut it, as far as {measured} tells: {lie}. They lie off in waves along it, "
            "as sanding, a bent gauge or another shape would make them; the intervals are widened for that."
        )
    return f"This blade can have cut it: {lie}, no more than {measured} explains."


def reason(match: Match, units: Units) -> str:
    """Return why the outline is not this blade's, for after a colon."""
    pattern = "in waves along it, " if match.in_waves else ""
    measured = f"measuring to {units.fine(match.accuracy)}"
    return f"at its closest, {_lie(match, units)}, {pattern}more than {measured} explains."


def _lie(match: Match, units: Units) -> str:
    return f"{match.count} points lie at most {units.fine(match.largest)} from its outline, RMS {units.fine(match.rms)}"


def advice(match: Match, units: Units) -> list[str]:
    """Return what else the maker should know, or measure, a sentence or two a line."""
    lines = []
    if match.left_out:
        points = "1 point lies" if match.left_out == 1 else f"{match.left_out} points lie"
        lines.append(f"{points} far from where all others lie, and went unused.")
    if match.by_this_blade and match.untold:
        lines.append(f"The points do not tell the {_listed(match.untold)}: {_remedy(match)}.")
    if match.by_this_blade and sum(match.on_face) > 1:
        lines += [
            f"Another set-up comes as close: fence at {_angle(angle)}, blade {units.length(height)} high, tilted "
            f"{_angle(tilt)}."
            for angle, height, tilt in match.rivals
        ]
    if match.at_limit:
        lines.append("The tilt is at the limit of its range; allow more with --tilts if the saw can tilt further.")
    if not match.by_this_blade:
        lines.append(
            "If the piece was measured from the other end, or depths were counted downwards, turn the signs of "
            "--tilts round; if it was measured less exactly, say so with --accuracy."
        )
    elif match.blade_tilt.value != 0.0 and match.blade_tilt.half_width is not None:
        lines.append("The tilt is as seen along the feed; seen from the other end of the piece it has the other sign.")
    lines.append(
        "All this holds for the blade given: one of another diameter, set otherwise, makes almost the same outline."
    )
    return lines


def _remedy(match: Match) -> str:
    if sum(match.on_face) < 2:
        flat = "measure a few points on the flat on either side of the hollow, well clear of its edges"
        given = 'given the tilt, --tilts "0 deg" "0 deg", the hollow alone tells the fence angle'
        return flat + (f"; {given}" if "fence angle" in match.untold else "")
    if 0 in match.on_face:
        return "measure the hollow from edge to edge, and a few points on the flat on its other side"
    if "blade tilt" in match.untold:
        return 'measure more points, or give the tilt if it is known, for example --tilts "0 deg" "0 deg"'
    return "measure more points all along the hollow"


def _told(
    estimate: Estimate, shown: Callable[[float], str], finely: Callable[[float], str], sure: bool
) -> tuple[str, str]:
    if not sure:
        return str(shown(estimate.value)), "-"
    if estimate.half_width is None:
        return "-", "not told by these points"
    if estimate.half_width == 0.0:
        return str(shown(estimate.value)), "given"
    return str(shown(estimate.value)), f"+- {finely(estimate.half_width)}"


def _small(rotation: Estimate) -> Estimate:
    """Return how far a piece that lies either way up is out of level."""
    return Estimate(math.remainder(rotation.value, math.pi), rotation.half_width)


def _angle(radians: float) -> str:
    return f"{degrees(radians):.2f} deg"


def _listed(names: tuple[str, ...]) -> str:
    return ", the ".join(names[:-1]) + " and the " * (len(names) > 1) + names[-1]
