"""A scene file, or the points beside it, to a checked `Scene`."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from sweep.errors import SceneError, UnusableError
from sweep.quantity import read_quantity
from sweep.scene.defaults import tables_in
from sweep.scene.documented import documented_keys
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
        raise _in_one_sentence(complaints[0]) from None


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
        found = _in_one_sentence(wrong.errors()[0])
        raise SceneError(path, found.problem, found.remedy) from None


def _in_one_sentence(error: ErrorDetails) -> SceneError:
    """Turn pydantic's first complaint into a sentence of ours."""
    place, known = _place_of(error["loc"])
    kind, limits = error["type"], error.get("ctx", {})
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        place.append(limits["discriminator"].strip("'"))
    index = [part for part in error["loc"] if isinstance(part, int)]
    field = ".".join(place) + (f", number {index[0] + 1}" if index else "")
    written = _shown(error["input"])
    if kind == "value_error":
        wrong = limits["error"]
        return SceneError(field, wrong.problem, wrong.remedy)
    if kind == "extra_forbidden":
        nearest = difflib.get_close_matches(place[-1], known, n=1, cutoff=0.5)
        remedy = f"the nearest known key is {nearest[0]}" if nearest else "known here are " + ", ".join(known)
        return SceneError(field, "there is no such key", remedy)
    if kind in ("missing", "union_tag_not_found"):
        return SceneError(field, "it is missing", "the README's table of keys shows how to write it")
    if kind == "literal_error":
        return SceneError(field, "'{written}' is not known here", f"write {limits['expected']}", written=written)
    if kind == "union_tag_invalid":
        tag = limits["tag"][:40]
        return SceneError(
            field, "'{written}' is not known here", f"write one of {limits['expected_tags']}", written=tag
        )
    if kind == "greater_than_equal":
        return SceneError(field, f"{{written}} is less than {limits['ge']}", "write at least that", written=written)
    if kind == "less_than_equal":
        return SceneError(field, f"{{written}} is more than {limits['le']}", "write at most that", written=written)
    if kind == "finite_number":
        return SceneError(field, "{written} is no number", "write one in figures", written=written)
    if kind in ("too_short", "string_too_short") and not error["input"]:
        optional = not any(key.path == field and key.required for key in documented_keys())
        remedy = f"write at least {limits['min_length']} in it" + (", or leave it out" if optional else "")
        return SceneError(field, "it is empty", remedy)
    if kind == "too_short":
        return SceneError(field, f"there are fewer than {limits['min_length']} in it", "write at least that many")
    if kind == "too_long":
        return SceneError(field, f"there are more than {limits['max_length']} in it", "write at most that many")
    if kind == "string_too_long":
        return SceneError(field, f"it is longer than {limits['max_length']} characters", "write at most that many")
    if kind == "tuple_type" and isinstance(error["input"], dict):
        return SceneError(field, f"[{field}] is one table", f"write [[{field}]] above each, or above the only one")
    if kind == "model_type" and isinstance(error["input"], list):
        return SceneError(field, "it is a list of tables", f"write [{field}] once, with single brackets")
    wanted = {
        "model_type": "a table of its own, [section]",
        "model_attributes_type": "a table of its own, [[section]]",
        "tuple_type": "a list in square brackets",
        "bool_type": "true or false, without quotation marks",
        "int_type": "a whole number",
        "int_from_float": "a whole number",
        "int_parsing": "a whole number",
        "float_type": "a number",
        "float_parsing": "a number",
        "string_type": "text in quotation marks",
    }
    return SceneError(field, "this is not what belongs here", f"write {wanted.get(kind, error['msg'])}")


def _shown(value: object) -> str:
    """Return the beginning of what was written; Python prints no whole number of more than 4300 figures."""
    return "this number" if isinstance(value, int) and abs(value) > 10**40 else str(value)[:40]


def _place_of(location: tuple[str | int, ...]) -> tuple[list[str], list[str]]:
    """Return the keys that lead to a place in a scene, and those that are known where the last of them stands.

    Where tables of several kinds may stand, the location names the kind too, which is no key.
    """
    place: list[str] = []
    known, models = list(Scene.model_fields), list[type[BaseModel]]([Scene])
    for part in location:
        if isinstance(part, int):
            continue
        if len(models) > 1:
            models = [model for model in models if part in get_args(model.model_fields["do"].annotation)]
            continue
        if models:
            fields = models[0].model_fields
            known = list(fields)
            models = tables_in(fields[part].annotation) if part in fields else []
        place.append(part)
    return place, known


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
        raise _in_one_sentence(wrong.errors()[0]) from None
