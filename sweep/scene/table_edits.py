"""Tables of a scene as a page changes them: one more in a list, one less, another order, another kind."""

from __future__ import annotations

import copy
import re

from sweep.errors import SceneError
from sweep.scene.keys import Setup
from sweep.scene.places import Tables, put, value_at
from sweep.scene.setups import AnySetup
from sweep.scene.starts import start_of

ADDED_TO = ("finish", "blades", "setups", "saws")
"""Lists of tables that a page adds to."""

_A_KIND = re.compile(r"setups\.\d+\.do")


def change(data: Tables, path: str, do: str, kind: str, inches: bool) -> None:
    """Add a table to a list, copy one, take it away or move it, in place.

    Parameters
    ----------
    data : dict
        The scene's tables.
    path : str
        Of a list to add to, of a table in one, or of a table that is taken away.
    do : str
        ``add``, ``copy``, ``remove``, ``up``, ``down`` or ``alone``.
    kind : str
        What is added.
    inches : bool
        Whether it is written in inches.

    Raises
    ------
    SceneError
        For a place that is none, and where a job would be left without a set-up.
    """
    if do == "add":
        return _add(data, path, kind, inches)
    name, _, place = path.partition(".")
    if do == "remove" and not place.isdecimal():
        return put(data, path, None)
    tables = data.get(name)
    if not (isinstance(tables, list) and place.isdecimal() and int(place) < len(tables)):
        raise SceneError(path, "there is no such place", "reload the page")
    if do == "alone":
        return _alone(data, path)
    if do == "copy":
        return tables.insert(int(place) + 1, copy.deepcopy(tables[int(place)]))
    if do == "remove" and name == "setups" and len(tables) == 1:
        raise SceneError(path, "a job needs a set-up", "change this one, or add another first")
    one = tables.pop(int(place))
    if do in ("up", "down"):
        tables.insert(max(0, int(place) + (-1 if do == "up" else 1)), one)
    if not tables:
        del data[name]
    return None


def can_be_alone(data: Tables, setup: object) -> bool:
    """Return whether one of several set-ups can be a job's only one: a cove with the stock as it was planed."""
    if not isinstance(setup, dict) or setup.get("do") != "cove" or (data.get("target") or {}).get("whole") is True:
        return False
    return (setup.get("face", "table"), setup.get("ends", "as it lay")) == ("table", "as it lay")


def follow(data: Tables, path: str, inches: bool) -> None:
    """Let a set-up that has become another kind begin as one, in place; what all kinds share is kept."""
    table = value_at(data, path.rpartition(".")[0]) if _A_KIND.fullmatch(path) else None
    if isinstance(table, dict) and "do" in table:
        kept = {name: value for name, value in table.items() if name in AnySetup.model_fields}
        begun = start_of("setups", str(table["do"]), data, inches)
        table.clear()
        table.update(begun | kept)


def _add(data: Tables, name: str, kind: str, inches: bool) -> None:
    if name not in ADDED_TO:
        raise SceneError(name, "there is no such list", "reload the page")
    if name == "blades":
        _several_blades(data)
    elif name == "setups":
        _several_setups(data)
    elif name == "saws":
        _several_saws(data)
    tables = data.setdefault(name, [])
    if isinstance(tables, list):
        tables.append(start_of(name, kind, data, inches))


def _several_blades(data: Tables) -> None:
    """Make a list of the one blade, which needs a name then, by which the set-up knows it."""
    if "blades" in data or not isinstance(data.get("blade"), dict):
        return
    blade = data.pop("blade")
    named = {"name": blade.get("name") or "blade 1"}
    data["blades"] = [named | blade | named]
    for table in [data.get("setup"), *data.get("setups", [])]:
        if isinstance(table, dict):
            table["blade"] = named["name"]


def _several_saws(data: Tables) -> None:
    """Make a list of a shop's one saw, which needs a name then, by which jobs know it."""
    saw = data.pop("saw", {})
    if "saws" not in data and isinstance(saw, dict):
        named = {"name": saw.get("name") or "saw 1"}
        data["saws"] = [named | saw | named]


def _several_setups(data: Tables) -> None:
    """Make a list of the one set-up, which is a cove. Marks of a single cove say nothing of several, and go."""
    setup, passes, target = data.pop("setup", None), data.pop("passes", None), data.get("target")
    if isinstance(setup, dict):
        own = {"passes": passes} if isinstance(passes, dict) else {}
        data["setups"] = [{"do": "cove"} | setup | own]
    if isinstance(target, dict) and target.get("whole") is not True:
        del data["target"]


def _alone(data: Tables, path: str) -> None:
    """Make a cove of several set-ups the job's only one; the others go, and so does its name."""
    setup = value_at(data, path)
    if not path.startswith("setups.") or not can_be_alone(data, setup):
        raise SceneError(path, "it cannot be the only set-up", "choose a cove with the stock as it was planed")
    del data["setups"]
    data["setup"] = {name: value for name, value in setup.items() if name in Setup.model_fields}
    data |= {name: setup[name] for name in ("passes", "fence") if name in setup}
