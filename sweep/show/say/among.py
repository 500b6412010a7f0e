"""What a record says of a measured piece: the likeliest jobs as a table, and whether one of them made it."""

from __future__ import annotations

from sweep.shop.among import Compared, Likeness
from sweep.show.say.table import Column, Table
from sweep.units import Units
from sweep.words import visible

WITH = {
    "measured": "its measured wood",
    "set-up": "what its set-up cuts",
    "target": "what was wanted",
    "points": "its points",
}
"""What a piece was held against."""

ALL_OVER = 0.98
"""Share of a cove over which points reach that leave nothing to be said about it."""

LISTED = 5
"""Files that are named where they are not compared."""


def among_table(answer: Likeness, units: Units) -> Table:
    """Return one row a job that is likely, the closest first."""
    return Table(
        (
            Column("job", left=True),
            Column("held against", left=True),
            Column("largest"),
            Column("RMS"),
            Column("made it", left=True),
        ),
        tuple(
            (
                visible(one.job.name),
                WITH[one.job.told],
                units.fine(one.largest),
                units.fine(one.rms),
                "can have" if one.same else "no, within tolerance" if one.within else "no",
            )
            for one in answer.compared
        ),
    )


def among_sentences(answer: Likeness, units: Units) -> list[str]:
    """Return whether a job of the record made the piece, and what was not looked at, a sentence or two a line."""
    if not answer.compared:
        return ["There is no job to compare with.", *_not_compared(answer)]
    lines = [_made(one, answer, units) for one in answer.made_by] or [_none_made(answer, units)]
    lines += [
        f"The points reach over {one.covered:.0%} of the {'moulding' if one.job.whole else 'cove'} of "
        f"{visible(one.job.name)} only: measure all of it."
        for one in answer.made_by or answer.compared[:1]
        if one.covered < ALL_OVER and (one.same or not _ends(one))
    ]
    if not answer.made_by:
        lines += _wholes(answer)
    if len(answer.made_by) > 1:
        lines.append("Measuring does not tell these jobs apart.")
    return lines + _not_compared(answer)


def _made(one: Compared, answer: Likeness, units: Units) -> str:
    title = f", '{visible(one.job.title)}'" if one.job.title else ""
    kept = f", kept on {one.job.date}" if one.job.date else ""
    end = ", measured from its other end" if one.mirrored else ""
    words = (
        f"{visible(one.job.name)}{title}{kept}, can have made it: the points lie at most {units.fine(one.largest)} "
        f"from {WITH[one.job.told]}{end}, RMS {units.fine(one.rms)}, no more than measuring to "
        f"{units.fine(answer.accuracy)} explains."
    )
    if not one.job.as_set:
        return words
    angle, height, tilt = map(visible, one.job.as_set)
    return f"{words} Its fence stood at {angle}, the blade {height} high, tilted {tilt}."


def _none_made(answer: Likeness, units: Units) -> str:
    near = answer.compared[0]
    jobs = "The one job there is did not make" if answer.jobs == 1 else f"None of {answer.jobs} jobs made"
    lies = f"the nearest, {visible(near.job.name)}, lies at most {units.fine(near.largest)} off"
    within = next((one for one in answer.compared if one.within), None)
    if within is not None:
        return (
            f"{jobs} it, as far as measuring to {units.fine(answer.accuracy)} tells; but {visible(within.job.name)} "
            f"lies within its tolerance of {units.fine(within.job.tolerance)}, and would serve in its place."
        )
    return f"{jobs} it: {lies}. Without --among a set-up is found anew."


def _wholes(answer: Likeness) -> list[str]:
    """Return what to measure where a job whose line ends where its moulding does might have been missed by a part."""
    wholes = [visible(one.job.name) for one in answer.compared if _ends(one)]
    if not wholes:
        return []
    named, more = ", ".join(wholes[:LISTED]), " and others" if len(wholes) > LISTED else ""
    be = "are whole mouldings" if len(wholes) > 1 else "is a whole moulding"
    return [f"{named}{more} {be}: of a piece that was not measured from edge to edge nothing is told about it."]


def _ends(one: Compared) -> bool:
    """Return whether a job's line is a whole moulding's, and ends where that ends."""
    return one.job.whole and not one.job.closed


def _not_compared(answer: Likeness) -> list[str]:
    lines = [f"Not compared: {visible(one.name)}: {visible(one.reason)}" for one in answer.not_compared[:LISTED]]
    more = len(answer.not_compared) - LISTED
    return [*lines, f"Not compared: {more} more."] if more > 0 else lines
