"""What stays the same from job to job: `shop.toml` beside the scenes, from which each takes what it does not say.

Saw, fence, limits, accuracy and one blade are taken key by key; but a scene that tells teeth and size of its blade has
another one, to which neither the mark nor the tips of the shop's are lent. A list of blades is taken where a scene has
no blade of its own; what is said of boards goes to scenes that order something.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sweep.errors import SceneError
from sweep.scene.file import read_text
from sweep.scene.places import Tables, value_at
from sweep.scene.toml import tables_of

SHOP = "shop.toml"
"""The name of the file."""

SECTIONS = ("saw", "blade", "blades", "fence", "limits", "accuracy", "order")
"""What a shop may have."""

UNITS = {"units": ("mm", "in")}
"""What it may say above its tables: the units in which a new job is begun."""

BOARDS = ("boards", "board_width", "board_edge", "board_trim", "saw_kerf")
"""What it may say of an order: how wood is sold, and how it is cut."""


def shop_in(folder: Path) -> Tables:
    """Return the tables of a folder's shop, none where there is no such file.

    Raises
    ------
    SceneError
        Where it cannot be read, or has a table that belongs to a job.
    """
    path = folder / SHOP
    return shop_at(path) if path.exists() else {}


def shop_at(path: Path) -> Tables:
    """Return the tables of a shop, whatever its file is called.

    Raises
    ------
    SceneError
        Where it cannot be read, or has a table that belongs to a job.
    """
    text = read_text(path, "a shop")
    shop = tables_of(text, path) if text.strip() else {}
    for name, table in shop.items():
        if name in UNITS:
            if table not in UNITS[name]:
                raise SceneError(f"{path.name}, {name}", "this is not known here", 'write "mm" or "in"')
            continue
        if name not in SECTIONS:
            raise SceneError(
                f"{path.name}, {name}", "a shop has no such table", f"write {', '.join(SECTIONS)}, or move it"
            )
        if not isinstance(table, list if name == "blades" else dict):
            raise SceneError(f"{path.name}, {name}", "this is not what belongs here", "write it as in a scene")
    for name in shop.get("order", {}):
        if name not in BOARDS:
            raise SceneError(f"{path.name}, order.{name}", "this belongs to a job", f"write only {', '.join(BOARDS)}")
    return shop


def shop_with(shop: Tables, data: Tables, section: str) -> Tables:
    """Return a shop with a section as a scene has it; of an order, what a shop says of boards.

    Raises
    ------
    SceneError
        Where the scene has none of its own, or it is no section of a shop.
    """
    own = data.get(section)
    if section not in SECTIONS or own is None:
        raise SceneError(section, "the job has none of its own", "write it into the job first")
    if section == "order":
        own = {name: value for name, value in own.items() if name in BOARDS}
    other = {"blade": "blades", "blades": "blade"}.get(section)
    return {name: table for name, table in shop.items() if name not in (section, other)} | {section: own}


def with_shop(data: Tables, shop: Tables) -> Tables:
    """Return a scene's tables with what they do not say taken from its shop; those given are left as they were."""
    taken = dict(data)
    for name, table in shop.items():
        own = data.get(name)
        if name in UNITS:
            continue
        if name == "blades":
            if "blade" not in data and own is None:
                taken[name] = table
        elif name == "order":
            if isinstance(own, dict):
                taken[name] = table | own
        elif name == "blade" and ("blades" in data or is_whole_blade(own)):
            continue
        elif own is None or isinstance(own, dict):
            taken[name] = table | (own or {})
    return taken


def is_whole_blade(blade: Any) -> bool:
    """Return whether a table tells all that makes a blade: in a scene it is then another one than the shop's."""
    return isinstance(blade, dict) and "teeth" in blade and ("profile" in blade or {"diameter", "kerf"} <= blade.keys())


def said_by_shop(data: Tables, shop: Tables, path: str) -> Any:
    """Return what the shop says at a path, which holds where the scene says nothing there; None for nothing."""
    table, _, name = path.rpartition(".")
    own = data.get(table)
    without = (
        data | {table: {key: value for key, value in own.items() if key != name}} if isinstance(own, dict) else data
    )
    if value_at(shop, path) is None or value_at(without, path) is not None:
        return None
    return value_at(with_shop(without, shop), path)


def of_the_shop(wrong: SceneError, data: Tables, shop: Tables) -> SceneError:
    """Return a complaint that names the shop's file where what it is about does not stand in the scene's own tables."""
    name, _, _ = wrong.field.partition(", number ")
    section, _, key = name.partition(".")
    own = data.get(section)
    theirs = shop.get(section)
    stands = section in data and (not key or not isinstance(own, dict) or key in own)
    if stands or theirs is None or (key and isinstance(theirs, dict) and key not in theirs):
        return wrong
    told = SceneError(f"{SHOP}, {wrong.field}", wrong.problem, wrong.remedy)
    told.inches = wrong.inches
    return told
