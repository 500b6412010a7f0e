"""Where the user wants something written: the real place behind links, or one sentence that says why not there."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sweep.errors import SceneError

_REMEDIES = {
    errno.ENOSPC: "make room on the disk, then run again",
    errno.EDQUOT: "make room on the disk, then run again",
    errno.EFBIG: "make room on the disk, then run again",
    errno.ENAMETOOLONG: "give a shorter name",
    errno.EACCES: "give a place that you may write to",
    errno.EPERM: "give a place that you may write to",
    errno.EROFS: "give a place that you may write to",
}


@contextmanager
def refusing(option: str, path: Path) -> Iterator[None]:
    """Turn what the system says while something is written to `path` into one sentence.

    Raises
    ------
    SceneError
        Naming `option`, for every `OSError` inside.
    """
    try:
        yield
    except OSError as wrong:
        remedy = _REMEDIES.get(wrong.errno or 0, "give another place")
        raise SceneError(option, f"{path} cannot be written ({wrong.strerror or wrong})", remedy) from None


def real_place(path: Path, option: str) -> Path:
    """Return the absolute path that `path` leads to through links; its last part need not be there.

    Raises
    ------
    SceneError
        When a link on the way leads nowhere, or the system cannot follow the path.
    """
    with refusing(option, path):
        for part in (path, *path.parents):
            if part.is_symlink() and not part.exists():
                raise SceneError(option, f"{part} is a link that leads nowhere", "mend the link, or give another place")
        return path.resolve()


def is_read_only(path: Path) -> bool:
    """Return whether nobody may write to `path`, or we may not; its mode counts for an administrator too."""
    return not path.stat().st_mode & 0o222 or not os.access(path, os.W_OK)


def keep_mode(old: Path, new: Path) -> None:
    """Give `new` the mode of `old`, and its owner as far as we may."""
    was, now = old.stat(), new.stat()
    if (was.st_uid, was.st_gid) != (now.st_uid, now.st_gid):
        with suppress(PermissionError):
            os.chown(new, was.st_uid, was.st_gid)
    new.chmod(stat.S_IMODE(was.st_mode))
