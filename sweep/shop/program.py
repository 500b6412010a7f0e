"""Which program this is: its version and its own files, so that answers of another one are never taken for its own."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.metadata import version
from pathlib import Path

NOT_FOLLOWED = ("show", "live", "trace")
"""Folders of the program from which no row follows."""


@cache
def program() -> str:
    """Return the version and a digest of the files that rows follow from; on a worker, the worker's."""
    package = Path(__file__).parents[1]
    digest = hashlib.sha256()
    for path in sorted(package.rglob("*.py")):
        name = path.relative_to(package)
        if name.parts[0] not in NOT_FOLLOWED:
            digest.update(name.as_posix().encode() + b"\0" + path.read_bytes())
    return f"{version('sweep')}-{digest.hexdigest()[:16]}"
