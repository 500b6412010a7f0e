"""The passes of each set-up as they came out: their rises, and how they would be written where they were planned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sweep.plan.complete import Planned
from sweep.scene.setups import RabbetSetup
from sweep.scene.write import passes_told
from sweep.show.say.passes import pass_rows
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


@dataclass(frozen=True)
class PassesMade:
    """The passes of one set-up.

    Parameters
    ----------
    rises : tuple of str
        Of each pass, in words.
    planned : dict or None
        As `[passes]` would have them; None where they are written.
    """

    rises: tuple[str, ...]
    planned: dict[str, Any] | None = None


def passes_made(report: Report | SetupsReport, data: dict[str, Any]) -> dict[str, PassesMade]:
    """Return the passes at every path where a scene's tables may have them.

    A rabbet has none of its own: it is two rips, and both are planned. Nor has a rip whose height is not written.
    """
    if isinstance(report, Report):
        return {"passes": PassesMade(_rises(report))}
    found = {}
    for one, made in zip(report.planned, report.reports, strict=True):
        place = one.setting.asked.number - 1
        table = data["setups"][place]
        if not isinstance(one.setting.asked.setup, RabbetSetup):
            found[f"setups.{place}.passes"] = PassesMade(_rises(made), _as_planned(one, table, report))
    return found


def _as_planned(one: Planned, table: dict[str, Any], report: SetupsReport) -> dict[str, Any] | None:
    if one.plan is None or "blade_height" not in table:
        return None
    return passes_told(one.scene.passes, table["blade_height"], report.scene.units)


def _rises(report: Report) -> tuple[str, ...]:
    return tuple(row.rise.bare for row in pass_rows(report.outcome, report.units))
