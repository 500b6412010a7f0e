"""What a table that is added on a page begins with: small, legal, and meant to be changed. Our choice."""

from __future__ import annotations

from typing import Any

STARTS: dict[str, dict[str, tuple[str, str]]] = {
    "rip": {"at": ("0 mm", "0 in")},
    "round over": {"edge": ("table left", "table left"), "radius": ("3 mm", "1/8 in")},
    "chamfer": {"edge": ("table left", "table left"), "size": ("3 mm", "1/8 in")},
    "bevel": {"spring": ("45 deg", "45 deg"), "wall_flat": ("12 mm", "1/2 in")},
    "rabbet": {
        "edge": ("top left", "top left"),
        "width": ("6 mm", "1/4 in"),
        "depth": ("3 mm", "1/8 in"),
    },
    "cove": {"fence_angle": ("30 deg", "30 deg"), "blade_height": ("3 mm", "1/8 in")},
}
"""Each operation after the cove begins with these, in mm and in inches."""

SETUPS: dict[str, dict[str, tuple[str, str]]] = {
    "cove": {"fence_angle": ("30 deg", "30 deg"), "blade_height": ("3 mm", "1/8 in")},
    "rip": {"at": ("0 mm", "0 in"), "blade_height": ("3 mm", "1/8 in")},
    "rabbet": {"edge": ("right", "right"), "width": ("6 mm", "1/4 in"), "depth": ("3 mm", "1/8 in")},
}
"""And so does each of several set-ups."""


def start_of(section: str, kind: str, data: dict[str, Any], inches: bool) -> dict[str, Any]:
    """Return a new table for a list: an operation or set-up of a kind, a blade or saw like the last one, named anew."""
    if section == "finish":
        return {"do": kind} | {name: twin[inches] for name, twin in STARTS.get(kind, {}).items()}
    if section == "setups":
        blades = [one for one in _tables(data, "blades") if one.get("name")]
        blade = {"blade": blades[0]["name"]} if blades else {}
        return {"do": kind} | blade | {name: twin[inches] for name, twin in SETUPS.get(kind, {}).items()}
    tables = _tables(data, section)
    if not tables:
        return {}
    last, names, one = tables[-1], {one.get("name") for one in tables}, section.removesuffix("s")
    number = next(k for k in range(2, len(tables) + 3) if f"{one} {k}" not in names)
    return last | {"name": f"{one} {number}"}


def _tables(data: dict[str, Any], section: str) -> list[dict[str, Any]]:
    """Return the tables of a list, whatever stands there."""
    held = data.get(section)
    return [one for one in held if isinstance(one, dict)] if isinstance(held, list) else []
