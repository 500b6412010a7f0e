"""The flag that is told first, where there is room for one: what can hurt before what spoils the work. Our choice."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.check.flag import Flag
from sweep.check.judge import Outcome
from sweep.show.say.flags import owner_of, sentence_of
from sweep.show.say.setups import SetupsReport, name_of
from sweep.units import Units

HURTS = (
    "rim-fast",
    "stock-short",
    "stock-narrow",
    "stock-thin",
    "fence-cut",
    "second-fence-cut",
    "piece-freed",
    "strip-trapped",
    "no-flat",
    "fence-steep",
    "single-pass",
    "strip-falls",
    "shoulder-narrow",
    "contact-small",
    "wood-above-thin",
    "stock-unsupported",
    "fence-off-table",
    "fence-short",
    "throat-tight",
    "off-the-fence",
    "push-hard",
    "rise-large",
    "area-large",
    "chip-thick",
    "power-high",
    "plate-bends",
)
"""Codes of flags in the order in which they are told; those that are not named follow as they are found."""


def worst_of(outcome: Outcome) -> Flag | None:
    """Return the flag to tell first; None where nothing is flagged."""
    return min(outcome.flags, key=_rank, default=None)


def _rank(flag: Flag) -> int:
    return HURTS.index(flag.code) if flag.code in HURTS else len(HURTS)


def alert_of(outcome: Outcome, units: Units) -> str:
    """Return how much is flagged and the worst of it, in two sentences."""
    worst = worst_of(outcome)
    if worst is None:
        return _nothing(len(outcome.may_exceed))
    return _told(len(outcome.flags), owner_of(worst), worst, units)


@dataclass(frozen=True)
class Alert:
    """How much is flagged in several set-ups, and the worst of it.

    Parameters
    ----------
    words : str
    flagged : bool
    number : int or None
        The pass of the worst flag, counted on through all set-ups; the first one where it is of a whole set-up.
    """

    words: str
    flagged: bool
    number: int | None


def alert_of_setups(report: SetupsReport) -> Alert:
    """Return the worst flag of all set-ups and all their passes, and which set-ups have any where several have."""
    found: list[tuple[Flag, str, int | None]] = [(flag, "job", None) for flag in report.verdict.flags]
    passes, flagged = 0, []
    for one, setting in zip(report.reports, report.moulding.settings, strict=True):
        name = name_of(setting)
        for flag in one.flags:
            owner = name if flag.number is None else f"{name}, {owner_of(flag)}"
            found.append((flag, owner, passes + (flag.number or 1)))
        flagged += [str(setting.asked.place)] if one.flags else []
        passes += len(one.job.passes)
    if not found:
        return Alert(_nothing(sum(len(one.outcome.may_exceed) for one in report.reports)), False, None)
    worst, owner, number = min(found, key=lambda one: _rank(one[0]))
    *before, last = dict.fromkeys(flagged) or [""]
    where = f", in set-ups {', '.join(before)} and {last}" if before else ""
    return Alert(_told(len(found), owner, worst, report.units, where), True, number)


def _nothing(mild: int) -> str:
    return "Nothing is flagged" + (f"; {mild} to look out for." if mild else ".")


def _told(count: int, owner: str, worst: Flag, units: Units, where: str = "") -> str:
    counted = f"{count} flag{'' if count == 1 else 's'}{where}"
    return f"{counted}. {owner[:1].upper()}{owner[1:]}: {sentence_of(worst, units)}."
