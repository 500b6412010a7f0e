"""What stays the same from job to job: `shop.toml` beside the scenes, from which each takes what it does not say.

Saw, fence, limits, accuracy and one blade are taken key by key; but a scene that tells teeth and size of its blade has
another one, to which neither the mark nor the tips of the shop's are lent. A list of blades is taken where a scene has
no blade of its own; what is said of boards goes to scenes that order something. Of several saws a scene takes the one
that it names, or else the first.
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

SECTIONS = ("saw", "saws", "blade", "blades", "fence", "limits", "accuracy", "order")
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
        if not (_is_list_of_tables(table) if name in ("blades", "saws") else isinstance(table, dict)):
            raise SceneError(f"{path.name}, {name}", "this is not what belongs here", "write it as in a scene")
    try:
        require_names(shop)
    except SceneError as wrong:
        raise SceneError(f"{path.name}, {wrong.field}", wrong.problem, wrong.remedy) from None
    for name in shop.get("order", {}):
        if name not in BOARDS:
            raise SceneError(f"{path.name}, order.{name}", "this belongs to a job", f"write only {', '.join(BOARDS)}")
    return shop


def _is_list_of_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(one, dict) for one in value)


def require_names(shop: Tables) -> None:
    """Refuse several saws that cannot be told apart.

    Raises
    ------
    SceneError
    """
    names = [one.get("name") for one in shop.get("saws", [])]
    if names and "saw" in shop:
        raise SceneError("saws", "there is [saw] too", "write each saw as one of [[saws]]")
    for number, name in enumerate(names, start=1):
        if len(names) > 1 and (not name or names.index(name) + 1 < number):
            raise SceneError(
                f"saws.name, number {number}",
                "each saw needs a name of its own",
                'write, for example, name = "cabinet saw"',
            )


def on_each_saw(data: Tables, shop: Tables) -> tuple[Tables, ...]:
    """Return a scene's tables once for each saw of its shop, which they name; as they are where they tell a saw."""
    if "saw" in data or "saws" not in shop:
        return (data,)
    return tuple(data | {"saw": {key: saw[key] for key in ("name",) if key in saw}} for saw in shop["saws"])


def with_its_saw(shop: Tables, data: Tables) -> Tables:
    """Return a shop with one saw: that which a scene names, or else its first; with none where none is so named."""
    if "saws" not in shop:
        return shop
    own = data.get("saw")
    name = own.get("name") if isinstance(own, dict) else None
    theirs = [saw for saw in shop["saws"] if name in (None, saw.get("name"))]
    rest = {other: table for other, table in shop.items() if other != "saws"}
    return rest | {"saw": theirs[0]} if theirs else rest


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
    if section == "saw" and "saws" in shop:
        return shop | {"saws": _with_saw(shop["saws"], own)}
    other = {"blade": "blades", "blades": "blade"}.get(section)
    return {name: table for name, table in shop.items() if name not in (section, other)} | {section: own}


def _with_saw(saws: list[Tables], own: Tables) -> list[Tables]:
    """Return saws with one in the place of its namesake, of one without a name in the place of the first."""
    name = own.get("name", saws[0].get("name"))
    place = next((number for number, one in enumerate(saws) if one.get("name") == name), len(saws))
    return [*saws[:place], own if name is None else own | {"name": name}, *saws[place + 1 :]]


def with_shop(data: Tables, shop: Tables) -> Tables:
    """Return a scene's tables with what they do not say taken from its shop; those given are left as they were."""
    taken = dict(data)
    for name, table in with_its_saw(shop, data).items():
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
    shop = with_its_saw(shop, data)
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
    theirs = with_its_saw(shop, data).get(section)
    stands = section in data and (not key or not isinstance(own, dict) or key in own)
    if stands or theirs is None or (key and isinstance(theirs, dict) and key not in theirs):
        return wrong
    field = wrong.field
    if section == "saw" and "saws" in shop:
        field = f"saws{field.removeprefix('saw')}, number {shop['saws'].index(theirs) + 1}"
    told = SceneError(f"{SHOP}, {field}", wrong.problem, wrong.remedy)
    told.inches = wrong.inches
    return told
