"""The report of each demo scene, cut coarsely and once for all tests that read it."""

from __future__ import annotations

from functools import cache

from demos import SCENES

from sweep.check.judge import judge
from sweep.check.setups import judge_setups
from sweep.cut.job import simulate
from sweep.cut.moulding import mould
from sweep.plan.complete import complete, plan_setups
from sweep.plan.several.solve import solve_setups
from sweep.scene.read import read_scene
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.tolerance import Fineness

COARSE = Fineness(chord=0.05, section_chord=0.01, sample=1.0, angles=64)


@cache
def report_of(name: str) -> Report:
    """The report of a demo scene of one set-up in its own units."""
    completed = complete(read_scene(SCENES / f"{name}.toml"))
    return Report(judge(simulate(completed.scene, COARSE)), completed.scene.units, completed)


@cache
def setups_report_of(name: str) -> SetupsReport:
    """The report of a demo scene of several set-ups in its own units."""
    scene = read_scene(SCENES / f"{name}.toml")
    solved = solve_setups(scene) if scene.lacks_setups else None
    scene = scene if solved is None else solved.scene
    planned = plan_setups(scene)
    moulding = mould(scene, [one.setting for one in planned], COARSE)
    return SetupsReport(judge_setups(moulding), planned, scene.units, solved)
