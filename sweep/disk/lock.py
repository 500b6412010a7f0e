"""Locks on folders: the system lets go of them when a process ends, however it ends, and no lock file is left.

Some systems and file systems have no such locks. There runs do not wait for each other, and what an ended run left
aside stays.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum, auto
from pathlib import Path

from sweep.errors import SceneError

try:
    import fcntl
except ImportError:  # not a POSIX system
    fcntl = None  # type: ignore[assignment]

LONGEST_WAIT = 10.0
"""s. Another run holds the lock while it renames and reads some MB, hundredths of a second."""

_BETWEEN_TRIES = 0.02
"""s."""


class Lock(Enum):
    """What became of an attempt to lock a folder."""

    OURS = auto()
    ANOTHERS = auto()
    UNKNOWN = auto()
    """There are no locks here."""


@contextmanager
def held(folder: Path) -> Iterator[Lock]:
    """Try once to lock a folder, and let go of it at the end if it became ours.

    Raises
    ------
    OSError
        When the folder cannot be opened.
    """
    if fcntl is None:
        yield Lock.UNKNOWN
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        yield _try(handle)
    finally:
        os.close(handle)


@contextmanager
def alone_in(folder: Path, option: str) -> Iterator[None]:
    """Wait until no other run replaces anything in a folder, and keep others waiting.

    Raises
    ------
    SceneError
        Naming `option`, after `LONGEST_WAIT`.
    OSError
        When the folder cannot be opened.
    """
    until = time.monotonic() + LONGEST_WAIT
    while True:
        with held(folder) as lock:
            if lock is not Lock.ANOTHERS:
                yield
                return
        if time.monotonic() > until:
            raise SceneError(
                option,
                f"another run has been writing in {folder} for {LONGEST_WAIT:g} s",
                "wait until it has ended, then run again",
            )
        time.sleep(_BETWEEN_TRIES)


def _try(handle: int) -> Lock:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return Lock.ANOTHERS
    except OSError:
        return Lock.UNKNOWN
    return Lock.OURS
