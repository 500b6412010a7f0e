"""Which model a table of a scene is read by, where it may be of several kinds."""

from __future__ import annotations

from typing import Any, get_args

from pydantic import BaseModel

from sweep.scene.defaults import tables_in

OF_A_SHOP = {"saws": "saw"}
"""Lists that a shop alone may have, each of whose tables is read as a table of a scene."""


def tables_at(model: type[BaseModel], data: Any, path: str) -> list[type[BaseModel]]:
    """Return the models by which a table is read: one, or all of its kinds where its `do` tells none.

    Parameters
    ----------
    model : type
        Of what `data` holds.
    data : object
        As TOML holds it; what is missing is of its kind all the same.
    path : str
        Keys and numbers, ``finish.2``; empty for the model itself.
    """
    models, found = [model], data
    for part in path.split(".") if path else ():
        if part.isdecimal():
            found = found[int(part)] if isinstance(found, list) and int(part) < len(found) else None
            models = _of_its_kind(models, found)
            continue
        part = OF_A_SHOP.get(part, part)
        fields = [one.model_fields[part] for one in models if part in one.model_fields]
        models = [inner for field in fields for inner in tables_in(field.annotation)]
        found = found.get(part) if isinstance(found, dict) else None
    return models


def _of_its_kind(models: list[type[BaseModel]], table: Any) -> list[type[BaseModel]]:
    do = table.get("do") if isinstance(table, dict) else None
    kinds = [one for one in models if "do" in one.model_fields and do in get_args(one.model_fields["do"].annotation)]
    return kinds or models
