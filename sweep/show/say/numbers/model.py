"""What every table of numbers is: a model, so that the schema of a file and what writes it are one thing."""

from __future__ import annotations

import json
from importlib.metadata import version
from typing import Any

from pydantic import BaseModel, ConfigDict

FORMAT = 2
"""Goes up when a key changes its meaning or goes; a key that is added leaves it as it is."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class Numbers(BaseModel):
    """A table of numbers: every key always there, no other, and nothing that is not finite."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, strict=True, allow_inf_nan=False, use_attribute_docstrings=True
    )


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
    return json.dumps(schema, indent=2) + "\n"
