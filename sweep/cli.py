"""The command line: parse, call, print, exit. Nothing heavy is imported before a command runs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from sweep import commands, correcting, keeping, matched, tracing
from sweep.endings import Commands
from sweep.options import InOrder, kept_options, measured_options, picture_options, question_options
from sweep.scene.notation import told_as_written
from sweep.show.say.cautions import SENTENCE


@click.group(
    cls=Commands,
    help=f"Simulate a cove cut by passing stock obliquely over a table-saw blade.\n\n{SENTENCE}",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(package_name="sweep")
def main() -> None:
    """Read the command line."""


_UNITS = click.option(
    "--units",
    type=click.Choice(["mm", "in", "in-decimal"]),
    help="How lengths are shown: mm, fractions of an inch, or decimal inches; as stock.length is written unless given.",
)


_JSON = click.option("--json", "as_json", is_flag=True, help="Print the facts as JSON, and nothing else.")


@main.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@question_options
def new(file: Path | None, **given: str | None) -> int:
    """Write a new scene to FILE, with comments, from a few words about the job.

    What is missing is asked for, one question after the other, where you sit at a terminal; asked with no options at
    all, everything is. FILE must not be there yet. Exit status: 0 it is written, 2 wrong input.
    """
    return commands.new(file, {name: text for name, text in given.items() if text is not None})


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
@_JSON
def solve(scene: Path, units: str | None, write: str | None, as_json: bool) -> int:
    """Work out the set-up and the passes that SCENE leaves out, and how exactly it must be set.

    For a whole moulding it finds the set-ups. Exit status: 0 within tolerance; 1 the closest there is, and it is not,
    or a set-up has too little to ride on; 2 wrong input, or out of reach.
    """
    with told_as_written(scene):
        return commands.solve(scene, units, None if write is None else Path(write or scene), as_json)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write; out/<scene name> unless given.")
@_UNITS
@click.option("--paper", type=click.Choice(["a4", "letter"]), help="Of sheet.pdf; A4 for mm, Letter for inches.")
@click.option("--no-pictures", is_flag=True, help="Leave out the PNGs and removal.gif.")
@click.option("--chord", default="0.005 mm", show_default=True, help="Chord tolerance of the blade's rim.")
def run(scene: Path, out: Path | None, units: str | None, paper: str | None, no_pictures: bool, chord: str) -> int:
    """Cut SCENE pass by pass; leave meshes, pictures, numbers and the shop sheet in a folder.

    Exit status: 0 nothing is flagged; 1 something is, or the profile is out of tolerance; 2 wrong input.
    """
    with told_as_written(scene):
        return commands.run(scene, out or Path("out") / scene.stem, units, paper, not no_pictures, chord)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path), required=False)
@_UNITS
@click.option("--port", type=int, default=0, help="Port on the loopback address; a free one unless given.")
@click.option("--no-browser", is_flag=True, help="Print the address and open no browser.")
def view(scene: Path | None, units: str | None, port: int, no_browser: bool) -> int:
    """Show SCENE on a live page in the browser, to watch, to change and to save; or the jobs of this folder.

    The page is served to this machine only, until Ctrl+C ends it. Exit status: 0, or 2 for wrong input.
    """
    if scene is None or scene.is_dir():
        return commands.view(scene or Path(), units, port, not no_browser)
    with told_as_written(scene):
        return commands.view(scene, units, port, not no_browser)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@_UNITS
def watch(scene: Path, units: str | None) -> int:
    """Show SCENE in a window of its own: the saw and the stock, to be turned, fed and played.

    Exit status: 0 it was closed; 2 wrong input, or no window can be opened here.
    """
    with told_as_written(scene):
        return commands.watch(scene, units)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@_UNITS
@_JSON
def fence(scene: Path, units: str | None, as_json: bool) -> int:
    """Say how the fence of SCENE is set without a protractor, and whether it fits the table.

    Exit status, as of `run`: 0 nothing is flagged; 1 something is, or is out of tolerance; 2 wrong input.
    """
    with told_as_written(scene):
        return commands.fence(scene, units, as_json)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@_UNITS
@_JSON
def cutlist(scene: Path, units: str | None, as_json: bool) -> int:
    """List the pieces, blanks and boards of the order in SCENE, the time at the saw, and what its panel needs.

    Exit status: 0 nothing is flagged; 1 the blanks are too small, or the panel has too little room; 2 wrong input.
    """
    with told_as_written(scene):
        return commands.cutlist(scene, units, as_json)


@main.command(cls=InOrder)
@click.argument("scene", type=click.Path(path_type=Path))
@measured_options
@click.option("--record", type=click.Path(path_type=Path), help="What the phone at the saw wrote down.")
@click.option("--setup", help="Which of several set-ups, by its name or number.")
@_UNITS
@_JSON
@click.pass_context
def correct(
    ctx: click.Context,
    /,
    scene: Path,
    record: Path | None,
    setup: str | None,
    units: str | None,
    as_json: bool,
    **measured: Any,
) -> int:
    """Say how the job of SCENE goes on, from what is measured of the cove between two passes.

    It tells the fence angle, blade height and offset that were really set, what to move and by how much, what the cove
    will be if nothing is moved, and the passes that remain. Options may be repeated, and another --pass begins what was
    measured after that one.

    Exit status: 0 all may be set as it was meant; 1 something is to be moved, or the target is not had if nothing is; 2
    wrong input.
    """
    with told_as_written(scene):
        options = [(name, text) for name, text in ctx.obj if name in measured]
        return correcting.correct(scene, options, record, setup, units, as_json)


@main.command()
@click.argument("scene", type=click.Path(path_type=Path))
@kept_options
def keep(scene: Path, into: Path | None, **told: Any) -> int:
    """Put SCENE by in the shop's record, with everything it was cut by and what was measured on the wood.

    A kept job is a scene of its own: no later change of the shop, or of a file of points, changes it. It is never
    written over another. Exit status: 0 it is kept, 2 wrong input.
    """
    with told_as_written(scene):
        return keeping.keep(scene, into, keeping.KeepOptions(**told))


@main.command()
@click.argument("image", type=click.Path(path_type=Path))
@picture_options
@_UNITS
def trace(image: Path, units: str | None, page: bool, port: int, no_browser: bool, **asked: Any) -> int:
    """Find the outline of the wood in IMAGE, a photograph or scan of the end grain (PNG or JPEG), taken straight on.

    Writes its points with their accuracy, and a picture of the outline, neither over another file.

    Exit status: 0 they are written; 1 they are, and the outline is not clear; 2 wrong input, or no wood stands out.
    """
    with told_as_written({"scale": asked["scale"] or asked["marks"]}):
        told = tracing.TraceOptions(image, **asked)
        return tracing.on_page(told, units, port, not no_browser) if page else tracing.trace(told, units)


@main.command()
@click.argument("points", type=click.Path(path_type=Path))
@click.option("--blade", "scene", type=click.Path(path_type=Path), help="A scene whose [blade] cut it, or [[blades]].")
@click.option("--shop", type=click.Path(path_type=Path), help="Or a shop.toml, each of whose blades is tried.")
@click.option("--among", type=click.Path(path_type=Path), help="A folder of kept jobs: whether one made the piece.")
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
@click.option("--accuracy", help='Standard deviation of a measured point; "0.1 mm" or "4 thou" unless given.')
@_UNITS
@_JSON
def match(
    points: Path,
    scene: Path | None,
    shop: Path | None,
    among: Path | None,
    diameter: str | None,
    kerf: str | None,
    bevel: str | None,
    tilts: tuple[str, str],
    accuracy: str | None,
    units: str | None,
    as_json: bool,
) -> int:
    """Find the set-up that cut an existing moulding, from POINTS measured on it: y,z in mm, one a line.

    Below a first line `y in,z in` they are in inches. Where no blade is given, each one in the shop.toml beside the
    points, or in the current folder, is tried. With --among no set-up is found: it is asked which kept job made the
    piece.

    Exit status: 0 a blade, or a kept job, can have cut it; 1 none can, or the points do not tell every setting; 2 wrong
    input.
    """
    if among is not None:
        with told_as_written({"accuracy": accuracy}):
            return matched.match_among(points, among, accuracy, units, as_json)
    blade = {"diameter": diameter, "kerf": kerf, "bevel": bevel}
    with told_as_written(scene or shop or blade | {"blade": blade, "accuracy": accuracy}):
        blades = matched.Blades(scene, shop, (diameter, kerf, bevel))
        return matched.match(points, blades, tilts, accuracy, units, as_json)


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="Folder to write; out/<folder name> unless given.")
@click.option("--workers", type=click.IntRange(1, 1000), help="Processes; as many as there are cores unless given.")
@click.option("--cluster", help="A running Dask cluster instead: the address of its scheduler, tcp://host:port.")
@click.option("--like", type=click.Path(path_type=Path), help="A scene: stock and all else of profiles without one.")
@click.option("--full", is_flag=True, help="Every blade planned and judged; whole mouldings by several set-ups.")
@click.option("--scenes", is_flag=True, help="Write a scene for each profile too.")
@click.option("--catalogue", is_flag=True, help="Write a catalogue to print too, sections at 1:1.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), help="Of the catalogue; A4 for mm, Letter for inches.")
@_UNITS
@_JSON
def shop(
    folder: Path,
    out: Path | None,
    workers: int | None,
    cluster: str | None,
    like: Path | None,
    full: bool,
    scenes: bool,
    catalogue: bool,
    paper: str | None,
    units: str | None,
    as_json: bool,
) -> int:
    """Find blade, fence angle, height and passes for every profile in FOLDER, with the saw and blades of its shop.toml.

    Profiles are CSV, DXF and SVG files and scenes. A run that was ended goes on where it stopped. Exit status: 0 every
    profile is within tolerance and nothing is flagged; 1 one is not; 2 wrong input.
    """
    from sweep.racked import ShopOptions, run_shop

    asked = ShopOptions(workers, cluster, full, scenes, as_json, units, catalogue, paper, like)
    return run_shop(folder, out or Path("out") / folder.resolve().name, asked)


@main.command()
@click.argument("section", required=False)
@click.option("--table", is_flag=True, help="As the README's table, in Markdown.")
def keys(section: str | None, table: bool) -> int:
    """Say what may be written in a scene, in SECTION or in all of it."""
    return commands.keys(section, table)


@main.group()
def schema() -> None:
    """Print the JSON Schema (2020-12) of what the program reads or writes."""


@schema.command("scene")
def schema_scene() -> int:
    """Print that of a scene, for editors that complete and check it."""
    return commands.schema_scene()


def _add_schema(of: str, what: str) -> None:
    @schema.command(of, help=f"Of {what}.")
    def command() -> int:
        return commands.schema_numbers(of)


_add_schema("result", "result.json")
for _name in ("solve", "fence", "cutlist", "match", "shop"):
    _add_schema(_name, f"what `sweep {_name} --json` prints")
_add_schema("match-blades", "what `sweep match --json` prints where it tries several blades")
_add_schema("match-among", "what `sweep match --among --json` prints")
_add_schema("correct", "what `sweep correct --json` prints")
_add_schema("setups", "what `sweep solve --json` prints for a whole moulding")
