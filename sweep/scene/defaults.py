"""The defaults of a scene that is written in inches: what a shop that measures so would take for the same thing.

A block of 150 mm is one of 6 in there, not of 5 29/32 in. A default that is a claim of the trade stands in the model
twice, in mm and in inches (`key(..., inches=...)`); which of the two holds follows from the stock's length.
"""

from __future__ import annotations

from functools import cache
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sweep.quantity import read_quantity
from sweep.units import Kind


def tables_in(annotation: Any) -> list[type[BaseModel]]:
    """Return the kinds of table that a field of the scene may hold; none for a plain value."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for inner in get_args(annotation) for model in tables_in(inner)]


def in_inches_of(field: FieldInfo) -> str:
    """Return the default of a key in a scene in inches, empty where it is the same."""
    extra = field.json_schema_extra
    return str(extra.get("default_in_inches", "")) if isinstance(extra, dict) else ""


def default_of(model: type[BaseModel], name: str, kind: Kind, inches: bool = False) -> float:
    """Return the default of a quantity, in the program's unit, for who has no such table in the scene."""
    field = model.model_fields[name]
    return read_quantity((inches and in_inches_of(field)) or field.default, kind)


def with_inch_defaults(model: type[BaseModel], table: dict[str, Any]) -> dict[str, Any]:
    """Return a table with the defaults of inches written where nothing is, and so in every table within it.

    Parameters
    ----------
    model : type
        The model of a scene, or of one of its tables. A section that a scene makes of itself gets its defaults though
        the maker wrote none of it.
    table : dict
        As TOML holds it; it is left as it was. What is no table, or of no known kind, is left to be refused.
    """
    defaults, sections, always = _told_by(model)
    filled = defaults | table
    for name, models in sections.items():
        within = filled.get(name, {} if name in always else None)
        if isinstance(within, dict):
            filled[name] = _filled(models, within)
        elif isinstance(within, list):
            filled[name] = [_filled(models, one) if isinstance(one, dict) else one for one in within]
    return filled


def _filled(models: list[type[BaseModel]], table: dict[str, Any]) -> dict[str, Any]:
    if len(models) > 1:
        models = [model for model in models if table.get("do") in get_args(model.model_fields["do"].annotation)]
    return with_inch_defaults(models[0], table) if models else table


@cache
def _told_by(model: type[BaseModel]) -> tuple[dict[str, str], dict[str, list[type[BaseModel]]], set[str]]:
    """Return a table's defaults in inches, the tables that it may hold, and those that are made though not written."""
    fields = model.model_fields
    defaults = {name: default for name, field in fields.items() if (default := in_inches_of(field))}
    sections = {name: models for name, field in fields.items() if (models := tables_in(field.annotation))}
    return defaults, sections, {name for name in sections if fields[name].default_factory is not None}
