"""What a folded card says in one line: the scene in the maker's own words."""

from __future__ import annotations

from typing import Any


def line_of(card: str, data: dict[str, Any]) -> str:
    """Return one line about what stands on a card, as it is written in the scene."""
    return _LINES[card](data)


def _wood(data: dict[str, Any]) -> str:
    stock = data["stock"]
    sizes = " × ".join(str(stock[name]) for name in ("length", "width", "thickness"))
    return f"{sizes}, {stock.get('species', 'unknown wood')}"


def _marks(data: dict[str, Any]) -> str:
    target = data.get("target")
    if target is None:
        return "none: nothing is compared"
    told = [f"{target[name]} {words}" for name, words in _OF_MARKS.items() if name in target]
    return ", ".join([str(target.get("shape", "")), *told])


def _saw(data: dict[str, Any]) -> str:
    blades = data.get("blades") or [data["blade"]]
    name = data.get("setup", {}).get("blade")
    blade = next((one for one in blades if one.get("name") == name), blades[0])
    sizes = " × ".join(str(blade[size]) for size in ("diameter", "kerf") if size in blade)
    return f"{sizes or 'shaped cutter'}, {blade.get('teeth')} teeth, {data['saw'].get('speed')}"


def _setup(data: dict[str, Any]) -> str:
    setup = data["setup"]
    tilt, offset = setup.get("blade_tilt", "0 deg"), setup.get("offset", "0 mm")
    told = [f"fence {setup['fence_angle']}", f"blade {setup['blade_height']}"]
    told += [f"tilt {tilt}"] if not str(tilt).startswith(("0 ", "0.0000 ")) else []
    told += [f"offset {offset}"] if not str(offset).startswith("0 ") else []
    return ", ".join(told)


def _setups(data: dict[str, Any]) -> str:
    return f"{len(data['setups'])}: " + ", ".join(one.get("name") or str(one.get("do")) for one in data["setups"])


def line_of_setup(table: dict[str, Any]) -> str:
    """Return one of several set-ups in one line."""
    told = [f"{table[name]} {words}".strip() for name, words in _OF_SETUP.items() if name in table]
    return ", ".join([str(table.get("do", "")), *told])


def _passes(data: dict[str, Any]) -> str:
    passes = data["passes"]
    count = len(passes["heights"])
    return f"{count} pass{'' if count == 1 else 'es'} at {passes['feed_speed']}"


def _after(data: dict[str, Any]) -> str:
    return ", ".join(str(one.get("do", "")) for one in data.get("finish", [])) or "nothing"


def _order(data: dict[str, Any]) -> str:
    order = data.get("order")
    if order is None:
        return "nothing is ordered"
    rectangle = order.get("rectangle")
    if rectangle:
        return f"round {' × '.join(map(str, rectangle))}"
    count = len(order.get("lengths", []))
    return f"{count} length{'' if count == 1 else 's'}"


def _limits(data: dict[str, Any]) -> str:
    own = len(data.get("limits", {})) + len(data.get("accuracy", {}))
    return f"{own} of this job's own" if own else "the usual ones"


def _made(data: dict[str, Any]) -> str:
    kept, times = data.get("kept"), len(data.get("measured", []))
    told = [f"kept {kept.get('date', '')}"] if isinstance(kept, dict) else []
    told += [f"measured {'once' if times == 1 else f'{times} times'}"] if times else []
    return ", ".join(told) or "nothing is written down"


_OF_MARKS = {
    "width": "wide",
    "depth": "deep",
    "shoulders": "shoulders",
    "wood_above": "of wood above",
    "file": "",
}
_OF_SETUP = {
    "fence_angle": "to the blade",
    "edge": "edge",
    "at": "from the middle",
    "width": "wide",
    "depth": "deep",
    "blade_height": "high",
    "blade_tilt": "tilted",
    "face": "down",
    "ends": "",
}
_LINES = {
    "wood": _wood,
    "marks": _marks,
    "saw": _saw,
    "setup": _setup,
    "setups": _setups,
    "passes": _passes,
    "after": _after,
    "order": _order,
    "limits": _limits,
    "made": _made,
}
