"""How a scene differs from its file, key by key: what a page keeps, what is saved, and what two hands can join.

Values are TOML's. Tables, and lists with as many tables as before, are compared key by key; all else is one value.
"""

from __future__ import annotations

import copy
from typing import Any

from sweep.scene.places import put

Changes = dict[str, Any]
"""From a path (``"finish.0.radius"``) to what stands there now, None for nothing."""


def differences(before: dict[str, Any], after: dict[str, Any]) -> dict[str, tuple[Any, Any]]:
    """Return every path at which two scenes differ, with what stood there before and what stands there after.

    Examples
    --------
    >>> differences({"stock": {"width": "92 mm"}}, {"stock": {"width": "90 mm"}, "title": "Rail"})
    {'stock.width': ('92 mm', '90 mm'), 'title': (None, 'Rail')}
    """
    found: dict[str, tuple[Any, Any]] = {}
    _compare(before, after, "", found)
    return found


def changed(data: dict[str, Any], changes: Changes) -> dict[str, Any]:
    """Return a scene's tables with some values replaced; the tables given are left as they were.

    Raises
    ------
    SceneError
        For a path that is no place in the scene. Values are checked when the scene is read.
    """
    data = copy.deepcopy(data)
    for path, value in changes.items():
        put(data, path, value)
    return data


def _compare(before: Any, after: Any, path: str, found: dict[str, tuple[Any, Any]]) -> None:
    if isinstance(before, dict) and isinstance(after, dict):
        for name in [*before, *(name for name in after if name not in before)]:
            _compare(before.get(name), after.get(name), f"{path}.{name}" if path else name, found)
    elif _are_tables(before) and _are_tables(after) and len(before) == len(after):
        for number, (one, other) in enumerate(zip(before, after, strict=True)):
            _compare(one, other, f"{path}.{number}", found)
    elif before != after or type(before) is not type(after):
        found[path] = (before, after)


def _are_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(one, dict) for one in value)
