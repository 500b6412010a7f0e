"""One way to set a job laid beside another: figures of both, what is between them, outline and solid of the first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from sweep.live.made import AnyReport
from sweep.shape import section
from sweep.show.page.model import finished_mesh, stage_model
from sweep.show.page.setups import made_mesh
from sweep.show.say.passes import pass_rows
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.units import Shown, Units, degrees


@dataclass(frozen=True)
class FigureBeside:
    """One figure of both.

    Parameters
    ----------
    words : str
    beside, now, between : str
        What lies beside, what is set now, and how much more that is.
    """

    words: str
    beside: str
    now: str
    between: str


def compared(beside: AnyReport, now: AnyReport, units: Units) -> tuple[FigureBeside, ...]:
    """Return the figures of two reports of one job, in a maker's units; those that both have."""
    length, count = units.length, partial(_shown, "{:.0f}", "")
    figures: tuple[tuple[str, Callable[[AnyReport], float | None], Callable[[float], Shown]], ...] = (
        ("width at the table", _of_one(lambda one: one.job.sections[-1].width), length),
        ("depth", _of_one(lambda one: one.job.sections[-1].top), length),
        ("fence angle", _of_one(lambda one: degrees(one.scene.setup.fence_angle)), partial(_shown, "{:.2f}", "deg")),
        ("blade height", _of_one(lambda one: one.scene.setup.blade_height), length),
        ("settings of the saw", lambda one: len(one.reports) if isinstance(one, SetupsReport) else None, count),
        ("passes", lambda one: sum(len(each.job.passes) for each in _each(one)), count),
        ("largest share of a limit", _share, lambda share: _shown("{:.0f}", "%", 100 * share)),
        ("furthest from the target", _of_one(_deviation), units.fine),
        ("flags", _flags, count),
    )
    found = []
    for words, of, shown in figures:
        one, other = of(beside), of(now)
        if one is not None and other is not None:
            found.append(_figure(words, one, other, shown))
    return tuple(found)


def outline_of(report: AnyReport) -> list[list[list[float]]]:
    """Return the outline of the finished section: lines of points, (y, z) mm, as the stock lies at the end."""
    if isinstance(report, SetupsReport):
        lying = report.moulding.settings[-1].lying
        figures = [section.laid(piece.outline.figure, lying) for piece in report.moulding.pieces]
    elif report.job.finishing:
        figures = [piece.outline.figure for piece in report.job.pieces]
    else:
        figures = [report.job.sections[-1].left]
    return [ring.round(3).tolist() for figure in figures for ring in section.rings(figure)]


def solid_of(report: AnyReport) -> dict[str, Any]:
    """Return the finished moulding packed for a page, as it lies on the bench."""
    return stage_model(made_mesh(report) if isinstance(report, SetupsReport) else finished_mesh(report))


def _figure(words: str, beside: float, now: float, shown: Callable[[float], Shown]) -> FigureBeside:
    between = shown(abs(now - beside))
    same = between == shown(0.0)
    return FigureBeside(
        words, shown(beside), shown(now), "the same" if same else f"{'+' if now > beside else '-'}{between}"
    )


def _shown(how: str, unit: str, value: float) -> Shown:
    return Shown(how.format(value), unit)


def _each(report: AnyReport) -> tuple[Report, ...]:
    return report.reports if isinstance(report, SetupsReport) else (report,)


def _of_one(of: Callable[[Report], float | None]) -> Callable[[AnyReport], float | None]:
    """Return what tells a figure of one set-up, and none of several."""
    return lambda report: of(report) if isinstance(report, Report) else None


def _share(report: AnyReport) -> float:
    return max(row.share for one in _each(report) for row in pass_rows(one.outcome, one.units))


def _deviation(report: Report) -> float | None:
    return None if report.profile is None else report.profile.max_deviation


def _flags(report: AnyReport) -> float:
    of_whole = len(report.verdict.flags) if isinstance(report, SetupsReport) else 0
    return of_whole + sum(len(one.flags) for one in _each(report))
