"""The words above the moving picture, pass by pass."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.check.judge import Outcome
from sweep.units import Units


@dataclass(frozen=True)
class Caption:
    """The words above a pass: its height as written, and the flags it has."""

    height: str
    flags: tuple[str, ...]


def captions_of(outcome: Outcome, units: Units) -> tuple[Caption, ...]:
    """Return the words above each pass."""
    return tuple(
        Caption(
            units.length(one.height),
            tuple(dict.fromkeys(flag.code.replace("-", " ") for flag in outcome.flags_of(one.number))),
        )
        for one in outcome.job.passes
    )
