"""The name that a maker gives a new scene, as that of a file beside the others."""

from __future__ import annotations

import re

from sweep.errors import SceneError


def file_name(name: str) -> str:
    """Return the name of a new scene's file, beside the others.

    Raises
    ------
    SceneError
        For a name that is none, or leads elsewhere.
    """
    stem = name.strip().removesuffix(".toml")
    if not re.fullmatch(r"[\w][\w .,()-]{0,79}", stem) or stem.lower() == "shop":
        raise SceneError(
            "name", "this is no name for a file", "write letters, digits, spaces or dashes, for example plinth"
        )
    return f"{stem}.toml"
