"""What is made of a scene's tables, of one set-up or of several: cut and judged, as far as it goes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from sweep.check.judge import judge
from sweep.check.setups import judge_setups
from sweep.cut.job import simulate
from sweep.cut.moulding import mould
from sweep.errors import SceneError
from sweep.plan.complete import complete, passes_to_write, plan_setups
from sweep.scene.model import Scene, WholeScene
from sweep.scene.places import Tables
from sweep.scene.read import scene_beside
from sweep.scene.write import passes_told, tables_with_passes
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.tolerance import AS_RUN, Fineness
from sweep.units import Units

AnyReport: TypeAlias = Report | SetupsReport


@dataclass(frozen=True)
class Made:
    """What was made of a scene.

    Parameters
    ----------
    report : Report or SetupsReport
        Up to the first finishing operation that cannot be done.
    failing : SceneError or None
        Why that one cannot; or what is ordered.
    """

    report: AnyReport
    failing: SceneError | None


def whole_scene(data: Tables, beside: Path) -> WholeScene:
    """Return the scene of one set-up that tables hold, nothing left out; points files are looked for beside it."""
    return complete(scene_beside(data, beside)).scene


def made_of(data: Tables, beside: Path, fineness: Fineness, units: Units | None) -> Made:
    """Return what is made of a scene's tables; where a finishing operation cannot be done, up to that one.

    Parameters
    ----------
    data : dict
    beside : Path
        The folder of what it names.
    fineness : Fineness
    units : Units or None
        In which it is told; None for its own.

    Raises
    ------
    SceneError
    """
    scene, failing = scene_beside(data, beside), None
    cut, finish = _cutter(scene, fineness, units or scene.units), scene.finish
    while True:  # each turn leaves one operation out at least
        try:
            return Made(cut(finish), failing)
        except SceneError as wrong:
            name, _, number = wrong.field.partition(", number ")
            if name.partition(".")[0] != "finish" or not finish:
                raise
            failing = wrong
            kept = int(number) - 1 if number.isdecimal() else 0
            finish = finish[: min(kept, len(finish) - 1)]


def require_order(report: AnyReport) -> None:
    """Refuse an order, or a panel that the moulding borders, that cannot be made of what is cut: a run refuses it too.

    Raises
    ------
    SceneError
    """
    _ = report.cut_list, report.panel  # worked out when they are first asked for


def cut_whole(data: Tables, beside: Path, units: Units | None, fineness: Fineness = AS_RUN) -> AnyReport:
    """Return the report of all that a scene's tables ask for.

    Raises
    ------
    SceneError
        What cannot be cut or finished.
    """
    scene = scene_beside(data, beside)
    return _cutter(scene, fineness, units or scene.units)(scene.finish)


def written_down(data: Tables, report: AnyReport) -> Tables:
    """Return a scene's tables with the passes that were planned for it, where it may have them written."""
    if isinstance(report, Report):
        setup = data.get("setup")
        if "passes" in data or not isinstance(setup, dict):
            return data
        return data | {"passes": passes_told(report.scene.passes, setup["blade_height"], report.scene.units)}
    return tables_with_passes(data, passes_to_write(report.planned), report.units)


def _cutter(scene: Scene, fineness: Fineness, units: Units) -> Callable[[Any], AnyReport]:
    """Return what cuts a scene with some finishing operations; set-up and passes are worked out once."""
    if scene.lacks_setups:
        raise SceneError("setups", "there is none", "add one, or have them worked out from the marks")
    if not scene.setups:
        whole = complete(scene).scene
        return lambda finish: Report(judge(simulate(whole.model_copy(update={"finish": finish}), fineness)), units)
    planned = plan_setups(scene)

    def cut(finish: Any) -> SetupsReport:
        moulding = mould(scene.model_copy(update={"finish": finish}), [one.setting for one in planned], fineness)
        return SetupsReport(judge_setups(moulding), planned, units)

    return cut
