"""One way to set a job laid beside another: figures of both with what is between them, and the outline of the first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sweep.shape import section
from sweep.show.say.passes import pass_rows
from sweep.show.say.report import Report
from sweep.units import Shown, Units, degrees


@dataclass(frozen=True)
class Compared:
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


def compared(beside: Report, now: Report, units: Units) -> tuple[Compared, ...]:
    """Return the figures of two reports of one job, in a maker's units."""
    return (
        _figure("width at the table", _width(beside), _width(now), units.length),
        _figure("depth", _depth(beside), _depth(now), units.length),
        _figure("fence angle", _angle(beside), _angle(now), lambda angle: Shown(f"{angle:.2f}", "deg")),
        _figure("blade height", _height(beside), _height(now), units.length),
        _figure("passes", len(beside.job.passes), len(now.job.passes), lambda count: Shown(f"{count:.0f}")),
        _figure(
            "largest share of a limit", _share(beside), _share(now), lambda share: Shown(f"{100 * share:.0f}", "%")
        ),
        *(
            [_figure("furthest from the target", _deviation(beside), _deviation(now), units.fine)]
            if beside.profile is not None and now.profile is not None
            else []
        ),
        _figure("flags", len(beside.flags), len(now.flags), lambda count: Shown(f"{count:.0f}")),
    )


def outline_of(report: Report) -> list[list[list[float]]]:
    """Return the outline of the finished section: lines of points, (y, z) mm."""
    job = report.job
    figures = [piece.outline.figure for piece in job.pieces] if job.finishing else [job.sections[-1].left]
    return [ring.round(3).tolist() for figure in figures for ring in section.rings(figure)]


def _figure(words: str, beside: float, now: float, shown: Callable[[float], Shown]) -> Compared:
    between = shown(abs(now - beside))
    same = between == shown(0.0)
    return Compared(
        words, shown(beside), shown(now), "the same" if same else f"{'+' if now > beside else '-'}{between}"
    )


def _width(report: Report) -> float:
    return report.job.sections[-1].width


def _depth(report: Report) -> float:
    return report.job.sections[-1].top


def _angle(report: Report) -> float:
    return degrees(report.scene.setup.fence_angle)


def _height(report: Report) -> float:
    return report.scene.setup.blade_height


def _share(report: Report) -> float:
    return max(row.share for row in pass_rows(report.outcome, report.units))


def _deviation(report: Report) -> float:
    return 0.0 if report.profile is None else report.profile.max_deviation
