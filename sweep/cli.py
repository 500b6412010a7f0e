"""The command line: parse, call, print, exit. Nothing heavy is imported before a command runs."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import click

from sweep.errors import SweepError


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="sweep")
def main() -> None:
    """Simulate a cove cut by passing stock obliquely over a table-saw blade.

    A simulation is not permission to cut: follow the makers' manuals, local rules and qualified instruction.
    """


_UNITS = click.option(
    "--units",
    type=click.Choice(["mm", "in", "in-decimal"]),
    default="mm",
    show_default=True,
    help="How lengths are shown: mm, fractions of an inch, or decimal inches.",
)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write; out/<scene name> unless given.")
@_UNITS
@click.option("--no-pictures", is_flag=True, help="Leave out passes.png and removal.gif.")
@click.option("--chord", default="0.005 mm", show_default=True, help="Chord tolerance of the blade's rim.")
def run(scene: Path, out: Path | None, units: str, no_pictures: bool, chord: str) -> None:
    """Cut SCENE pass by pass; leave meshes, pictures and numbers in a folder.

    Exit status: 0 all is well; 1 a pass is flagged or the profile is out of tolerance; 2 wrong input.
    """
    _exit(lambda: _run(scene, out or Path("out") / scene.stem, units, not no_pictures, chord))


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@_UNITS
@click.option(
    "--write",
    is_flag=False,
    flag_value="",
    default=None,
    metavar="[FILE]",
    help="Write the completed scene to FILE, or over SCENE when no file is named; comments and order are kept.",
)
def solve(scene: Path, units: str, write: str | None) -> None:
    """Work out the set-up and the passes that SCENE leaves out, and how exactly it must be set.

    Exit status: 0 within tolerance; 1 the closest there is, and it is not; 2 wrong input, or out of reach.
    """
    _exit(lambda: _solve(scene, units, None if write is None else Path(write or scene)))


@main.command()
@click.argument("points", type=click.Path(path_type=Path))
@click.option("--blade", "scene", type=click.Path(path_type=Path), help="A scene whose [blade] cut it.")
@click.option("--diameter", help='Or the blade itself: "254 mm".')
@click.option("--kerf", help='Width of its tips along the arbor: "3.2 mm".')
@click.option("--bevel", help='Of alternate bevel tips: "15 deg".')
@click.option(
    "--tilts",
    nargs=2,
    default=("-45 deg", "45 deg"),
    show_default=True,
    help="Least and most tilt; twice the same if known.",
)
@click.option("--accuracy", default="0.1 mm", show_default=True, help="Standard deviation of a measured point.")
@_UNITS
def match(
    points: Path,
    scene: Path | None,
    diameter: str | None,
    kerf: str | None,
    bevel: str | None,
    tilts: tuple[str, str],
    accuracy: str,
    units: str,
) -> None:
    """Find the set-up that cut an existing moulding, from POINTS measured on it: y,z in mm, one a line.

    Exit status: 0 this blade can have cut it; 1 it cannot, or the points do not tell every setting; 2 wrong input.
    """
    _exit(lambda: _match(points, scene, (diameter, kerf, bevel), tilts, accuracy, units))


def _exit(command: Callable[[], int]) -> None:
    """Run a command and end the process with its status; an error of ours becomes one sentence and status 2."""
    try:
        status = command()
    except SweepError as wrong:
        click.echo(f"error: {wrong}".encode("ascii", "replace").decode(), err=True)
        status = 2
    sys.exit(status)


def _run(path: Path, folder: Path, style: str, pictures: bool, chord: str) -> int:
    from rich.console import Console
    from rich.progress import Progress

    from sweep.check.judge import judge
    from sweep.cut.job import simulate
    from sweep.plan.complete import complete
    from sweep.scene.read import read_chord, read_scene
    from sweep.show.folder import swapped_in, write_meshes, write_numbers
    from sweep.show.plans import print_candidates, print_plan
    from sweep.show.table import CAUTIONS, print_outcome
    from sweep.tolerance import Fineness
    from sweep.units import Units

    units = Units(style)
    fineness = Fineness(chord=read_chord(chord))
    completed = complete(read_scene(path))
    scene = completed.scene
    console, aside = Console(soft_wrap=True), Console(stderr=True)
    with Progress(console=aside, transient=True, disable=not aside.is_terminal) as progress:
        cutting = progress.add_task("cutting", total=len(scene.passes.heights))
        job = simulate(scene, fineness, lambda number: progress.update(cutting, completed=number))
        outcome = judge(job, units)
        without = ""
        with swapped_in(folder) as fresh:
            write_numbers(fresh, outcome)
            write_meshes(fresh, outcome)
            if pictures:
                without = _draw(fresh, outcome, units, progress)
    if completed.candidates:
        print_candidates(console, scene, completed.candidates, units)
    if completed.plan:
        print_plan(console, completed.plan, units)
    print_outcome(console, outcome, units)
    console.print(f"Written to {folder}", highlight=False)
    if without:
        console.print(without, highlight=False)
    console.print(CAUTIONS, style="dim", highlight=False, soft_wrap=False)
    return 0 if outcome.is_well else 1


def _solve(path: Path, style: str, write: Path | None) -> int:
    from rich.console import Console

    from sweep.cut.passes import pass_sections
    from sweep.plan.accuracy import care_needed
    from sweep.plan.complete import complete
    from sweep.plan.setup import check_candidate
    from sweep.scene.read import read_scene
    from sweep.scene.write import write_completed
    from sweep.show.plans import print_candidates, print_care, print_dense_check, print_plan
    from sweep.show.table import CAUTIONS
    from sweep.units import Units

    units, console = Units(style), Console(soft_wrap=True)
    completed = complete(read_scene(path))
    scene = completed.scene
    pass_sections(scene, chord=0.1)  # says so when the blade would come out through the top
    if write is not None:
        write_completed(path, write, scene, units)
    if completed.candidates:
        print_candidates(console, scene, completed.candidates, units)
        print_dense_check(console, check_candidate(scene, completed.candidates[0]), completed.candidates[0], units)
    if completed.plan:
        print_plan(console, completed.plan, units)
    if scene.target is not None:
        print_care(console, care_needed(scene), scene, units)
    if write is not None:
        console.print(f"Written to {write}", highlight=False)
    console.print(CAUTIONS, style="dim", highlight=False, soft_wrap=False)
    short = completed.candidates and completed.candidates[0].stopped_by
    return 1 if short else 0


def _match(path: Path, scene: Path | None, given: tuple, tilts: tuple[str, str], accuracy: str, style: str) -> int:
    from rich.console import Console

    from sweep.plan.match import match_offcut
    from sweep.scene.read import read_blade, read_option, read_points, read_scene
    from sweep.show.matches import print_match
    from sweep.show.table import CAUTIONS
    from sweep.units import ANGLE, LENGTH, Units

    blade = read_blade(*given) if scene is None else read_scene(scene).choice[0]
    least, most = (read_option("--tilts", text, ANGLE) for text in tilts)
    found = match_offcut(blade.tool, read_points(path), (least, most), read_option("--accuracy", accuracy, LENGTH))
    console = Console(soft_wrap=True)
    print_match(console, found, Units(style))
    console.print(CAUTIONS, style="dim", highlight=False, soft_wrap=False)
    return 0 if found.by_this_blade and not found.untold else 1


def _draw(folder: Path, outcome, units, progress) -> str:
    """Draw the pictures; where this machine cannot draw solids, return the sentence that says what would mend it."""
    from sweep.errors import PictureError
    from sweep.show.drawing import require_drawing
    from sweep.show.load_plot import write_loads
    from sweep.show.surface_plot import write_surface

    write_loads(folder / "load.png", outcome, units)
    write_surface(folder / "surface.png", outcome, units)
    try:
        require_drawing()
    except PictureError as wrong:
        return str(wrong)
    from sweep.show.movie import write_movie
    from sweep.show.stills import write_stills

    drawing = progress.add_task("drawing", total=1.0)
    write_stills(folder / "passes.png", outcome, units)
    write_movie(folder / "removal.gif", outcome, units, lambda share: progress.update(drawing, completed=share))
    return ""
