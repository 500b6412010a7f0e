"""What each command does, and its exit status. Whatever is heavy is imported by the command that needs it."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from sweep.words import visible

if TYPE_CHECKING:
    from sweep.show.say.numbers.model import Numbers


def run(path: Path, folder: Path, style: str | None, paper: str | None, pictures: bool, chord: str) -> int:
    """Cut a scene and leave its folder; 0 nothing is flagged, 1 something is, or is out of tolerance."""
    from sweep.disk.folder import fit_folder
    from sweep.scene.read import read_chord, read_scene
    from sweep.tolerance import Fineness
    from sweep.units import Units

    fineness = Fineness(chord=read_chord(chord))
    scene = read_scene(path)
    fit_folder(folder)  # says at once when nothing may be written there

    from sweep.apart import apart
    from sweep.show.files import meshes_apart

    if scene.setups or scene.lacks_setups:
        from sweep.run_setups import run_setups

        units = Units(style) if style else scene.units
        return run_setups(scene, path.name, folder, units, fineness, paper, pictures)
    with apart(meshes_apart.load) as beside:
        # only now what cuts and shows: a slip is told without waiting for it, and the mesh library is loading meanwhile
        from rich.progress import Progress

        from sweep.check.judge import judge
        from sweep.cut.job import simulate
        from sweep.plan.complete import complete
        from sweep.run_folder import print_written, write_run
        from sweep.show.say.report import Report
        from sweep.show.terminal.console import aside, terminal
        from sweep.show.terminal.run import NOT_ASKED_FOR, print_run

        completed = complete(scene)
        scene = completed.scene
        units = Units(style) if style else scene.units
        console, progress_on = terminal(), aside()
        with Progress(console=progress_on, transient=True, disable=not progress_on.is_terminal) as progress:
            cutting = progress.add_task("cutting", total=len(scene.passes.heights))
            job = simulate(scene, fineness, lambda number: progress.update(cutting, completed=number))
            outcome = judge(job)
            report = Report(outcome, units, completed)
            drawing = partial(progress.add_task, "drawing", total=None) if pictures else None
            without = write_run(folder, report, path.name, fineness.chord, paper, beside, drawing)
        print_run(console, report)
        print_written(console, folder, without if pictures else NOT_ASKED_FOR)
        return 0 if outcome.is_well else 1


def solve(path: Path, style: str | None, write: Path | None, as_json: bool) -> int:
    """Work out and print what a scene leaves out, if anything; 1 when the closest there is stays out of tolerance."""
    from sweep.cut.passes import pass_sections
    from sweep.disk.file import fit_file
    from sweep.plan.accuracy import care_needed
    from sweep.plan.complete import complete
    from sweep.plan.setup import check_candidate
    from sweep.scene.read import read_scene
    from sweep.scene.write import write_completed
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.say.numbers.answers import solve_answer
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.solve import print_solved
    from sweep.units import Units

    console = terminal()
    scene = read_scene(path)
    if write is not None:
        fit_file(write, "--write")  # says at once when it may not be written
    if scene.lacks_setups:
        from sweep.solve_setups import solve_moulding

        return solve_moulding(scene, path, Units(style) if style else scene.units, write, as_json)
    completed = complete(scene)
    scene = completed.scene
    units = Units(style) if style else scene.units
    pass_sections(scene, chord=0.1)  # says so when the blade would come out through the top
    checked = check_candidate(scene, completed.candidates[0]) if completed.candidates else None
    care = None if scene.target is None or scene.target.whole else care_needed(scene)
    if write is not None:
        write_completed(path, write, scene, units)
    short = completed.candidates and completed.candidates[0].stopped_by
    if as_json:
        _answer(solve_answer(completed, checked, care, units))
        return 1 if short else 0
    print_solved(console, completed, units, checked, care)
    if write is not None:
        console.print(f"Written to {visible(str(write))}", soft_wrap=True)
    console.print(PARAGRAPH, style="dim")
    return 1 if short else 0


def fence(path: Path, style: str | None, as_json: bool) -> int:
    """Print how the fence is set; 1 when something is flagged or out of tolerance, as for a run."""
    from sweep.check.judge import judge
    from sweep.cut.job import simulate
    from sweep.plan.complete import complete
    from sweep.scene.read import read_scene
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.say.numbers.answers import fence_answer
    from sweep.show.say.report import Report
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.fence import print_fence
    from sweep.units import Units

    scene = read_scene(path)
    if scene.setups or scene.lacks_setups:
        from sweep.run_setups import fence_of_setups

        return fence_of_setups(scene, Units(style) if style else scene.units, as_json)
    outcome = judge(simulate(complete(scene).scene))
    report = Report(outcome, Units(style) if style else outcome.job.scene.units)
    if as_json:
        _answer(fence_answer(report))
    else:
        console = terminal()
        print_fence(console, report)
        console.print(PARAGRAPH, style="dim")
    return 0 if outcome.is_well else 1


def view(path: Path, style: str | None, port: int, browser: bool) -> int:
    """Serve the live page of a scene, or of a folder's jobs, until it is interrupted."""
    import webbrowser

    from sweep.live.server import address, bound, serve
    from sweep.show.terminal.console import terminal
    from sweep.units import Units

    place = bound(port)

    def ready() -> None:
        shown = f"{visible(path.name)} is" if path.is_file() else "The jobs of this folder are"
        terminal().print(f"{shown} shown at {address(place)} (Ctrl+C ends it)")
        if browser:
            webbrowser.open(address(place))

    serve(path, Units(style) if style else None, place, ready)
    return 0


def watch(path: Path, style: str | None) -> int:
    """Open the window until it is closed."""
    from sweep.check.judge import judge
    from sweep.cut.job import simulate
    from sweep.plan.complete import complete
    from sweep.scene.read import read_scene
    from sweep.show.say.report import Report
    from sweep.show.say.setups import report_of_setups
    from sweep.show.vtk.can_draw import require_window
    from sweep.units import Units

    scene = read_scene(path)
    units = Units(style) if style else scene.units
    several = scene.setups or scene.lacks_setups
    report = report_of_setups(scene, units) if several else Report(judge(simulate(complete(scene).scene)), units)
    require_window()
    from sweep.show.window.desk_window import DeskWindow

    DeskWindow(report).open()
    return 0


def cutlist(path: Path, style: str | None, as_json: bool) -> int:
    """Print the cut list, the time and the panel; 1 when something is flagged."""
    from sweep.check.panel import check_panel, flags_of_panel
    from sweep.check.stock import small_stock
    from sweep.plan.complete import complete_and_cut
    from sweep.plan.cutlist import cut_list
    from sweep.scene.order import not_one_order
    from sweep.scene.read import read_scene
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.say.numbers.answers import cut_list_answer
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.cutlist import print_cut_list
    from sweep.units import Units

    made = complete_and_cut(read_scene(path))
    scene = made.scene
    units = Units(style) if style else scene.units
    cut, panel = cut_list(made), check_panel(scene)
    if cut is None:
        raise not_one_order("nothing is ordered")
    flags = [*small_stock(made.scenes[0]), *flags_of_panel(scene)]
    if as_json:
        _answer(cut_list_answer(scene, cut, panel, flags, units))
    else:
        console = terminal()
        print_cut_list(console, scene, cut, panel, flags, units)
        console.print(PARAGRAPH, style="dim")
    return 1 if flags else 0


def new(file: Path | None, given: dict[str, str]) -> int:
    """Write a new scene from what is given, asking for what is missing where a user sits at a terminal."""
    from sweep.disk.file import new_file
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.new_scene import new_scene

    place, text = new_scene(file, given, asking=sys.stdin.isatty())
    new_file(place, text.encode("utf-8"), "FILE")
    console = terminal()
    console.print(f"Written to {visible(str(place))}", soft_wrap=True)
    console.print(PARAGRAPH, style="dim")
    return 0


def keys(section: str | None, table: bool) -> int:
    """Print the keys of a scene."""
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.keys import keys_table, keys_text

    terminal().print(keys_table() if table else keys_text(section), end="")
    return 0


def schema_scene() -> int:
    """Print the schema of a scene."""
    import json

    from sweep.scene.schema import scene_schema
    from sweep.show.terminal.console import terminal

    terminal().print(json.dumps(scene_schema(), indent=2, ensure_ascii=True))
    return 0


def schema_numbers(of: str) -> int:
    """Print the JSON Schema of what a command writes in numbers."""
    from sweep.show.say.numbers.among import AmongAnswer
    from sweep.show.say.numbers.answers import CutListAnswer, FenceAnswer, SolveAnswer
    from sweep.show.say.numbers.choice import SetupsAnswer
    from sweep.show.say.numbers.correct import CorrectAnswer
    from sweep.show.say.numbers.match import BladesAnswer, MatchAnswer
    from sweep.show.say.numbers.model import schema_of
    from sweep.show.say.numbers.result import Result
    from sweep.show.say.numbers.shop import ShopAnswer

    written: dict[str, type[Numbers]] = {
        "result": Result,
        "solve": SolveAnswer,
        "setups": SetupsAnswer,
        "fence": FenceAnswer,
        "cutlist": CutListAnswer,
        "correct": CorrectAnswer,
        "match": MatchAnswer,
        "match-blades": BladesAnswer,
        "match-among": AmongAnswer,
        "shop": ShopAnswer,
    }
    sys.stdout.write(schema_of(written[of]))
    return 0


def _answer(numbers: Numbers) -> None:
    """Print an answer in numbers, and nothing else, on standard output."""
    from sweep.show.say.numbers.model import written

    sys.stdout.write(written(numbers))
