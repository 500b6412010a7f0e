"""What is made of a scene's tables, of one set-up or of several: cut and judged, as far as it goes.

The last few cuts are kept: what is undone, loaded anew, saved, played or taken away as a file is not cut again.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TypeAlias

from sweep.check.judge import Outcome, judge
from sweep.check.setups import Verdict, judge_setups
from sweep.cut.job import simulate
from sweep.cut.moulding import mould
from sweep.errors import SceneError
from sweep.plan.complete import Planned, complete, passes_to_write, plan_setups
from sweep.scene.finish import Finish
from sweep.scene.model import Scene, WholeScene
from sweep.scene.places import Tables
from sweep.scene.read import scene_beside
from sweep.scene.write import passes_told, tables_with_passes
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.tolerance import Fineness
from sweep.units import Units

AnyReport: TypeAlias = Report | SetupsReport
Operations: TypeAlias = tuple[Finish, ...]

KEPT = 16
"""Cuts of late, by the scene as it was read, whatever files it took from."""


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
    return _completed(scene_beside(data, beside))


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
    finish = scene.finish
    while True:  # each turn leaves one operation out at least
        try:
            return Made(_report(scene, finish, fineness, units), failing)
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


def cut_whole(data: Tables, beside: Path, units: Units | None, fineness: Fineness) -> AnyReport:
    """Return the report of all that a scene's tables ask for.

    Raises
    ------
    SceneError
        What cannot be cut or finished.
    """
    scene = scene_beside(data, beside)
    return _report(scene, scene.finish, fineness, units)


def written_down(data: Tables, report: AnyReport) -> Tables:
    """Return a scene's tables with the passes that were planned for it, where it may have them written."""
    if isinstance(report, Report):
        setup = data.get("setup")
        if "passes" in data or not isinstance(setup, dict):
            return data
        return data | {"passes": passes_told(report.scene.passes, setup["blade_height"], report.scene.units)}
    return tables_with_passes(data, passes_to_write(report.planned), report.units)


@lru_cache(maxsize=KEPT)
def _report(scene: Scene, finish: Operations, fineness: Fineness, units: Units | None) -> AnyReport:
    if scene.lacks_setups:
        raise SceneError("setups", "there is none", "add one, or have them worked out from the marks")
    if scene.setups:
        return SetupsReport(_judged_setups(scene, finish, fineness), _planned(scene), units or scene.units)
    return Report(judged(_completed(scene), finish, fineness), units or scene.units)


@lru_cache(maxsize=KEPT)
def _completed(scene: Scene) -> WholeScene:
    return complete(scene).scene


@lru_cache(maxsize=KEPT)
def _planned(scene: Scene) -> tuple[Planned, ...]:
    return plan_setups(scene)


@lru_cache(maxsize=KEPT)
def judged(scene: WholeScene, finish: Operations, fineness: Fineness) -> Outcome:
    """Return what comes of a scene of one set-up with some finishing operations."""
    return judge(simulate(scene.model_copy(update={"finish": finish}), fineness))


@lru_cache(maxsize=KEPT)
def _judged_setups(scene: Scene, finish: Operations, fineness: Fineness) -> Verdict:
    settings = [one.setting for one in _planned(scene)]
    return judge_setups(mould(scene.model_copy(update={"finish": finish}), settings, fineness))
