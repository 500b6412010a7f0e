"""The passes of each set-up as they came out."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.scene.setups import RabbetSetup
from sweep.show.say.passes import pass_rows
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


@dataclass(frozen=True)
class PassesMade:
    """The passes of one set-up, in words.

    Parameters
    ----------
    heights, rises : tuple of str
        Of each pass.
    """

    heights: tuple[str, ...]
    rises: tuple[str, ...]


def passes_made(report: Report | SetupsReport) -> dict[str, PassesMade]:
    """Return the passes at every path where a scene's tables may have them; a rabbet, which is two rips, has none."""
    if isinstance(report, Report):
        return {"passes": _of(report)}
    return {
        f"setups.{one.setting.asked.number - 1}.passes": _of(made)
        for one, made in zip(report.planned, report.reports, strict=True)
        if not isinstance(one.setting.asked.setup, RabbetSetup)
    }


def _of(report: Report) -> PassesMade:
    heights = tuple(report.units.length(height) for height in report.scene.passes.heights)
    return PassesMade(heights, _rises(report))


def _rises(report: Report) -> tuple[str, ...]:
    return tuple(row.rise.bare for row in pass_rows(report.outcome, report.units))
