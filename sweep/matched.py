"""What `sweep match` does: one blade, or every blade of a shop, held against the points of an offcut."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sweep.scene.keys import Blade
    from sweep.scene.rack import BladeSet
    from sweep.show.say.numbers.model import Numbers
    from sweep.units import Units


@dataclass(frozen=True)
class Blades:
    """Where the blades to try are told; where nothing is, it is the shop beside the points, or here.

    Parameters
    ----------
    scene, shop : Path or None
        A scene with a blade or several, or the file of a shop.
    size : (str or None, str or None, str or None)
        Diameter, kerf and bevel of the tips, as they were written.
    """

    scene: Path | None
    shop: Path | None
    size: tuple[str | None, str | None, str | None]


def match(
    path: Path,
    blades: Blades,
    tilts: tuple[str, str],
    accuracy: str | None,
    style: str | None,
    as_json: bool,
) -> int:
    """Find and print the set-up that cut an offcut; 1 when no blade can have, or something stays untold."""
    from sweep.scene.points import read_points
    from sweep.scene.rack import BladeSet
    from sweep.scene.read import read_option
    from sweep.units import ANGLE, Units

    one_or_rack, written = _blades(blades, path)
    units = Units(style) if style else written
    least, most = (read_option("--tilts", text, ANGLE) for text in tilts)
    measured = (read_points(path), (least, most), _exactly(accuracy, not written.metric))
    if isinstance(one_or_rack, BladeSet):
        return _match_rack(one_or_rack, *measured, units, as_json)

    from sweep.plan.match import match_offcut
    from sweep.show.say.numbers.match import match_answer
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.match import print_match

    found = match_offcut(one_or_rack.tool, *measured)
    if as_json:
        _answer(match_answer(found))
    else:
        console = terminal()
        print_match(console, found, units)
        _caution()
    return 0 if found.by_this_blade and not found.untold else 1


def match_among(path: Path, folder: Path, accuracy: str | None, style: str | None, as_json: bool) -> int:
    """Find and print which jobs of a record made a piece; 1 when none did, and none would serve within tolerance."""
    from sweep.scene.points import in_inches_by_heading, read_points
    from sweep.shop.among import among
    from sweep.shop.folder import profiles_in
    from sweep.show.say.numbers.among import among_answer
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.match import print_among
    from sweep.units import Units

    points, inches = read_points(path), in_inches_by_heading(path)
    others = (one for one in profiles_in(folder) if (folder / one.name).resolve() != path.resolve())
    found = among(others, points, _exactly(accuracy, inches))
    if as_json:
        _answer(among_answer(found))
    else:
        print_among(terminal(), found, Units(style or ("in" if inches else "mm")))
        _caution()
    return 0 if any(one.same or one.within for one in found.compared) else 1


def _exactly(accuracy: str | None, inches: bool) -> float:
    """Return the standard deviation of a point, mm: as it was written, or else the usual one."""
    from sweep.scene.limits import CALLIPERS, CALLIPERS_IN_INCHES
    from sweep.scene.read import read_option
    from sweep.units import LENGTH

    return read_option("--accuracy", accuracy or (CALLIPERS_IN_INCHES if inches else CALLIPERS), LENGTH)


def _blades(told: Blades, points: Path) -> tuple[Blade | BladeSet, Units]:
    """Return the blade that is given, or those that are to be tried, and the units in which they are written."""
    from sweep.errors import SceneError
    from sweep.quantity import in_inches
    from sweep.scene.rack import rack_beside, rack_in, rack_of
    from sweep.scene.read import read_blade, read_scene
    from sweep.units import Units

    given = [told.scene is not None, told.shop is not None, any(told.size)]
    if sum(given) > 1:
        raise SceneError("--blade", "blades are given in two ways", "leave all but one of --blade, --shop, --diameter")
    if told.scene is not None:
        scene = read_scene(told.scene)
        return (rack_of(scene) if len(scene.choice) > 1 else scene.choice[0]), scene.units
    if any(told.size):
        return read_blade(*told.size), Units("in" if in_inches(told.size[0]) else "mm")
    rack = rack_beside(points) if told.shop is None else rack_in(told.shop)
    return rack, rack.units


def _match_rack(
    rack: BladeSet,
    points: list[list[float]],
    tilts: tuple[float, float],
    accuracy: float,
    units: Units,
    as_json: bool,
) -> int:
    """Try every blade of a rack, and print which can have cut the piece."""
    from rich.progress import Progress

    from sweep.plan.rivals import match_blades
    from sweep.show.say.numbers.match import blades_answer
    from sweep.show.terminal.console import aside, terminal
    from sweep.show.terminal.match import print_rivals

    tools, progress_on = [blade.tool for blade in rack.blades], aside()
    with Progress(console=progress_on, transient=True, disable=not progress_on.is_terminal) as progress:
        trying = progress.add_task("trying blades", total=len(tools))
        found = match_blades(tools, points, tilts, accuracy, rack.max_height, lambda: progress.advance(trying))
    if as_json:
        _answer(blades_answer(found, rack.blades))
    else:
        print_rivals(terminal(), found, rack, units)
        _caution()
    return 0 if found.best.can and not found.best.match.untold else 1


def _caution() -> None:
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.terminal.console import terminal

    terminal().print(PARAGRAPH, style="dim")


def _answer(numbers: Numbers) -> None:
    from sweep.show.say.numbers.model import written

    sys.stdout.write(written(numbers))
