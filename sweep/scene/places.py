"""Places in a scene's tables, named by keys and numbers from 0: ``setup.fence_angle``, ``finish.2.radius``."""

from __future__ import annotations

from typing import Any

from sweep.errors import SceneError

Tables = dict[str, Any]
"""A scene as TOML holds it."""

MEASURED = "measured"
"""The list in which one more table begins where something is written into it: nobody need begin it first."""


def value_at(data: Tables, path: str) -> Any:
    """Return what stands at a path, None where nothing does."""
    found: Any = data
    for part in path.split(".") if path else ():
        if isinstance(found, dict):
            found = found.get(part)
        elif isinstance(found, list) and part.isdecimal() and int(part) < len(found):
            found = found[int(part)]
        else:
            return None
    return found


def put(data: Tables, path: str, value: Any) -> None:
    """Write a value at a path, in place; None takes away what stands there, and a table that is then empty.

    Raises
    ------
    SceneError
        For a place that is none.
    """
    if path in ("target", "target.file"):
        require_beside(value)
    *way, last = path.split(".")
    found: Any = data
    for k, part in enumerate(way):
        inner = value_at(found, part)
        if inner is None and isinstance(found, dict) and not part.isdecimal():
            if value is None:
                return
            inner = found[part] = [] if part == MEASURED else {}
        elif inner is None and way[k - 1] == MEASURED and part == str(len(found)) and value is not None:
            inner = {}
            found.append(inner)
        if not isinstance(inner, (dict, list)):
            raise SceneError(".".join(way[: k + 1]), "there is no such place", "reload the page")
        found = inner
    if isinstance(found, list):
        if not (last.isdecimal() and int(last) < len(found)):
            raise SceneError(path, "there is no such place", "reload the page")
        if value is None:
            del found[int(last)]
        else:
            found[int(last)] = value
    elif value is not None:
        found[last] = value
    else:
        found.pop(last, None)
        if not found and len(way) == 1:
            del data[way[0]]


def require_beside(value: Any) -> None:
    """Refuse a target, or the name of its file, that lies elsewhere: a page reads what is beside its scene.

    Raises
    ------
    SceneError
    """
    name = value.get("file") if isinstance(value, dict) else value
    if isinstance(name, str) and set(name) & set("/\\"):
        raise SceneError("target.file", "it does not lie beside the scene", "write the name of a file that does")
