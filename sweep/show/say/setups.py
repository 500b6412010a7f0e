"""The report of several set-ups: one for each of them, as if it were alone, and what is said of the whole."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from sweep.check.panel import PanelCheck, check_panel
from sweep.check.setups import Verdict, judge_setups
from sweep.cut.moulding import Moulding, mould
from sweep.cut.settings import Setting
from sweep.plan.complete import Completed, Planned, plan_setups
from sweep.plan.cutlist import CutList, cut_list
from sweep.scene.model import Scene
from sweep.shape import section
from sweep.show.say.passes import set_up_of
from sweep.show.say.report import Report
from sweep.units import Units

if TYPE_CHECKING:  # the optimisers load only where set-ups are to be found
    from sweep.plan.several.solve import Solved

_LIES = {
    "table": "as it was planed",
    "top": "top down",
    "left edge": "on its left edge",
    "right edge": "on its right edge",
}


@dataclass(frozen=True, eq=False)
class SetupsReport:
    """Everything there is to say of one run of several set-ups.

    Parameters
    ----------
    verdict : Verdict
        The moulding and the opinions on it.
    planned : tuple of Planned
        Every setting of the saw, and how its passes came about.
    units : Units
        Those that the maker reads.
    solved : Solved or None
        How the set-ups were found; None where the scene has them.
    """

    verdict: Verdict
    planned: tuple[Planned, ...]
    units: Units
    solved: Solved | None = None

    @property
    def moulding(self) -> Moulding:
        """Every set-up cut, and what came of them."""
        return self.verdict.moulding

    @property
    def scene(self) -> Scene:
        """The scene as it is written."""
        return self.moulding.scene

    @cached_property
    def reports(self) -> tuple[Report, ...]:
        """A report for each setting: its scene, passes, loads, flags and fence as those of one set-up alone."""
        return tuple(
            Report(outcome, self.units, Completed(one.scene, (), one.plan))
            for outcome, one in zip(self.verdict.outcomes, self.planned, strict=True)
        )

    @cached_property
    def cut_list(self) -> CutList | None:
        """What to cut and what to buy; None where nothing is ordered."""
        return cut_list(self.moulding)

    @cached_property
    def panel(self) -> PanelCheck | None:
        """What the panel does through the year; None where there is none."""
        return check_panel(self.scene)


def report_of_setups(scene: Scene, units: Units) -> SetupsReport:
    """Cut the set-ups of a scene, found first where it lacks them, and return all there is to say of them."""
    if scene.lacks_setups:
        from sweep.plan.several.solve import solve_setups

        scene = solve_setups(scene).scene
    planned = plan_setups(scene)
    return SetupsReport(judge_setups(mould(scene, [one.setting for one in planned])), planned, units)


def how_it_lies(setting: Setting) -> str:
    """Return how the stock lies for a setting, in half a sentence."""
    face = "stood on the edge that is stepped" if setting.asked.part == 2 else _LIES[setting.asked.setup.face]
    end = ", the other end first" if setting.lying.end_for_end else ""
    return f"{face}{end}"


def name_of(setting: Setting) -> str:
    """Return what a setting is called, with its place among them."""
    return f"{setting.asked.place}. {setting.name}"


def setup_headline(report: Report, setting: Setting) -> str:
    """Return a setting with how the stock lies and how the saw is set, in one line."""
    saw = set_up_of(report.outcome, report.units)
    return f"{name_of(setting)}: stock {how_it_lies(setting)}; {saw}"


def fallen_sentence(report: SetupsReport, setting: Setting) -> str:
    """Return what falls off in a setting, in one sentence; nothing where nothing does."""
    found = [one for one in report.moulding.fallen if one.setting is setting]
    if not found:
        return ""
    sizes = []
    for one in found:
        left, low, right, high = section.bounds_of(one.figure)
        sizes.append(f"{report.units.length(right - left)} by {report.units.length(high - low)}")
    falls = "falls" if len(sizes) == 1 else "fall"
    kept = ", and is laid aside to be kept" if found[0].is_kept else ""
    return f"It saws the stock apart: {' and '.join(sizes)} (across and up, as it lies) {falls} off{kept}."
