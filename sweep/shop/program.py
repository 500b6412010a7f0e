"""Which program this is: its version and its own files, so that answers of another one are never taken for its own."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.metadata import version
from pathlib import Path

WORKED_OUT_BY = ("quantity.py", "tolerance.py", "shape", "scene", "cut", "check", "plan", "shop")
"""What a row follows from."""


@cache
def program() -> str:
    """Return the version and a digest of the files that rows follow from; on a worker, the worker's."""
    package = Path(__file__).parents[1]
    digest = hashlib.sha256()
    for place in WORKED_OUT_BY:
        for path in sorted((package / place).rglob("*.py")) or [package / place]:
            digest.update(path.relative_to(package).as_posix().encode() + b"\0" + path.read_bytes())
    return f"{version('sweep')}-{digest.hexdigest()[:16]}"
