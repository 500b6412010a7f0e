"""What is being written stands aside, in a hidden folder beside its place, until it is whole.

The name of that folder says how far a run came, and the run that made it holds its lock. So the next run knows
whether it was abandoned, and what in it may be removed.
"""

from __future__ import annotations

import os
import re
import secrets
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from sweep.disk.lock import Lock, alone_in, held
from sweep.disk.mark import MARK, read_mark

_UNFINISHED = ".sweep-unfinished-"
"""Everything in it is ours."""

_SWAPPING = ".sweep-swapping-"
"""It holds a folder of results under its own name, the new one or the old one, perhaps with files of the user's."""

_OURS = re.compile(rf"({re.escape(_UNFINISHED)}|{re.escape(_SWAPPING)})[0-9a-f]{{16}}")


@contextmanager
def aside(beside: Path, option: str) -> Iterator[Path]:
    """Give a new hidden folder in the folder `beside`, and clear it at the end, whatever happens.

    What abandoned runs left there is cleared first.

    Raises
    ------
    SceneError
        Naming `option`, when another run keeps us waiting too long.
    OSError
        When nothing can be written there.
    """
    place = beside / f"{_UNFINISHED}{secrets.token_hex(8)}"
    with ExitStack() as until_the_end:
        with alone_in(beside, option):
            _clear_abandoned(beside)
            place.mkdir(mode=0o700)
            until_the_end.callback(clear, place)
            until_the_end.callback(clear, _swapping_name(place))
            until_the_end.enter_context(held(place))
        yield place


def begin_to_swap(place: Path) -> Path:
    """Say, by its name, that a folder aside may from now on hold files of the user's; return the new name.

    Raises
    ------
    OSError
    """
    return place.rename(_swapping_name(place))


def beside_for_old(place: Path) -> Path:
    """Make a second folder aside, to move the old results into where the system cannot exchange."""
    old = place.with_name(f"{_SWAPPING}{secrets.token_hex(8)}")
    old.mkdir(mode=0o700)
    return old


def clear(place: Path) -> None:
    """Remove a folder aside and what we wrote into it; what is the user's goes back to where it was.

    Where the system does not let us, the rest stays for the next run.
    """
    if place.name.startswith(_UNFINISHED):
        shutil.rmtree(place, ignore_errors=True)
        return
    with suppress(OSError):
        for results in place.iterdir():
            _give_back(results, place.with_name(results.name))
        place.rmdir()


def _swapping_name(place: Path) -> Path:
    return place.with_name(place.name.replace(_UNFINISHED, _SWAPPING))


def _clear_abandoned(beside: Path) -> None:
    for place in beside.iterdir():
        if _OURS.fullmatch(place.name) and place.is_dir() and not place.is_symlink():
            with suppress(OSError), held(place) as lock:
                if lock is Lock.OURS:
                    clear(place)


def _give_back(results: Path, folder: Path) -> None:
    """Remove a folder of results that is aside, but for what no run wrote, which is put into `folder`.

    Raises
    ------
    OSError
    """
    if not os.path.lexists(folder):  # a run ended between two renames
        results.rename(folder)
        return
    mark = read_mark(results)
    for path in results.iterdir():
        if mark is not None and path.name == MARK:
            continue
        if _is_same(path, folder / path.name) or (mark is not None and mark.is_as_written(path)):
            path.unlink()
        else:
            _put_back(path, folder)
    if mark is not None:  # last, for without it the next run could not tell what is ours
        (results / MARK).unlink()
    results.rmdir()


def _is_same(path: Path, other: Path) -> bool:
    """Return whether two names lead to one and the same file, so that one of them may go."""
    try:
        return not path.is_dir() and os.path.samestat(path.lstat(), other.lstat())
    except OSError:
        return False


def _put_back(path: Path, folder: Path) -> None:
    """Move a file or folder of the user's into `folder`, under a free name that begins with its own."""
    name, number = path.name, 0
    while os.path.lexists(folder / name):  # ends: a folder holds a finite number of names
        number += 1
        name = f"{path.name}.kept-{number}"
    path.rename(folder / name)
