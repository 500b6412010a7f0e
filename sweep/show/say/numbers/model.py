"""What every table of numbers is: a model, so that the schema of a file and what writes it are one thing."""

from __future__ import annotations

import ast
import inspect
import json
from importlib.metadata import version
from itertools import pairwise
from typing import Any

from pydantic import BaseModel, ConfigDict

FORMAT = 2
"""Goes up when a key changes its meaning or goes; a key that is added leaves it as it is."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class Numbers(BaseModel):
    """A table of numbers: every key always there, no other, and nothing that is not finite."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False, defer_build=True)


class Head(Numbers):
    """What every file and answer begins with."""

    format: int
    """Goes up when a key changes its meaning or goes."""
    program_version: str
    title: str


def head_of(title: str) -> dict[str, Any]:
    """Return what every file and answer begins with."""
    return {"format": FORMAT, "program_version": version("sweep"), "title": title}


def written(numbers: Numbers) -> str:
    """Return numbers as JSON text: the same bytes for the same numbers."""
    return json.dumps(numbers.model_dump(), indent=2, allow_nan=False) + "\n"


def schema_of(model: type[Numbers]) -> str:
    """Return the JSON Schema (2020-12) of what a model writes, as JSON text."""
    schema = {"$schema": DIALECT, **model.model_json_schema(mode="serialization")}
    models = {one.__name__: one for one in all_under(Numbers)}
    for name, table in [(model.__name__, schema), *schema.get("$defs", {}).items()]:
        for key, words in _words_of(models[name]).items():
            table["properties"][key] = dict(sorted({**table["properties"][key], "description": words}.items()))
    return json.dumps(schema, indent=2) + "\n"


def all_under(model: type[Numbers]) -> tuple[type[Numbers], ...]:
    """Return all models that are made from one, each once."""
    found = {one: None for below in model.__subclasses__() for one in (below, *all_under(below))}
    return tuple(found)


def _words_of(model: type[Numbers]) -> dict[str, str]:
    """Return what stands below a model's keys in its source.

    The library can take it in with every model, but that is a twentieth of a run, which asks for no schema.
    """
    found = {}
    for one in reversed(model.__mro__[: model.__mro__.index(Numbers)]):
        body = ast.parse(inspect.getsource(one)).body[0]
        assert isinstance(body, ast.ClassDef)
        for key, below in pairwise(body.body):
            match key, below:
                case ast.AnnAssign(target=ast.Name(id=name)), ast.Expr(value=ast.Constant(value=str(words))):
                    found[name] = inspect.cleandoc(words)
    return found
