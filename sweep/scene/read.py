"""A scene file, or the points beside it, to a checked `Scene`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import BaseModel, TypeAdapter, ValidationError

from sweep.errors import SceneError, UnusableError
from sweep.quantity import read_quantity
from sweep.scene.complaint import in_one_sentence
from sweep.scene.defaults import tables_in
from sweep.scene.file import read_text
from sweep.scene.keys import Blade
from sweep.scene.model import Scene
from sweep.scene.points import points_in
from sweep.scene.shop import of_the_shop, shop_in, with_shop
from sweep.scene.toml import tables_of
from sweep.units import LENGTH, Kind


def read_scene(path: str | Path) -> Scene:
    """Read and check a scene.

    Parameters
    ----------
    path : str or Path
        A TOML file; a points file that it names is looked for beside it.

    Returns
    -------
    Scene

    Raises
    ------
    SceneError
        Naming the first field that cannot be used, and what to write instead.
    """
    path = Path(path)
    return scene_of(read_text(path, "a scene"), path)


def scene_of(text: str, path: Path) -> Scene:
    """Read and check a scene's text; `path` is named in errors, and what it names is looked for beside it.

    Raises
    ------
    SceneError
    """
    return scene_beside(tables_of(text, path), path.parent)


def scene_beside(data: dict[str, Any], folder: Path) -> Scene:
    """Check a scene given as plain tables, what they do not say taken from the shop in its folder.

    Raises
    ------
    SceneError
    """
    shop = shop_in(folder)
    try:
        return scene_from(with_shop(data, shop), folder)
    except SceneError as wrong:
        raise of_the_shop(wrong, data, shop) from None


def scene_from(data: dict[str, Any], beside: Path = Path()) -> Scene:
    """Check a scene given as plain tables, as TOML holds them.

    Parameters
    ----------
    data : dict
    beside : Path
        The folder in which `target.file` is looked for.

    Raises
    ------
    SceneError
    """
    target = data.get("target")
    if isinstance(target, dict) and isinstance(target.get("file"), str):
        if "points" in target:
            raise SceneError("target.file", "there are points in the scene as well", "leave one of the two out")
        data = data | {"target": target | {"points": points_in(beside / target["file"], target.get("whole") is True)}}
    try:
        return Scene.model_validate(data).checked()
    except ValidationError as wrong:
        # a misspelt key explains the missing one beside it
        complaints = sorted(wrong.errors(), key=lambda error: error["type"] != "extra_forbidden")
        raise in_one_sentence(complaints[0]) from None


def read_key(path: str, value: object) -> object:
    """Return one value of a scene as reading the scene would, on its own.

    Parameters
    ----------
    path : str
        A key in a section that holds tables of one kind only: ``stock.length``.
    value : object
        As TOML holds it.

    Raises
    ------
    SceneError
    """
    model: type[BaseModel] = Scene
    section, _, name = path.rpartition(".")
    if section:
        model = tables_in(Scene.model_fields[section].annotation)[0]
    field = model.model_fields[name]
    try:
        return TypeAdapter(field.rebuild_annotation()).validate_python(value)
    except ValidationError as wrong:
        found = in_one_sentence(wrong.errors()[0])
        raise SceneError(path, found.problem, found.remedy) from None


def read_chord(text: str) -> float:
    """Return the chord tolerance asked for on the command line, mm.

    Raises
    ------
    SceneError
        When it is not between 0.0001 and 1 mm.
    """
    chord = read_option("--chord", text, LENGTH)
    if not 1e-4 <= chord <= 1:
        raise SceneError("--chord", f"'{text}' is not between 0.0001 mm and 1 mm", 'write, for example, "0.005 mm"')
    return chord


def read_option(name: str, text: str, kind: Kind) -> float:
    """Return a quantity written on the command line, in the program's unit.

    Raises
    ------
    SceneError
        Naming the option.
    """
    try:
        return read_quantity(text, kind)
    except UnusableError as wrong:
        raise SceneError(name, wrong.problem, wrong.remedy) from None


def read_blade(diameter: str | None, kerf: str | None, bevel: str | None) -> Blade:
    """Return a blade written on the command line.

    Raises
    ------
    SceneError
        When one of its values cannot be used, or is missing.
    """
    given = {"teeth": 1, "diameter": diameter, "kerf": kerf, "bevel": bevel}
    given = {key: text for key, text in given.items() if text is not None}
    if bevel is not None:
        given["tip"] = "alternate bevel"
    try:
        return Blade.model_validate(given)
    except ValidationError as wrong:
        raise in_one_sentence(wrong.errors()[0]) from None
