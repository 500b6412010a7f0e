"""One profile worked out: blades fitted, the best set-up planned, cut and judged. Any process can do it, with no files.

What it does for a profile is what `sweep solve` and `sweep run` do for a scene, so the figures are theirs.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from sweep.check.flag import Flag
from sweep.check.judge import judge
from sweep.check.setups import judge_setups
from sweep.cut.job import simulate
from sweep.cut.moulding import mould
from sweep.errors import SceneError, SweepError
from sweep.plan.complete import plan_setups
from sweep.plan.cutlist import time_at_saw
from sweep.plan.fit import FINE, curves_at
from sweep.plan.heights import plan_passes
from sweep.plan.setup import Candidate, find_setups, line_for, setup_of
from sweep.plan.several.solve import solve_setups
from sweep.scene.model import Scene, WholeScene
from sweep.scene.order import Order
from sweep.scene.read import scene_from
from sweep.scene.write import scene_text
from sweep.shape import section
from sweep.shop.profile import Array
from sweep.shop.rack import name_of
from sweep.shop.row import FAULT, Answer, Polyline, Row, without_figures
from sweep.shop.screen import FITTED

DRAWN_WITHIN = 0.02
"""mm. How far what is drawn may be from the line: a fifth of a pencil line at 1:1."""


@dataclass(frozen=True)
class Task:
    """A profile to be worked out.

    Parameters
    ----------
    profile : str
        Its name.
    jobs : tuple of str
        A scene as JSON for each saw that may cut it, whole in itself, its blades those that come into question.
    full : bool
        Whether every blade is planned and judged, and whole mouldings are worked out.
    """

    profile: str
    jobs: tuple[str, ...]
    full: bool = False


def answered(task: Task) -> Answer:
    """Work out a profile on every saw; of those that cut it within tolerance the one with the fewest flags answers.

    Of several it is the first, and where none does, the one that comes closest.
    """
    return min((_on_one_saw(task, job) for job in task.jobs), key=_last_choice)


def _last_choice(answer: Answer) -> tuple[bool, bool, float]:
    """Return what is less of a saw that is rather to be taken."""
    best = answer.best
    if best.within_tolerance:
        return False, best.flags is None, len((best.flags or "").split())
    return True, best.deviation_mm is None, best.deviation_mm or 0.0


def _on_one_saw(task: Task, job: str) -> Answer:
    """Work out a profile on one saw; whatever is wrong with it becomes its row's reason."""
    inches = False
    try:
        tables = json.loads(job)
        scene = scene_from(tables)
        inches = scene.stock.in_inches
        if scene.lacks_setups:
            return _of_several(task, tables, scene)
        return _of_one(task, tables, scene)
    except SceneError as wrong:
        return without_figures(task.profile, wrong.sentence(inches).removesuffix("."), inches=inches)
    except (SweepError, MemoryError) as wrong:
        return without_figures(task.profile, str(wrong) or "it takes more memory than there is", inches=inches)
    except Exception as wrong:  # one profile never ends the run
        return without_figures(task.profile, f"{FAULT} ({type(wrong).__name__})", inches=inches)


def _of_one(task: Task, tables: dict[str, Any], scene: Scene) -> Answer:
    candidates = find_setups(scene)
    candidates = candidates if task.full else candidates[:FITTED]
    rows = []
    best: WholeScene | None = None
    for rank, one in enumerate(candidates, start=1):
        row = _fitted(task.profile, rank, one, scene)
        if rank == 1 or task.full:
            row, whole = _planned(row, one, scene)
            best = best or whole
        rows.append(row)
    first = candidates[0]
    fit = first.fit
    place = np.array([[fit.fence_angle, fit.blade_height, fit.blade_tilt, fit.offset]])
    return Answer(
        profile=task.profile,
        rows=tuple(rows),
        inches=scene.stock.in_inches,
        wanted=drawn(line_for(scene, first)),
        cut=drawn(curves_at(first.blade.tool, place, FINE)[0]),
        stock_mm=(scene.stock.width, scene.stock.thickness),
        scene="" if best is None else scene_text(tables, best, best.units),
    )


def _fitted(profile: str, rank: int, one: Candidate, scene: Scene) -> Row:
    fit = one.fit
    return Row(
        profile=profile,
        blade=name_of(one.blade),
        rank=rank,
        fence_angle_deg=_rounded(math.degrees(fit.fence_angle)),
        blade_height_mm=_rounded(fit.blade_height),
        blade_tilt_deg=_rounded(math.degrees(fit.blade_tilt)),
        offset_mm=_rounded(fit.offset),
        deviation_mm=_rounded(fit.deviation),
        within_tolerance=fit.deviation <= scene.wanted.tolerance,
        reason="" if one.stopped_by is None else one.stopped_by.said(scene.stock.in_inches),
        saw=scene.saw.name,
    )


def _planned(row: Row, one: Candidate, scene: Scene) -> tuple[Row, WholeScene | None]:
    """Return a row with passes, time and flags, and the scene with nothing left out; or with why there are none."""
    try:
        set_up = scene.model_copy(update={"passes": None}).set_up(setup_of(scene, one))
        whole = set_up.with_passes(plan_passes(set_up).passes)
        outcome = judge(simulate(whole))
    except SceneError as wrong:
        told = wrong.sentence(scene.stock.in_inches).removesuffix(".")
        return replace(row, reason="; ".join(filter(None, (row.reason, told)))), None
    seconds = time_at_saw([whole], _order(scene), 1)
    flags = _codes(outcome.flags)
    return replace(row, passes=len(whole.passes.heights), minutes=round(seconds / 60, 2), flags=flags), whole


def _of_several(task: Task, tables: dict[str, Any], scene: Scene) -> Answer:
    """Work out a whole moulding by several set-ups, and how it lies to what is wanted."""
    wanted = drawn(np.array(scene.wanted.points, float) + (scene.wanted.across, 0.0))
    solved = solve_setups(scene)
    planned = plan_setups(solved.scene)
    verdict = judge_setups(mould(solved.scene, [one.setting for one in planned]))
    check = verdict.whole
    assert check is not None  # a whole moulding is wanted
    flags = [flag for outcome in verdict.outcomes for flag in outcome.flags]
    blades = dict.fromkeys(name_of(one.scene.blade) for one in planned)
    row = Row(
        profile=task.profile,
        blade=" + ".join(blades),
        rank=1,
        deviation_mm=_rounded(check.deepest_cut),
        within_tolerance=check.is_whole,
        passes=sum(len(one.scene.passes.heights) for one in planned),
        minutes=round(solved.curve.choice.seconds / 60, 2),
        flags=_codes([*verdict.flags, *flags]),
        reason=f"{len(solved.scene.setups)} set-ups take {100 * check.waste_share:.0f} % of the waste",
        saw=scene.saw.name,
    )
    left = max((piece.outline.figure for piece in verdict.moulding.pieces), key=section.area)
    outline = max(section.rings(left), key=len)
    return Answer(
        profile=task.profile,
        rows=(row,),
        whole=True,
        inches=scene.stock.in_inches,
        wanted=wanted,
        cut=drawn(np.vstack([outline, outline[:1]])),
        stock_mm=(scene.stock.width, scene.stock.thickness),
        scene=scene_text(tables, solved.scene, solved.scene.units),
    )


def _order(scene: Scene) -> Order:
    """Return the order of a scene, or one that says how long handling takes where nobody said otherwise."""
    return scene.order or Order.model_validate({"lengths": ["1 m"]})


def _codes(flags: Iterable[Flag]) -> str:
    return " ".join(dict.fromkeys(flag.code for flag in flags))


def _rounded(value: float) -> float:
    """Return a figure as it is written: to four decimals, and without the sign of nothing."""
    return round(value, 4) + 0.0


def drawn(line: Array) -> Polyline:
    """Return a line, (n, 2) mm, as it is kept to be drawn."""
    hundredths = np.rint(100 * section.simpler_line(line, DRAWN_WITHIN)).astype(int).tolist()
    return tuple((y, z) for y, z in hundredths)
