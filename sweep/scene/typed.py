"""What a maker types into a field, to what stands in the file, and back: the notation stays the maker's own."""

from __future__ import annotations

import re
from typing import Any

from sweep.quantity import is_bare
from sweep.scene.documented import Key

_PARTED = re.compile(r"[;\n]|,(?=\s)")
"""What parts the members of a list: a comma only where a space follows, for in `2,5 mm` it is a decimal one."""

_TIMES = re.compile(r"^\s*([0-9]{1,3})\s*[x×]\s+?(?=\S)", re.IGNORECASE)
_UNIT = re.compile(r"[^0-9\s.,+/-][^0-9\s]*$")


def from_typed(key: Key, text: str, before: Any, inches: bool) -> Any:
    """Return what stands in TOML for what was typed; None for nothing, and text that is none of its kind as it is.

    Parameters
    ----------
    key : Key
    text : str
        A bare number takes the unit in which the field was written, or else the usual one. Members of a list are parted
        by lines, semicolons, or commas with a space; ``4 x 38 in`` is four of them.
    before : object
        What stands there.
    inches : bool
        Whether the usual unit is one of inches.
    """
    text = text.strip()
    if not text:
        return None
    if key.kind == "list" and not (key.name == "stop" and not _PARTED.search(text)):
        if key.values == "a list of pairs":
            return [[_number(part) for part in re.split(r"[\s;]+|,\s", line.strip(" []"))] for line in _lines(text)]
        unit = _unit(key, before[0] if isinstance(before, list) and before else None, inches)
        return [_with_unit(key, part, unit) for part in _members(text)]
    if key.kind == "choice":
        return next((choice for choice in key.choices if _spelled(choice) == text), text)
    if key.kind in ("whole number", "number"):
        return _number(text, key.kind == "whole number")
    return _with_unit(key, text, _unit(key, before, inches))


def as_typed(value: Any) -> str:
    """Return a value of TOML as it stands in a field; a list has its members on lines of their own."""
    if isinstance(value, list):
        return "\n".join(" ".join(map(as_typed, one)) if isinstance(one, list) else as_typed(one) for one in value)
    return _spelled(value)


def _spelled(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def _lines(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.strip()]


def _members(text: str) -> list[str]:
    parts: list[str] = []
    for part in filter(None, (part.strip() for part in _PARTED.split(text))):
        times = _TIMES.match(part)
        parts += [part[times.end() :].strip()] * int(times[1]) if times else [part]
    return parts


def _number(text: str, whole: bool = False) -> int | float | str:
    """Return a number where it is one, with a point or a comma; what is none is refused where the scene is read."""
    figures = text.replace(",", ".")
    if whole or re.fullmatch(r"[+-]?[0-9]{1,15}", figures):
        return int(figures) if re.fullmatch(r"[+-]?[0-9]{1,15}", figures) else text
    return float(figures) if re.fullmatch(r"[+-]?[0-9]{0,15}\.?[0-9]{1,15}", figures) else text


def _unit(key: Key, before: Any, inches: bool) -> str:
    if key.measures is None:
        return ""
    written = _UNIT.search(before) if isinstance(before, str) else None
    if written and written[0].casefold() in key.measures.units:
        return written[0]
    return key.measures.inches if inches and key.measures.inches else key.measures.shown


def _with_unit(key: Key, text: str, unit: str) -> str:
    return f"{text} {unit}" if unit and is_bare(text) else text
