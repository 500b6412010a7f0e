"""The text of a kept job: a scene's own, comments and all, with everything in it that it was cut by.

What the shop says is written into it, and points in the place of a file of them: neither a change of the shop nor a
lost file may make another moulding of it.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sweep.disk.file import new_file
from sweep.disk.place import refusing
from sweep.errors import SceneError
from sweep.figure import count, length
from sweep.scene.model import Scene
from sweep.scene.places import Tables
from sweep.scene.points import points_in
from sweep.scene.rewrite import rewritten
from sweep.scene.shop import SHOP, shop_in, with_shop
from sweep.scene.toml import tables_of

RECORD = "record"
"""The folder of kept jobs, beside the scenes and their shop."""

MOST_ALIKE = 1000
"""Jobs that are kept of one scene on one day."""


def kept_text(text: str, path: Path, kept: Tables, measured: list[Tables]) -> str:
    """Return the text of a kept job.

    Parameters
    ----------
    text : str
        The scene's, with its set-up and passes.
    path : Path
        Its file, beside which its shop and its points are.
    kept : dict
        `[kept]` as it is to be written; what an earlier one says of the same stays where this says nothing.
    measured : list of dict
        `[[measured]]` to be written below those that are there.

    Raises
    ------
    SceneError
    """
    tables = with_shop(tables_of(text, path), shop_in(path.parent))
    target = tables.get("target")
    if isinstance(target, dict) and "file" in target:
        points = points_in(path.parent / target["file"], target.get("whole") is True)
        told = {key: value for key, value in target.items() if key != "file"}
        tables = tables | {"target": told | {"points": [[round(y, 6), round(z, 6)] for y, z in points]}}
    tables["kept"] = tables.get("kept", {}) | kept
    times = [*tables.get("measured", []), *measured]
    if times:
        tables["measured"] = times
    return rewritten(text, tables)


def record_beside(path: Path) -> Path:
    """Return the record beside a scene; a kept job's own is the one that it stands in."""
    return path.parent if path.parent.name == RECORD else path.parent / RECORD


def fit_record(into: Path) -> None:
    """Refuse a folder that kept jobs are not to stand in.

    Raises
    ------
    SceneError
    """
    if (into / SHOP).exists():
        raise SceneError(
            "--into", f"there is a {SHOP} in {into}, which would have a say in kept jobs", "give a folder without one"
        )


def put_by(into: Path, stem: str, text: str) -> Path:
    """Write a kept job into the record under a name that is not taken, and return its path.

    Parameters
    ----------
    into : Path
        The folder; it is made where it is not there.
    stem : str
        The name without its ending; a number is added where it is taken.
    text : str

    Raises
    ------
    SceneError
        When it cannot be written. Nothing is then left.
    """
    is_new = not into.exists()
    with refusing("--into", into):
        into.mkdir(exist_ok=True)
    for number in range(1, MOST_ALIKE + 1):
        path = into / f"{stem}{'' if number == 1 else f'-{number}'}.toml"
        if path.exists():
            continue
        try:
            new_file(path, text.encode("utf-8"), "--into")
        except SceneError:
            if path.exists():  # somebody else's, come in between
                continue
            if is_new:
                with refusing("--into", into):
                    into.rmdir()
            raise
        return path
    raise SceneError("--into", f"{MOST_ALIKE} jobs of this name are kept there", "give another folder")


def fit_measured(scene: Scene) -> None:
    """Refuse what cannot have been measured of a job: more than its stock, a set-up or a pass that it has not.

    Raises
    ------
    SceneError
    """
    stock, setups = scene.stock, scene.setups
    wide, high = stock.width, stock.thickness
    if setups:  # it may lie on any of its faces
        wide = high = max(wide, high)
    for one in scene.measured:
        passes = setups[one.setup - 1].passes_written if setups and one.setup <= len(setups) else scene.passes
        for name, word, value, limit in (
            ("setup", "set-up", one.setup, max(1, len(setups))),
            ("pass", "pass", one.after_pass, None if passes is None else len(passes.heights)),
        ):
            if value is not None and limit is not None and value > limit:
                raise SceneError(
                    f"--{name}",
                    f"there is no {word} {{value}}",
                    "write 1 to {limit}",
                    value=count(value),
                    limit=count(limit),
                )
        for name, size, most in (("width", one.width, wide), ("depth", one.depth, high), ("flat", one.flat, wide)):
            if size is not None and size >= most:
                raise SceneError(
                    f"--{name}",
                    "{value} cannot be: the stock is {limit} there",
                    "measure it again",
                    value=length(size),
                    limit=length(most),
                )


def measured_now(given: dict[str, Any]) -> list[Tables]:
    """Return `[[measured]]` with what was measured at one time: one table, or none where nothing was."""
    told = {name: value for name, value in given.items() if value is not None}
    return [told] if told else []
