"""A scene's own text made to hold other values: comments, order and notation of all that stays are kept."""

from __future__ import annotations

import re
import tomllib
from difflib import SequenceMatcher
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array, Table

from sweep.scene.places import Tables

ONE_OF = {"blade": "blades", "saw": "saws", "setup": "setups"}
"""Tables that become a list where there are several."""


def rewritten(text: str, wanted: Tables) -> str:
    """Return a scene's text changed where it must be, to hold the tables that are wanted.

    A table that was moved in its list takes its comments with it; what is taken away takes those that stand in it.

    Parameters
    ----------
    text : str
        TOML.
    wanted : dict
        As TOML holds them.
    """
    document = tomlkit.parse(text)
    _become(document, wanted)
    written = tomlkit.dumps(document)
    if "\n\n\n" not in text:  # tables that were moved bring their empty lines with them
        written = re.sub(r"\n{3,}", "\n\n", written)
    if tomllib.loads(written) == wanted:
        return written
    # the library has lost its way among comments: what differs is written anew, section by section
    document = tomlkit.parse(text)
    before = tomllib.loads(text)
    for name in [*before, *wanted]:
        if before.get(name) != wanted.get(name):
            if name in document:
                document.remove(name)
            if name in wanted:
                document[name] = wanted[name]
    return tomlkit.dumps(document)


def _become(table: Any, wanted: Tables) -> None:
    for one, several in ONE_OF.items():
        if one in table and one not in wanted and several in wanted and several not in table:
            _begin_list(table, one, several)
    for name in [name for name in table if name not in wanted]:
        table.remove(name)
    held = table.unwrap()
    for name, value in wanted.items():
        if name not in held:
            _add(table, name, value)
        elif isinstance(value, dict) and isinstance(held[name], dict):
            _become(table[name], value)
        elif held[name] != value or type(held[name]) is not type(value):
            there = table[name]
            if isinstance(there, AoT) and isinstance(value, list):
                table[name] = _tables(there, value)
            elif isinstance(there, Array) and isinstance(value, list):
                _members(there, value)
            else:
                table[name] = value


def _begin_list(table: Any, one: str, several: str) -> None:
    """Let a table become the first of a list of its kind, its comments with it."""
    tables = tomlkit.aot()
    tables.append(table[one])
    table.remove(one)
    _add(table, several, tables)


def _add(table: Any, name: str, value: Any) -> None:
    if isinstance(table, tomlkit.TOMLDocument):
        if not isinstance(value, (dict, list)):  # a key of no table stands above them all
            table[name] = value
            return
        if not table.as_string().endswith("\n\n"):
            table.add(tomlkit.nl())
    table[name] = value


def _members(array: Array, wanted: list[Any]) -> None:
    """Change the members of a list one by one, so that the comments among them stay."""
    before = [repr(one) for one in array.unwrap()]
    after = [repr(one) for one in wanted]
    shift = 0
    for how, low, high, first, last in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if how == "equal":
            continue
        same = min(high - low, last - first)
        for k in range(same):
            array[low + shift + k] = wanted[first + k]
        for _ in range(high - low - same):
            array.pop(low + shift + same)
        for k in range(same, last - first):
            array.insert(low + shift + k, wanted[first + k])
        shift += (last - first) - (high - low)


def _tables(there: AoT, wanted: list[Tables]) -> AoT:
    """Return the tables that are wanted: each of those that are there that is most like one, and new ones."""
    left: list[Table] = list(there.body)
    chosen: list[Table | None] = []
    for value in wanted:
        same = next((one for one in left if one.unwrap() == value), None)
        chosen.append(same)
        left = [one for one in left if one is not same]
    tables = tomlkit.aot()
    for value, one in zip(wanted, chosen, strict=True):
        if one is None and left:
            likest = max(left, key=lambda other: _likeness(other.unwrap(), value))
            if _likeness(likest.unwrap(), value) >= 0.5:  # less, and its comment would be told of another thing
                one = likest
                left = [other for other in left if other is not one]
                _become(one, value)
        tables.append(one if one is not None else tomlkit.item(value))
    return tables


def _likeness(one: Tables, other: Tables) -> float:
    """Return which share of the keys of both stands the same in both; of a table that has only grown, half at least."""
    same = len([name for name in one if one[name] == other.get(name)])
    return max(same / max(len(one), len(other), 1), 0.5 if one and same == len(one) else 0.0)
