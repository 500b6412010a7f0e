"""One file of the user's written back: whole or not at all, behind its link, with its mode."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from sweep.disk.aside import aside
from sweep.disk.lock import alone_in
from sweep.disk.place import is_read_only, keep_mode, real_place, refusing
from sweep.errors import SceneError


def fit_file(path: Path, option: str) -> Path:
    """Return the real place of a file that may be written: a new one, or a plain one that is not read-only.

    Raises
    ------
    SceneError
        Naming `option`, when it may not.
    """
    place = real_place(path, option)
    with refusing(option, path):
        if not place.parent.is_dir():
            raise SceneError(option, f"{path} has no folder to stand in", f"make {path.parent} first")
        if place.exists():
            if not place.is_file():
                raise SceneError(option, f"{path} is not a plain file", "give the name of a file")
            if is_read_only(place):
                raise SceneError(option, f"{path} is read-only", "make it writable, or give another file")
    return place


def new_file(path: Path, content: bytes, option: str) -> None:
    """Write a file that was not there, whole or not at all, and never over one that came in between.

    Raises
    ------
    SceneError
        When it cannot be written, or there is one.
    """
    place = fit_new_file(path, option)
    with refusing(option, path), aside(place.parent, option) as hidden:
        fresh = hidden / place.name
        fresh.write_bytes(content)
        try:
            os.link(fresh, place)  # which fails where there is a file, as renaming does not
        except FileExistsError:
            fit_new_file(path, option)
            raise
        except OSError:  # a file system without links
            with place.open("xb") as file:
                try:
                    file.write(content)
                except OSError:
                    place.unlink()
                    raise


def fit_new_file(path: Path, option: str) -> Path:
    """Return the real place of a file that may be made there.

    Raises
    ------
    SceneError
        Naming `option`, when it may not, or something is there.
    """
    place = real_place(path, option)
    with refusing(option, path):
        if place.exists():
            raise SceneError(option, f"there is {path} already, and it stays", "give a name that is not taken")
    return fit_file(path, option)


def replace_file(path: Path, content: bytes, option: str, still: Callable[[], None] = lambda: None) -> None:
    """Write a file, so that at any moment it holds all of the old content or all of the new.

    Parameters
    ----------
    path : Path
        Links are followed.
    content : bytes
    option : str
        What errors name.
    still : function
        Asked while no other run writes there, right before the file is replaced; raises to leave it as it is.

    Raises
    ------
    SceneError
        When it cannot be written. It is then as it was, and nothing is left beside it.
    """
    place = fit_file(path, option)
    with refusing(option, path), aside(place.parent, option) as hidden:
        fresh = hidden / place.name
        with fresh.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        with alone_in(place.parent, option):
            still()
            if place.exists():
                keep_mode(place, fresh)
            fresh.replace(place)
