"""What the commands do with several set-ups over one blank; imported only where a scene has them."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

from rich.progress import Progress

from sweep.apart import apart
from sweep.check.setups import judge_setups
from sweep.cut.moulding import mould
from sweep.plan.complete import plan_setups
from sweep.plan.several.solve import solve_setups
from sweep.run_folder import print_written, write_run
from sweep.scene.model import Scene
from sweep.show.files import meshes_apart
from sweep.show.say.cautions import PARAGRAPH
from sweep.show.say.numbers.answers import fences_answer
from sweep.show.say.numbers.model import written
from sweep.show.say.setups import SetupsReport, report_of_setups
from sweep.show.terminal.choice import print_choice
from sweep.show.terminal.console import aside, terminal
from sweep.show.terminal.setups import NOT_ASKED_FOR, print_fences, print_setups
from sweep.tolerance import Fineness
from sweep.units import Units


def run_setups(
    scene: Scene, source: str, folder: Path, units: Units, fineness: Fineness, paper: str | None, pictures: bool
) -> int:
    """Cut the several set-ups of a scene, found first where it lacks them, and leave their folder.

    `source` is the name of the scene's file. The status is that of a run.
    """
    with apart(meshes_apart.load) as beside:
        solved = solve_setups(scene) if scene.lacks_setups else None
        scene = scene if solved is None else solved.scene
        planned = plan_setups(scene)
        console, progress_on = terminal(), aside()
        with Progress(console=progress_on, transient=True, disable=not progress_on.is_terminal) as progress:
            cutting = progress.add_task("cutting", total=sum(len(one.scene.passes.heights) for one in planned))
            settings = [one.setting for one in planned]
            moulding = mould(scene, settings, fineness, lambda number: progress.update(cutting, completed=number))
            report = SetupsReport(judge_setups(moulding), planned, units, solved)
            drawing = partial(progress.add_task, "drawing", total=None) if pictures else None
            without = write_run(folder, report, source, fineness.chord, paper, beside, drawing)
        if solved is not None:
            print_choice(console, solved, units)
        print_setups(console, report)
        print_written(console, folder, without if pictures else NOT_ASKED_FOR)
        return 0 if report.verdict.is_well else 1


def fence_of_setups(scene: Scene, units: Units, as_json: bool) -> int:
    """Print how the fence is set for each of several set-ups; the status is that of a run."""
    report = report_of_setups(scene, units)
    if as_json:
        sys.stdout.write(written(fences_answer(report)))
    else:
        console = terminal()
        print_fences(console, report)
        console.print(PARAGRAPH, style="dim")
    return 0 if report.verdict.is_well else 1
