"""The mark of a folder of results: what a run wrote there, each file with its digest.

It is in the format of `sha256sum`, so `sha256sum -c .written-by-sweep` says which files are still as they were written.
The digest tells a file that the user has changed since from one that may be replaced: a name alone would not.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

MARK = ".written-by-sweep"
"""Its name in the folder."""

HEADING = "# Written by sweep: a later run replaces these files, while they are unchanged, and no others."

MOST_BYTES = 1_000_000
"""The largest mark that is read: a name and a digest take a hundred."""

_LINE = re.compile(r"([0-9a-f]{64})  ([^/\\\0\n]+)")


@dataclass(frozen=True)
class Mark:
    """What a run wrote into a folder.

    Parameters
    ----------
    digests : Mapping of str to str
        The SHA-256 of each file, in hexadecimal, by its name.
    """

    digests: Mapping[str, str]

    def is_as_written(self, path: Path) -> bool:
        """Return whether a run wrote this file and nobody has changed, replaced or write-protected it since."""
        wanted = self.digests.get(path.name)
        if wanted is None:
            return False
        try:
            mode = path.lstat().st_mode
            return stat.S_ISREG(mode) and bool(mode & 0o222) and _digest(path) == wanted
        except OSError:
            return False


def read_mark(folder: Path) -> Mark | None:
    """Return the mark of a folder; None when it has none that we wrote."""
    path = folder / MARK
    try:
        about = path.lstat()
        if not stat.S_ISREG(about.st_mode) or about.st_size > MOST_BYTES:
            return None
        heading, *lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):  # an empty file has no first line, and other bytes are not UTF-8
        return None
    rows = [_LINE.fullmatch(line) for line in lines]
    if heading != HEADING or None in rows:
        return None
    return Mark({row[2]: row[1] for row in rows if row})


def write_mark(folder: Path) -> None:
    """Mark a folder in which everything was written by this run, and see everything safely onto the disk.

    Raises
    ------
    OSError
    """
    lines = [f"{_digest(path, settle=True)}  {path.name}" for path in sorted(folder.iterdir())]
    with (folder / MARK).open("w", encoding="utf-8", newline="\n") as file:
        file.write("\n".join([HEADING, *lines, ""]))
        file.flush()
        os.fsync(file.fileno())


def _digest(path: Path, settle: bool = False) -> str:
    with path.open("r+b") if settle else path.open("rb") as file:
        if settle:  # a full disk across a network is told only now
            os.fsync(file.fileno())
        return hashlib.file_digest(file, "sha256").hexdigest()
