"""Edits that a page makes in a scene: each is laid over what the last one left, and nothing else is touched."""

from __future__ import annotations

import copy
import math
from dataclasses import replace
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, JsonValue

from sweep.errors import SceneError
from sweep.scene import pass_edits, table_edits
from sweep.scene.documented import Key, keys_of
from sweep.scene.model import Scene
from sweep.scene.notation import is_in_inches
from sweep.scene.places import Tables, put, value_at
from sweep.scene.shop import UNITS, with_shop
from sweep.scene.tables import tables_at
from sweep.scene.typed import as_typed, from_typed

Path = Annotated[str, Field(max_length=100)]


def _as_toml_holds_it(value: JsonValue) -> JsonValue:
    """Return a value, or None for none at all; raise ValueError for nothing inside it, and for what is no number."""
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for one in inner:
        if one is None:
            raise ValueError("nothing stands in it")
        _as_toml_holds_it(one)
    if isinstance(value, float) and not math.isfinite(value):
        raise ValueError("it is no finite number")
    if isinstance(value, int) and abs(value) >= 2**63:
        raise ValueError("it is too large a number")
    return value


Value = Annotated[JsonValue, AfterValidator(_as_toml_holds_it)]


class Edit(BaseModel):
    """One thing that a maker does to a scene.

    Parameters
    ----------
    path : str
        Of a key, or of a table or a pass in a list.
    do : str
        ``type``: text into a field. ``set``: a value as TOML holds it. ``add``: one more table at the end of a list, or
        a pass before the one that is named. ``copy``, ``remove``, ``up``, ``down``: one table or pass. ``even``: even
        rises. ``more``, ``fewer``: one pass, evenly. ``alone``: of several set-ups this one is cut, and no other.
    value : object
        The text or the value; which kind of table is added.
    over : list
        Empty, or the one value that must stand there: another hand may have changed it since.
    """

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")

    path: Path
    do: Literal["type", "set", "add", "copy", "remove", "up", "down", "even", "more", "fewer", "alone"] = "type"
    value: Value = None
    over: Annotated[list[Value], Field(max_length=1)] = []


def edited(data: Tables, edit: Edit, shop: Tables | None = None) -> Tables:
    """Return a scene's tables after an edit; those given are left as they were.

    Heights go by the step that the scene asks for, or its `shop`.

    Raises
    ------
    SceneError
        For a place that a scene has not, and for a file that does not lie beside the scene. Values are checked when the
        scene is read.
    """
    if edit.over and value_at(data, edit.path) not in (edit.over[0], edit.value):
        raise _saved_elsewhere(data, edit)
    data = copy.deepcopy(data)
    inches = is_in_inches(data)
    if edit.do in ("type", "set"):
        value = edit.value
        pass_edits.tell_feeds(data, edit.path)
        if edit.do == "type" and edit.path in UNITS:  # of a shop
            value = edit.value or None
        elif edit.do == "type":
            value = from_typed(key_at(data, edit.path), str(value or ""), value_at(data, edit.path), inches)
        put(data, edit.path, value)
        table_edits.follow(data, edit.path, inches)
    elif "heights" in edit.path.split("."):
        step = pass_edits.step_in(with_shop(data, shop or {}))
        pass_edits.change(_passes(data, edit.path), edit.path.rpartition("heights")[2], edit.do, step)
    else:
        table_edits.change(data, edit.path, edit.do, str(edit.value or ""), inches)
    pass_edits.follow(data, edit.path)
    return data


def key_at(data: Tables, path: str) -> Key:
    """Return what is told about the key at a path; about a member of a list as if it stood alone.

    Raises
    ------
    SceneError
        Where a scene has none.
    """
    table, _, name = path.rpartition(".")
    in_list = name.isdecimal()
    if in_list:
        table, _, name = table.rpartition(".")
    section = next((part for part in reversed(table.split(".")) if not part.isdecimal()), "")
    for model in tables_at(Scene, data, table):
        for key in keys_of(model, section):
            if key.name == name:
                return replace(key, kind=key.measures.name if key.measures else "text") if in_list else key
    raise SceneError(path, "there is no such key", "reload the page")


def _saved_elsewhere(data: Tables, edit: Edit) -> SceneError:
    values = (value_at(data, edit.path), edit.value)
    theirs, mine = (as_typed(value).replace("\n", "; ") or "nothing" for value in values)
    return SceneError(
        edit.path,
        "the file says {theirs} now, saved elsewhere",
        "take {mine}, as you had it, or leave it",
        theirs=theirs,
        mine=mine,
    )


def _passes(data: Tables, path: str) -> Tables:
    passes = value_at(data, path.partition(".heights")[0])
    if not isinstance(passes, dict) or not isinstance(passes.get("heights"), list):
        raise SceneError(path, "there are no passes", "reload the page")
    return passes
