"""A folder of results, written aside and then swapped in whole.

Before the swap the new folder gets a second name (a hard link) for each file of the user's. Only then the two folders
are exchanged, in one step where the system can. So at any moment the folder holds either all the old results or all the
new ones, and every file of the user's. A run that is killed may leave something aside; the next run clears it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from sweep.disk.aside import aside, begin_to_swap, beside_for_old, clear
from sweep.disk.exchange import exchanged
from sweep.disk.lock import alone_in
from sweep.disk.mark import MARK, read_mark, write_mark
from sweep.disk.place import is_read_only, keep_mode, real_place, refusing
from sweep.errors import SceneError

OPTION = "--out"

_MOST_NAMED = 3
"""Files that a sentence names."""


@contextmanager
def swapped_in(folder: Path) -> Iterator[Path]:
    """Give an empty folder to write into, and put it in place of `folder` once all went well.

    Parameters
    ----------
    folder : Path
        Where the results shall stand: a new folder, an empty one, or one of an earlier run. Links are followed.

    Raises
    ------
    SceneError
        When `folder` cannot be written, or holds something that may not be replaced or carried over. It is then as it
        was, and nothing is left aside.
    """
    place = fit_folder(folder)
    with refusing(OPTION, folder), _parents_of(place), aside(place.parent, OPTION) as hidden:
        fresh = hidden / place.name
        fresh.mkdir()
        yield fresh
        write_mark(fresh)
        with alone_in(place.parent, OPTION):
            _swap(fresh, place, folder)


def fit_folder(folder: Path) -> Path:
    """Return the real place of a folder that a run may write.

    Raises
    ------
    SceneError
        When it is not fit: nothing has been changed.
    """
    place = real_place(folder, OPTION)
    with refusing(OPTION, folder):
        if not place.exists():
            above = next(parent for parent in place.parents if parent.exists())
            if not above.is_dir():
                raise SceneError(OPTION, f"{above} is a file, and no folder can stand in it", "give another folder")
            return place
        with alone_in(place.parent, OPTION):  # another run may be swapping it in
            _users_files(place, folder)
    return place


def _users_files(place: Path, folder: Path) -> Sequence[str]:
    """Return the names of the user's own files in the folder at `place`, which the user calls `folder`.

    Raises
    ------
    SceneError
        When the folder may not be replaced, or something in it may neither be replaced nor carried over.
    """
    if not place.exists():
        return ()
    if not place.is_dir():
        raise SceneError(OPTION, f"{folder} is a file", "give a folder")
    if Path.cwd().is_relative_to(place):
        raise SceneError(
            OPTION, f"{folder} is the folder you are in, or above it, and a run replaces it", "give a folder in it"
        )
    if os.path.ismount(place):
        raise SceneError(OPTION, f"{folder} is a mount point and cannot be replaced", "give a folder in it")
    if is_read_only(place):
        raise SceneError(OPTION, f"{folder} is read-only", "make it writable, or give another folder")
    entries = sorted(place.iterdir())
    mark = read_mark(place)
    if mark is None:
        if entries:
            raise SceneError(
                OPTION, f"{folder} holds files that are not a run's{_named(entries)}", "give an empty or a new folder"
            )
        return ()
    others = [path for path in entries if path.name != MARK and not mark.is_as_written(path)]
    changed = [path for path in others if path.name in mark.digests]
    if changed:
        raise SceneError(
            OPTION,
            f"{folder} holds results that were changed or protected since a run wrote them{_named(changed)}",
            "rename or remove them, or give another folder",
        )
    folders = [path for path in others if path.is_dir() and not path.is_symlink()]
    if folders:
        raise SceneError(
            OPTION,
            f"{folder} holds a folder that no run wrote{_named(folders)} and that cannot be carried over",
            "move it elsewhere, or give another folder",
        )
    return [path.name for path in others]


def _swap(fresh: Path, place: Path, folder: Path) -> None:
    """Put the new results under their name, with everything of the user's that is there.

    Raises
    ------
    SceneError
        When the place is not fit any more, or a file of the user's has the name of a new result.
    OSError
    """
    kept = _users_files(place, folder)
    taken = [place / name for name in kept if os.path.lexists(fresh / name)]
    if taken:
        raise SceneError(
            OPTION,
            f"{folder} holds files of your own where results would go{_named(taken)}",
            "rename them, or give another folder",
        )
    for path in (place, *(place / path.name for path in fresh.iterdir())):
        if path.exists():
            keep_mode(path, fresh if path == place else fresh / path.name)
    if read_mark(place) is None:
        fresh.replace(place)  # a new place, or an empty folder: the system refuses any other
        return
    hidden = begin_to_swap(fresh.parent)
    fresh = hidden / place.name
    for name in kept:
        with suppress(FileNotFoundError):  # the user has removed it this moment
            os.link(place / name, fresh / name, follow_symlinks=False)
    if not exchanged(fresh, place):
        _rename_twice(fresh, place)


def _rename_twice(fresh: Path, place: Path) -> None:
    """Replace a folder where the system cannot exchange: for a moment there is none under its name.

    A run that is killed in that moment leaves both whole aside, and the next one puts one of them back.
    """
    old = beside_for_old(fresh.parent)
    try:
        place.rename(old / place.name)
        fresh.rename(place)
    finally:
        clear(old)


@contextmanager
def _parents_of(place: Path) -> Iterator[None]:
    """Make the folders above a place, and take away those that are empty again at the end."""
    missing = [parent for parent in place.parents if not parent.exists()]
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        yield
    finally:
        for parent in missing:
            with suppress(OSError):  # there are results in it
                parent.rmdir()


def _named(paths: Sequence[Path]) -> str:
    names = [path.name for path in paths[:_MOST_NAMED]]
    return f" ({', '.join(names)}{', ...' if len(paths) > _MOST_NAMED else ''})"
