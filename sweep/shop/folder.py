"""A folder of profiles, read one after another: points, drawings, scenes, and what a shop keeps of its jobs.

    for one in profiles_in(Path("drawer")):     # in the order of their names, none in memory but the one at hand
        match one:
            case Profile(): ...                 # one.line, one.made, one.tables
            case Unread(): ...                  # one.reason: the row says why; nothing ends the reading

Folders within it are read too, but for hidden ones and those that a run wrote. A file of points that a scene names is
that scene's, and stands for no profile of its own. `shop.toml` beside a scene, or else in the folder, says what the
scene does not.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from sweep.check.target import target_line
from sweep.cut.blank import pieces_left
from sweep.cut.settings import Setting, cuts_asked, laid, settled
from sweep.disk.mark import MARK
from sweep.errors import SceneError
from sweep.quantity import in_inches
from sweep.scene.defaults import default_of
from sweep.scene.drawing.read import read_by_one
from sweep.scene.file import read_text
from sweep.scene.keys import Passes
from sweep.scene.model import Scene, SetUpScene, WholeScene
from sweep.scene.places import Tables
from sweep.scene.points import in_inches_by_heading, points_in
from sweep.scene.read import scene_from
from sweep.scene.shop import SHOP, of_the_shop, on_each_saw, shop_in, with_shop
from sweep.scene.target import Target
from sweep.scene.toml import tables_of
from sweep.shape.outline import curves, settings
from sweep.shape.section import rings
from sweep.shop.profile import Array, Profile, Unread, placed
from sweep.shop.row import FAULT
from sweep.tolerance import DRAWN
from sweep.units import LENGTH

KINDS = (".csv", ".dxf", ".svg", ".toml")
"""How names of profiles end."""

CHORDS = 40
"""Chords to each smooth piece of a cut curve that a profile is taken from: within 0.001 mm of one 60 mm wide."""

WIDEST = 2000.0
"""mm. A profile is at most so wide and high: the widest stock there may be."""

CHORD = 0.002
"""mm. How far the chords of what several set-ups leave may lie from the curves."""


def profiles_in(folder: Path) -> Iterator[Profile | Unread]:
    """Yield every profile of a folder in the order of their names, and what cannot be read with its reason.

    Raises
    ------
    SceneError
        When there is no such folder, or its own `shop.toml` cannot be used.
    """
    names = names_in(folder)
    reading = Reading(folder)
    taken = {named for name in names if name.endswith(".toml") for named in reading.files_named_by(name)}
    with read_by_one():
        for name in names:
            if name not in taken:
                yield reading.profile(name)


def names_in(folder: Path) -> tuple[str, ...]:
    """Return the names of all files of a folder that may be profiles, parts joined by ``/``, sorted.

    Raises
    ------
    SceneError
        When it is no folder that can be read.
    """
    if not folder.is_dir():
        raise SceneError(str(folder), "there is no such folder", "give the path of a folder of profiles")
    found: list[str] = []
    for place, within, files in os.walk(folder, onerror=_refuse):
        here = Path(place)
        runs = here != folder and MARK in files
        within[:] = [] if runs else sorted(name for name in within if not name.startswith("."))
        if not runs:
            found += [
                (here / name).relative_to(folder).as_posix()
                for name in files
                if name.lower().endswith(KINDS) and name != SHOP and not name.startswith(".")
            ]
    return tuple(sorted(found))


def _refuse(wrong: OSError) -> None:
    raise SceneError(str(wrong.filename), f"it cannot be read ({wrong.strerror})", "give a folder that you may read")


class Reading:
    """Reads files of one folder; what is said of a whole folder is read once.

    Raises
    ------
    SceneError
        When the folder's own `shop.toml` cannot be used.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.shop = shop_in(folder)
        self._shops: dict[Path, Tables] = {folder: self.shop}

    def profile(self, name: str) -> Profile | Unread:
        """Return the profile in a file, or why there is none."""
        path = self._folder / name
        try:
            return self._of_scene(name, path) if name.lower().endswith(".toml") else self._of_points(name, path)
        except SceneError as wrong:
            field = wrong.field.removeprefix(str(path)).removeprefix(", ")  # the row names the file
            field = f"{field}: " if field else ""
            return Unread(name, f"{field}{wrong.problem.said(wrong.inches)}; {wrong.remedy.said(wrong.inches)}")
        except Exception as wrong:  # one file never ends the reading
            return Unread(name, f"{FAULT} ({type(wrong).__name__})")

    def files_named_by(self, name: str) -> tuple[str, ...]:
        """Return the files in the folder that a scene takes its points from: one or none."""
        path = self._folder / name
        try:
            target = tables_of(read_text(path, "a scene"), path).get("target")
            named = target["file"] if isinstance(target, dict) else None
            return (Path(os.path.normpath(Path(name).parent / named)).as_posix(),) if isinstance(named, str) else ()
        except (SceneError, KeyError, ValueError):  # its own row will say what is wrong with it
            return ()

    def _of_points(self, name: str, path: Path) -> Profile:
        drawn = path.suffix.lower() in (".dxf", ".svg")
        points = points_in(path, whole=True)
        if not points:
            raise SceneError(str(path), "there is no point in it", "write y,z in mm, one point a line")
        for wide in (max(along) - min(along) for along in zip(*points, strict=True)):
            if wide > WIDEST:
                raise SceneError(
                    str(path), f"it is {wide / 1000:.4g} m wide or high", "write or draw it in mm, under 2 m"
                )
        line, whole = placed(points)
        if len(line) < 3:
            raise SceneError(str(path), "fewer than three points make no profile", "give more")
        if np.ptp(line, axis=0).min() <= DRAWN:
            raise SceneError(str(path), "its points lie on one straight line", "give those of a hollow or a moulding")
        inches = writes_inches(self.shop) if drawn else in_inches_by_heading(path)
        return Profile(name, line, whole, inches, tolerance=_usual_tolerance(inches))

    def _of_scene(self, name: str, path: Path) -> Profile:
        data = tables_of(read_text(path, "a scene"), path)
        target = data.get("target")
        if isinstance(target, dict) and isinstance(target.get("file"), str) and "points" not in target:
            points = points_in(path.parent / target["file"], target.get("whole") is True)
            named = {key: value for key, value in target.items() if key != "file"} | {"points": points}
            data = data | {"target": named}
        scene = _on_a_saw(data, self._shop_beside(path))
        made = _made(scene)
        inches = scene.stock.in_inches
        whole, tolerance = bool(scene.setups), _usual_tolerance(inches)
        line = _left(scene) if scene.setups else made
        if scene.target is not None:
            line, whole, tolerance = _wanted(scene), scene.target.whole, scene.target.tolerance
        if line is None:
            raise SceneError("target", "it names no profile", "write [target], [setup] or [[setups]]")
        return Profile(name, line, whole, inches, data, made, tolerance)

    def _shop_beside(self, path: Path) -> Tables:
        if path.parent not in self._shops:
            self._shops[path.parent] = shop_in(path.parent) or self.shop
        return self._shops[path.parent]


def _on_a_saw(data: Tables, shop: Tables) -> Scene:
    """Return a scene with what its shop says, on the first of the saws that can be set so."""
    refused: list[SceneError] = []
    for own in on_each_saw(data, shop):
        try:
            return scene_from(with_shop(own, shop))
        except SceneError as wrong:
            refused.append(of_the_shop(wrong, own, shop))
    raise refused[0]


def _usual_tolerance(inches: bool) -> float:
    return default_of(Target, "tolerance", LENGTH, inches)


def writes_inches(shop: Tables) -> bool:
    """Return whether a shop writes the size of its first blade in inches."""
    blades: list[Any] = shop.get("blades") or [shop.get("blade", {})]
    return isinstance(blades[0], dict) and in_inches(blades[0].get("diameter"))


def _wanted(scene: Scene) -> Array:
    """Return the line of a scene's target; of a plain cove the curve of its blade, or of the first that can cut it."""
    refused: SceneError | None = None
    for blade in scene.choice:
        try:
            return target_line(scene.wanted, blade.tool, scene.tilt if isinstance(scene, SetUpScene) else 0.0)
        except SceneError as wrong:
            refused = refused or wrong
    assert refused is not None  # a scene has a blade
    raise refused


def _made(scene: Scene) -> Array | None:
    """Return the curve that a scene's one set-up cuts; None where it has none, or it does not reach the table."""
    if not isinstance(scene, SetUpScene):
        return None
    setup = scene.setup
    curve: Array = curves(
        scene.tool, settings(setup.fence_angle, setup.blade_tilt, setup.blade_height, setup.offset), CHORDS
    )[0]
    return curve if np.all(np.isfinite(curve)) else None


def _left(scene: Scene) -> Array:
    """Return the outline of what several set-ups leave of the stock, its first point written again at its end."""
    done: Setting | None = None
    for asked in cuts_asked(scene):
        done = laid(scene, asked, done)
        if not isinstance(done.scene, WholeScene):  # a section asks for the last height alone
            done = done.with_passes(Passes.model_construct(heights=(done.scene.setup.blade_height,), stop=(None,)))
        done = settled(done)
    assert done is not None  # the scene has set-ups
    outline = rings(pieces_left(done.whole, done.piece, CHORD)[0])[0]
    return np.vstack([outline, outline[:1]])
