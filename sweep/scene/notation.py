"""Whether a maker wrote something in inches: the notation in which they are answered about it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sweep.errors import SceneError, SweepError
from sweep.quantity import in_inches, read_quantity
from sweep.scene.file import read_text
from sweep.units import AREA, DENSITY, FORCE, LENGTH, POWER, SPEED

_OF_INCHES = re.compile(r"\d\s*(?:in|inch|inches|ft|foot|feet|thou|fpm|hp|lb|lbf|[\"'])(?![a-z])")
"""A number and a unit of whoever thinks in inches, or what a compound unit of theirs begins with."""


def text_in_inches(text: object) -> bool | None:
    """Return whether a quantity is written in inches, feet or what goes with them; None where it does not tell.

    Examples
    --------
    >>> text_in_inches("3 1/2 in"), text_in_inches("12 ft/min"), text_in_inches("16 mm"), text_in_inches("28 deg")
    (True, True, False, None)
    """
    if in_inches(text):
        return True
    for kind in (LENGTH, SPEED, POWER, FORCE, DENSITY, AREA):
        try:
            read_quantity(text, kind)
        except ValueError:
            continue
        return _OF_INCHES.search(str(text).casefold()) is not None
    return None


def field_in_inches(scene: dict[str, Any], field: str) -> bool:
    """Return whether a field of a scene, or else its stock's length, is written in inches.

    Parameters
    ----------
    scene : dict
        As TOML holds it.
    field : str
        As a SceneError names it: ``setup.blade_height``, ``finish, number 2``. Where it is a table or a list, what is
        first in it and tells.
    """
    for place in (field, "stock.length"):
        told = [known for text in _texts(_at(scene, place)) if (known := text_in_inches(text)) is not None]
        if told:
            return told[0]
    return False


def is_in_inches(data: dict[str, Any]) -> bool:
    """Return whether a bare number is one of inches: by the stock's length, in a shop by what it says or has first."""
    if "units" in data:
        return bool(data["units"] == "in")
    if "stock" in data:
        return in_inches(data["stock"].get("length"))
    return next((known for text in _texts(data) if (known := text_in_inches(text)) is not None), False)


def field_of_file_in_inches(scene: Path, field: str) -> bool:
    """Return the same for a scene's file; False where that cannot be read."""
    try:
        return field_in_inches(tomllib.loads(read_text(scene, "a scene")), field)
    except (SweepError, tomllib.TOMLDecodeError, RecursionError):
        return False


@contextmanager
def told_as_written(written: Path | dict[str, Any]) -> Iterator[None]:
    """Let every SceneError that passes be told in inches where its field is written so.

    Parameters
    ----------
    written : Path or dict
        A scene's file, or what it holds.
    """
    try:
        yield
    except SceneError as wrong:
        if isinstance(written, Path):
            wrong.inches = field_of_file_in_inches(written, wrong.field)
        else:
            wrong.inches = field_in_inches(written, wrong.field)
        raise


def _at(scene: dict[str, Any], field: str) -> Any:
    """Return what stands at a field, None where nothing does; its number is the place in the first list on the way."""
    name, _, number = field.partition(", number ")
    found: Any = scene
    for key in name.split("."):
        found, number = _entry(found, number)
        found = found.get(key) if isinstance(found, dict) else None
    return _entry(found, number)[0]


def _entry(found: Any, number: str) -> tuple[Any, str]:
    """Return the numbered entry of a list and no number any more, or what was found and the number as it is."""
    if not number.isdecimal() or not isinstance(found, list):
        return found, number
    return (found[int(number) - 1] if 0 < int(number) <= len(found) else None), ""


def _texts(value: Any) -> Iterator[str]:
    """Yield every text in a value of TOML, in order."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, (dict, list)):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from _texts(inner)
