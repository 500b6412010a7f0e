"""The set-ups that the window goes through, one or several, their passes counted on through all of them."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import shorten

from sweep.scene.keys import Stock
from sweep.shape.mesh import Mesh, joined
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.say.worst import alert_of, alert_of_setups

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
    alert : str
        The worst flag of all set-ups and all passes, and how many there are.
    flagged : bool
        Whether anything is flagged.
    """

    report: Report
    before: int
    name: str
    alert: str
    flagged: bool


def setups_of(report: Report | SetupsReport) -> tuple[SetupShown, ...]:
    """Return the set-ups of a report in order."""
    if isinstance(report, Report):
        return (SetupShown(report, 0, "", alert_of(report.outcome, report.units), bool(report.flags)),)
    found, before, alert = [], 0, alert_of_setups(report)
    for one, setting in zip(report.reports, report.moulding.settings, strict=True):
        name = shorten(f"{setting.asked.place}. {setting.name}", _LETTERS, placeholder="...")
        found.append(SetupShown(one, before, f"{name}: ", alert.words, alert.flagged))
        before += len(one.job.passes)
    return tuple(found)


def planed(report: Report | SetupsReport) -> Stock:
    """Return the stock as it was planed, in whose frame the finished moulding lies."""
    return report.scene.stock


def finished(report: Report | SetupsReport) -> Mesh | None:
    """Return the moulding after all that follows the passes, its passes counted on; None where nothing follows."""
    made = report.job if isinstance(report, Report) else report.moulding
    return joined([piece.mesh for piece in made.pieces]) if made.finishing else None
