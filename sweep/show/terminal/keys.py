"""The keys of a scene, as text to read in a terminal and as the README's table."""

from __future__ import annotations

import textwrap

from sweep.errors import SceneError
from sweep.scene.documented import Key, documented_keys, plain

COLUMNS = 80
_HEADS = {"": "At the top", "blade": "[blade] or [[blades]]", "setups": "[[setups]]", "finish": "[[finish]]"}


def keys_text(section: str | None) -> str:
    """Return what each key of a section, or of all, may be and what it means, in lines of at most 80 columns.

    Raises
    ------
    SceneError
        For a section that a scene has not.
    """
    sections = list(dict.fromkeys(key.section for key in documented_keys()))
    asked = {"blades": "blade"}.get(section or "", section)
    if asked is not None and asked not in sections:
        raise SceneError("SECTION", f"a scene has no [{asked}]", f"write one of {', '.join(sections[1:])}")
    return "\n".join(
        _section_text(name, [key for key in documented_keys() if key.section == name])
        for name in (sections if asked is None else [asked])
    )


def keys_table() -> str:
    """Return all keys as a table in Markdown, one row each."""
    rows = [[f"`{key.path}`", _default(key), key.values, key.told] for key in documented_keys()]
    rows = [["key", "default", "may be", "what"], ["---"] * 4, *rows]
    return "".join(f"| {' | '.join(row)} |\n".replace("|  |", "| |") for row in rows)


def _default(key: Key) -> str:
    return key.default_written if key.default is None else f"`{key.default_written.replace(' or ', '` or `')}`"


def _section_text(name: str, keys: list[Key]) -> str:
    head = _HEADS.get(name, f"[{name}]")
    lines = [head]
    for key in keys:
        default = "required" if key.required else f"unless given, {plain(key.default_written) or 'none'}"
        lines += textwrap.wrap(
            f"{key.name}: {key.values}; {default}", COLUMNS, initial_indent="  ", subsequent_indent=6 * " "
        )
        lines += textwrap.wrap(plain(key.told), COLUMNS, initial_indent=6 * " ", subsequent_indent=6 * " ")
    return "\n".join(lines) + "\n"
