"""Two entries of a file system exchanged in one step, where the system can."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from pathlib import Path

_HERE, _EXCHANGE = -100, 2
"""AT_FDCWD and RENAME_EXCHANGE of Linux (rename(2); from the kernel's fcntl.h and fs.h)."""

_CANNOT = {errno.EINVAL, errno.ENOSYS, errno.ENOTSUP}


def exchanged(one: Path, other: Path) -> bool:
    """Exchange two files or folders of one file system, so that neither name is ever without one.

    Returns
    -------
    bool
        False, and nothing was done, where the system or the file system has no such call.

    Raises
    ------
    OSError
        When it has the call, and the call failed.
    """
    if sys.platform != "linux":
        return False
    library = ctypes.CDLL(None, use_errno=True)
    if not hasattr(library, "renameat2"):  # an old C library
        return False
    if library.renameat2(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(other))
