"""What `--json` prints of `solve`, `fence` and `cutlist`: the facts of a run under the keys of a run."""

from __future__ import annotations

from collections.abc import Sequence

from sweep.check.flag import Flag
from sweep.check.panel import PanelCheck
from sweep.plan.accuracy import Care
from sweep.plan.complete import Completed
from sweep.plan.cutlist import CutList
from sweep.plan.dense import DenseCheck
from sweep.scene.model import Scene
from sweep.show.say.numbers.fence import FenceNumbers, fence_numbers
from sweep.show.say.numbers.flags import FlagNumbers, flag_numbers
from sweep.show.say.numbers.model import Head, Numbers, head_of
from sweep.show.say.numbers.order import CutListNumbers, PanelNumbers, cut_list_numbers, panel_numbers
from sweep.show.say.numbers.planned import (
    CandidateNumbers,
    CareNumbers,
    DenseCheckNumbers,
    PassPlanNumbers,
    candidate_numbers,
    care_numbers,
    dense_check_numbers,
    pass_plan_numbers,
)
from sweep.show.say.numbers.profile import CheckNumbers, check_numbers
from sweep.show.say.numbers.settings import (
    BladeNumbers,
    PassOrderNumbers,
    SetupNumbers,
    TargetNumbers,
    blade_numbers,
    pass_order_numbers,
    setup_numbers,
    target_numbers,
)
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.units import Units


class SolveAnswer(Head):
    """What `sweep solve` works out."""

    blade: BladeNumbers
    setup: SetupNumbers
    order_of_passes: tuple[PassOrderNumbers, ...]
    target: TargetNumbers | None
    candidates: tuple[CandidateNumbers, ...]
    dense_check: DenseCheckNumbers | None
    """Null where the scene has its set-up."""
    pass_plan: PassPlanNumbers | None
    care: CareNumbers | None


class FlaggedPass(Numbers):
    """A pass that is flagged."""

    number: int
    flags: tuple[FlagNumbers, ...]


class FenceOfSetting(Numbers):
    """What `sweep fence` says of one of several settings of the saw."""

    name: str
    setup: SetupNumbers
    fence: FenceNumbers
    flags: tuple[FlagNumbers, ...]
    """Those of the set-up."""
    passes: tuple[FlaggedPass, ...]


class FenceAnswer(Head):
    """What `sweep fence` says; of several set-ups `setup` and `fence` are null and `setups` has them."""

    setup: SetupNumbers | None
    fence: FenceNumbers | None
    setups: tuple[FenceOfSetting, ...]
    """Every setting of the saw in order; one where the scene has one set-up, the same as beside it."""
    flags: tuple[FlagNumbers, ...]
    """Those of the whole job."""
    passes: tuple[FlaggedPass, ...]
    """Those that are flagged."""
    check: CheckNumbers


class CutListAnswer(Head):
    """What `sweep cutlist` says."""

    cut_list: CutListNumbers
    panel: PanelNumbers | None
    flags: tuple[FlagNumbers, ...]
    """Those of the blanks and of the panel."""


def solve_answer(completed: Completed, check: DenseCheck | None, care: Care | None, units: Units) -> SolveAnswer:
    """Return what was worked out."""
    scene = completed.scene
    return SolveAnswer(
        **head_of(scene.title),
        blade=blade_numbers(scene),
        setup=setup_numbers(scene),
        order_of_passes=pass_order_numbers(scene),
        target=target_numbers(scene),
        candidates=candidate_numbers(completed.candidates, units),
        dense_check=dense_check_numbers(check),
        pass_plan=pass_plan_numbers(completed.plan),
        care=care_numbers(care),
    )


def fence_answer(report: Report) -> FenceAnswer:
    """Return how the fence is set, and all that is flagged."""
    alone = _fence_of(report, "")
    return FenceAnswer(
        **head_of(report.scene.title),
        setup=alone.setup,
        fence=alone.fence,
        setups=(alone,),
        flags=alone.flags,
        passes=alone.passes,
        check=check_numbers(report.outcome),
    )


def fences_answer(report: SetupsReport) -> FenceAnswer:
    """Return how the fence is set for each of several set-ups, and all that is flagged."""
    settings = report.moulding.settings
    return FenceAnswer(
        **head_of(report.scene.title),
        setup=None,
        fence=None,
        setups=tuple(_fence_of(one, setting.name) for one, setting in zip(report.reports, settings, strict=True)),
        flags=flag_numbers(report.verdict.flags, report.units),
        passes=(),
        check=check_numbers(report.verdict),
    )


def _fence_of(report: Report, name: str) -> FenceOfSetting:
    outcome, units = report.outcome, report.units
    flagged = {flag.number for flag in report.flags if flag.number is not None}
    return FenceOfSetting(
        name=name,
        setup=setup_numbers(report.scene),
        fence=fence_numbers(report.job),
        flags=flag_numbers(outcome.flags_of(None), units),
        passes=tuple(
            FlaggedPass(number=number, flags=flag_numbers(outcome.flags_of(number), units))
            for number in sorted(flagged)
        ),
    )


def cut_list_answer(
    scene: Scene, cut: CutList, panel: PanelCheck | None, flags: Sequence[Flag], units: Units
) -> CutListAnswer:
    """Return what to cut and what to buy; `flags` are those of the blanks and of the panel."""
    return CutListAnswer(
        **head_of(scene.title),
        cut_list=cut_list_numbers(cut),
        panel=panel_numbers(panel),
        flags=flag_numbers(flags, units),
    )
