"""The set-ups that the window goes through, one or several, their passes counted on through all of them."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import shorten

from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport

_LETTERS = 22  # of a set-up's number and name: a title has no room for more


@dataclass(frozen=True, eq=False)
class SetupShown:
    """A set-up in the window.

    Parameters
    ----------
    report : Report
    before : int
        How many passes earlier set-ups have.
    name : str
        What its passes are announced with; nothing where it is the only one.
    whole : str
        What the flags that are of no pass are told for.
    """

    report: Report
    before: int
    name: str
    whole: str


def setups_of(report: Report | SetupsReport) -> tuple[SetupShown, ...]:
    """Return the set-ups of a report in order."""
    if isinstance(report, Report):
        return (SetupShown(report, 0, "", "whole job"),)
    found, before = [], 0
    for one, setting in zip(report.reports, report.moulding.settings, strict=True):
        name = shorten(f"{setting.asked.place}. {setting.name}", _LETTERS, placeholder="...")
        found.append(SetupShown(one, before, f"{name}: ", "this set-up"))
        before += len(one.job.passes)
    return tuple(found)
