"""The report of each demo scene, cut coarsely and once for all tests that read it."""

from __future__ import annotations

from functools import cache

from demos import SCENES

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.read import read_scene
from sweep.show.say.report import Report
from sweep.tolerance import Fineness

COARSE = Fineness(chord=0.05, section_chord=0.01, sample=1.0, angles=64)


@cache
def report_of(name: str) -> Report:
    """The report of a demo scene in its own units."""
    completed = complete(read_scene(SCENES / f"{name}.toml"))
    return Report(judge(simulate(completed.scene, COARSE)), completed.scene.units, completed)
