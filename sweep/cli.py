"""The command line: parse, call, print, exit. Nothing heavy is imported before a command runs."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sweep.errors import SweepError


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="sweep")
def main() -> None:
    """Simulate a cove cut by passing stock obliquely over a table-saw blade.

    A simulation is not permission to cut: follow the makers' manuals, local rules and qualified instruction.
    """


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write; out/<scene name> unless given.")
@click.option(
    "--units",
    type=click.Choice(["mm", "in", "in-decimal"]),
    default="mm",
    show_default=True,
    help="How lengths are shown: mm, fractions of an inch, or decimal inches.",
)
@click.option("--no-pictures", is_flag=True, help="Leave out passes.png and removal.gif.")
@click.option("--chord", default="0.005 mm", show_default=True, help="Chord tolerance of the blade's rim.")
def run(scene: Path, out: Path | None, units: str, no_pictures: bool, chord: str) -> None:
    """Cut SCENE pass by pass; leave meshes, pictures and numbers in a folder.

    Exit status: 0 all is well; 1 a pass is flagged or the profile is out of tolerance; 2 wrong input.
    """
    try:
        status = _run(scene, out or Path("out") / scene.stem, units, not no_pictures, chord)
    except SweepError as wrong:
        click.echo(f"error: {wrong}".encode("ascii", "replace").decode(), err=True)
        status = 2
    sys.exit(status)


def _run(path: Path, folder: Path, style: str, pictures: bool, chord: str) -> int:
    from rich.console import Console
    from rich.progress import Progress

    from sweep.check.judge import judge
    from sweep.cut.job import simulate
    from sweep.scene.read import read_chord, read_scene
    from sweep.show.folder import swapped_in, write_meshes, write_numbers
    from sweep.show.table import CAUTIONS, print_outcome
    from sweep.units import Units

    units = Units(style)
    scene, tolerance = read_scene(path), read_chord(chord)
    console, aside = Console(soft_wrap=True), Console(stderr=True)
    with Progress(console=aside, transient=True, disable=not aside.is_terminal) as progress:
        cutting = progress.add_task("cutting", total=len(scene.passes.heights))
        job = simulate(scene, tolerance, lambda number: progress.update(cutting, completed=number))
        outcome = judge(job, units)
        without = ""
        with swapped_in(folder) as fresh:
            write_numbers(fresh, outcome)
            write_meshes(fresh, outcome)
            if pictures:
                without = _draw(fresh, outcome, units, progress)
    print_outcome(console, outcome, units)
    console.print(f"Written to {folder}", highlight=False)
    if without:
        console.print(without, highlight=False)
    console.print(CAUTIONS, style="dim", highlight=False, soft_wrap=False)
    return 0 if outcome.is_well else 1


def _draw(folder: Path, outcome, units, progress) -> str:
    """Draw the pictures; where this machine cannot, return the sentence that says what would mend it."""
    from sweep.errors import PictureError
    from sweep.show.drawing import require_drawing

    try:
        require_drawing()
    except PictureError as wrong:
        return str(wrong)
    from sweep.show.movie import write_movie
    from sweep.show.stills import write_stills

    drawing = progress.add_task("drawing", total=1.0)

    def tell(share: float) -> None:
        progress.update(drawing, completed=share)

    write_stills(folder / "passes.png", outcome, units)
    write_movie(folder / "removal.gif", outcome, units, tell)
    return ""
