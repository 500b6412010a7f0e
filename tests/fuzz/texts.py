"""Texts of scenes: random ones, as they are or with a few values twisted, and demo scenes with their text changed."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import tomlkit

from .drawings import damaged
from .scenes import Files, Table, whole_scene
from .values import ODD

DEMOS = sorted((Path(__file__).parents[2] / "scenes").glob("*.toml"))


def random_files(chance: random.Random) -> Files:
    """Return a scene, as `scene.toml`, and the files that it names."""
    kind = chance.random()
    if kind < 0.25:
        return mutated_demo(chance)
    files: Files = {}
    table = whole_scene(chance, files)
    if kind < 0.65:
        for _ in range(chance.choice([1, 1, 1, 2, 3])):
            twist(chance, table)
    try:
        text = tomlkit.dumps(table)
    except (ValueError, TypeError):  # tables in odd places cannot all be written
        return random_files(chance)
    return files | {"scene.toml": text.encode("utf-8", "replace")}


def mutated_demo(chance: random.Random) -> Files:
    """Return a demo scene with its text changed: damaged, lines dropped, doubled or swapped, values exchanged."""
    path = chance.choice(DEMOS)
    files = {one.name: one.read_bytes() for one in path.parent.glob("*.csv")}
    lines = path.read_text().splitlines()
    kind = chance.random()
    for _ in range(chance.randint(1, 4)):
        k = chance.randrange(len(lines))
        if kind < 0.3:
            del lines[k]
        elif kind < 0.5:
            lines.insert(chance.randrange(len(lines)), lines[k])
        elif kind < 0.9 and "=" in lines[k]:
            other = chance.choice([line for line in lines if "=" in line])
            value = other.partition("=")[2] if chance.random() < 0.5 else tomlkit.item(_plain_odd(chance)).as_string()
            lines[k] = f"{lines[k].partition('=')[0]}= {value}"
    content = "\n".join(lines).encode("utf-8", "replace")
    return files | {"scene.toml": damaged(chance, content) if kind > 0.85 else content}


def _plain_odd(chance: random.Random) -> Any:
    return chance.choice([value for value in ODD if not isinstance(value, (dict, list))])


def twist(chance: random.Random, table: Table) -> None:
    """Change one value of a scene to what does not belong there, leave it out, or give it a name that is not known."""
    inside: Any = table
    while True:
        key = chance.choice(list(inside) if isinstance(inside, dict) else range(len(inside)))
        if not isinstance(inside[key], (dict, list)) or not inside[key] or chance.random() < 0.1:
            break
        inside = inside[key]
    kind = chance.random()
    if kind < 0.75:
        inside[key] = chance.choice(ODD)
    elif kind < 0.9 or not isinstance(inside, dict):
        del inside[key]
    else:
        inside[f"{key}s"] = inside.pop(key)
