"""`result.json`: the whole report in numbers."""

from __future__ import annotations

from sweep.show.say.numbers.choice import CurveNumbers, curve_numbers
from sweep.show.say.numbers.fence import FenceNumbers, fence_numbers
from sweep.show.say.numbers.finish import (
    FinishedNumbers,
    MitreNumbers,
    OperationNumbers,
    finish_numbers,
    finished_numbers,
    mitre_numbers,
)
from sweep.show.say.numbers.flags import FlagNumbers, flag_numbers
from sweep.show.say.numbers.model import Head, head_of
from sweep.show.say.numbers.order import CutListNumbers, PanelNumbers, cut_list_numbers, panel_numbers
from sweep.show.say.numbers.passes import PassNumbers, pass_numbers
from sweep.show.say.numbers.planned import (
    CandidateNumbers,
    CareNumbers,
    PassPlanNumbers,
    candidate_numbers,
    care_numbers,
    pass_plan_numbers,
)
from sweep.show.say.numbers.profile import CheckNumbers, SurfaceNumbers, check_numbers, surface_numbers
from sweep.show.say.numbers.settings import (
    BladeNumbers,
    LimitNumbers,
    PassOrderNumbers,
    SawNumbers,
    SetupNumbers,
    StockNumbers,
    TargetNumbers,
    blade_numbers,
    limit_numbers,
    pass_order_numbers,
    saw_numbers,
    setup_numbers,
    stock_numbers,
    target_numbers,
)
from sweep.show.say.numbers.setups import SettingNumbers, only_setting, setting_numbers
from sweep.show.say.numbers.steps import StepNumbers, step_numbers
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


class Result(Head):
    """Everything of a run, in numbers; lengths in mm, angles in degrees.

    Of a scene with several set-ups `blade`, `setup`, `fence` and `surface` are null, and passes and their order empty:
    `setups` has them, each with its own.
    """

    chord_tolerance_mm: float
    stock: StockNumbers
    blade: BladeNumbers | None
    saw: SawNumbers
    setup: SetupNumbers | None
    order_of_passes: tuple[PassOrderNumbers, ...]
    target: TargetNumbers | None
    limits: LimitNumbers
    candidates: tuple[CandidateNumbers, ...]
    """Every blade at its best, the chosen one first; none where the scene has its set-up."""
    pass_plan: PassPlanNumbers | None
    """Null where the scene has its passes."""
    care: CareNumbers | None
    """Null where the scene names no target."""
    fence: FenceNumbers | None
    order_of_work: tuple[StepNumbers, ...]
    """What is done at the saw, step by step; of several set-ups it stands with each of them."""
    curve: tuple[CurveNumbers, ...]
    """What each number of set-ups takes of a whole moulding; none where the scene has its set-ups."""
    setups: tuple[SettingNumbers, ...]
    """Every setting of the saw in order; one where the scene has one set-up, the same as beside it."""
    cut_list: CutListNumbers | None
    panel: PanelNumbers | None
    flags: tuple[FlagNumbers, ...]
    may_exceed: tuple[FlagNumbers, ...]
    """Mild flags: what the far end of an estimate's band is past; they leave the exit status alone."""
    """Those of the whole job; those of a pass stand with it."""
    passes: tuple[PassNumbers, ...]
    check: CheckNumbers
    surface: SurfaceNumbers | None
    finish: tuple[OperationNumbers, ...]
    mitre: MitreNumbers | None
    finished: FinishedNumbers


def result_of(report: Report | SetupsReport) -> Result:
    """Return the whole report in numbers; the same for the same scene, but for the maker's units in sentences."""
    if isinstance(report, SetupsReport):
        return _result_of_several(report)
    job, scene = report.job, report.scene
    return Result(
        **head_of(scene.title),
        chord_tolerance_mm=job.chord,
        stock=stock_numbers(scene),
        blade=blade_numbers(scene),
        saw=saw_numbers(scene),
        setup=setup_numbers(scene),
        order_of_passes=pass_order_numbers(scene),
        target=target_numbers(scene),
        limits=limit_numbers(scene),
        candidates=candidate_numbers(report.candidates, report.units),
        pass_plan=pass_plan_numbers(report.plan),
        care=care_numbers(report.care),
        fence=fence_numbers(job),
        order_of_work=step_numbers(report.steps),
        curve=(),
        setups=(only_setting(report),),
        cut_list=None if report.cut_list is None else cut_list_numbers(report.cut_list),
        panel=panel_numbers(report.panel),
        flags=flag_numbers(report.flags_of(None), report.units),
        may_exceed=flag_numbers(report.outcome.may_exceed, report.units),
        passes=pass_numbers(report),
        check=check_numbers(report.outcome),
        surface=surface_numbers(report.surface),
        finish=finish_numbers(job),
        mitre=mitre_numbers(job),
        finished=finished_numbers(job),
    )


def _result_of_several(report: SetupsReport) -> Result:
    moulding, scene = report.moulding, report.scene
    return Result(
        **head_of(scene.title),
        chord_tolerance_mm=moulding.chord,
        stock=stock_numbers(scene),
        blade=None,
        saw=saw_numbers(scene),
        setup=None,
        order_of_passes=(),
        target=target_numbers(scene),
        limits=limit_numbers(scene),
        candidates=(),
        pass_plan=None,
        care=None,
        fence=None,
        order_of_work=(),
        curve=() if report.solved is None else curve_numbers(report.solved.curve),
        setups=setting_numbers(report),
        cut_list=None if report.cut_list is None else cut_list_numbers(report.cut_list),
        panel=panel_numbers(report.panel),
        flags=flag_numbers(report.verdict.flags, report.units),
        may_exceed=(),
        passes=(),
        check=check_numbers(report.verdict),
        surface=None,
        finish=finish_numbers(moulding),
        mitre=mitre_numbers(moulding),
        finished=finished_numbers(moulding),
    )
