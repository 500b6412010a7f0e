"""The words above the moving picture, pass by pass."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweep.show.say.flags import names_of

if TYPE_CHECKING:  # what draws the moving picture, in a process of its own, needs no report
    from sweep.show.say.report import Report


@dataclass(frozen=True)
class Caption:
    """The words above a pass: its height as written, and the flags it has."""

    height: str
    flags: tuple[str, ...]


def captions_of(report: Report) -> tuple[Caption, ...]:
    """Return the words above each pass."""
    return tuple(
        Caption(report.units.length(one.height), names_of(report.flags_of(one.number))) for one in report.job.passes
    )
