"""The flag that is told first, where there is room for one: what can hurt before what spoils the work. Our choice."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.check.judge import Outcome
from sweep.show.say.flags import owner_of, sentence_of
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
    rank = {code: place for place, code in enumerate(HURTS)}
    return min(outcome.flags, key=lambda flag: rank.get(flag.code, len(HURTS)), default=None)


def alert_of(outcome: Outcome, units: Units) -> str:
    """Return how much is flagged and the worst of it, in two sentences."""
    worst, count, mild = worst_of(outcome), len(outcome.flags), len(outcome.may_exceed)
    if worst is None:
        return "Nothing is flagged" + (f"; {mild} to look out for." if mild else ".")
    owner = owner_of(worst)
    return f"{count} flag{'' if count == 1 else 's'}. {owner[:1].upper()}{owner[1:]}: {sentence_of(worst, units)}."
