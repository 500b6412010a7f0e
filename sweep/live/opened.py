"""A scene as it stood when a page of it was opened."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from sweep.scene.file import read_text
from sweep.scene.shop import SHOP
from sweep.words import visible


@dataclass(frozen=True)
class Opened:
    """A scene as a page opened it: what the page's changes are laid over.

    Parameters
    ----------
    path : Path
        Of its file.
    text : str
        As it stands in the file.
    whole : str
        The same with nothing left out.
    beside : dict
        What it takes from other files, as `digests_beside` tells.
    """

    path: Path
    text: str
    whole: str
    beside: dict[str, str]

    @property
    def version(self) -> str:
        """A digest of the text, by which pages name it."""
        return version_of(self.text)

    @property
    def tables(self) -> dict[str, Any]:
        """What the whole text holds, to be left as it is."""
        return _tables(self.whole)


@lru_cache(maxsize=4)  # of every move of a slider
def _tables(text: str) -> dict[str, Any]:
    return tomllib.loads(text)


def version_of(text: str) -> str:
    """Return a digest of a scene's text."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def digests_beside(path: Path, tables: Iterable[Any]) -> dict[str, str]:
    """Return what tells of each file that a scene takes from whether it changed, by its name; empty without one.

    Parameters
    ----------
    path : Path
        Of the scene's file.
    tables : iterable
        Of targets, as TOML holds them: what is none names no file.
    """
    names = [target["file"] for target in tables if isinstance(target, dict) and isinstance(target.get("file"), str)]
    found = {}
    for name in [SHOP, *names] if path.name != SHOP else []:
        try:
            told = (path.parent / name).stat()
            found[visible(name)] = f"{told.st_mtime_ns:x}-{told.st_size:x}-{told.st_ino:x}"
        except (OSError, ValueError):
            found[visible(name)] = ""  # or it is no name of a file
    return found


def text_of(path: Path) -> str:
    """Return the text of a scene's file, or of a shop's; a shop that is not written yet has none.

    Raises
    ------
    SceneError
    """
    if path.name == SHOP and not path.exists():
        return ""
    return read_text(path, "a scene")
