"""Processes that read what a library may choke on, begun with few surroundings and held to limits of time and memory.

The reading process limits itself before it looks at anything; the program asks and waits (`trace/`, `scene/drawing/`).
"""

from __future__ import annotations

import contextlib
import os
import sys
import time
from pathlib import Path


def command(module: str, *limits: float) -> list[str]:
    """Return the command that runs a module of this package with its limits."""
    return [sys.executable, "-P", "-m", module, *map(str, limits)]


def surroundings(**ours: str) -> dict[str, str]:
    """Return the environment of such a process, with more that is ours.

    It looks for modules where this process does, and nowhere else: not beside the file that it reads.
    """
    places = [str(Path(__file__).parents[1]), *(place for place in sys.path if place)]
    one_thread = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    return os.environ | one_thread | ours | {"PYTHONPATH": os.pathsep.join(places)}


def limit_time(cpu_seconds: int) -> None:
    """Let the system end this process once it has taken so long from now on; Windows has no such limit."""
    with contextlib.suppress(ImportError):
        import resource

        _limit(resource.RLIMIT_CPU, int(time.process_time()) + cpu_seconds)


def limit_memory(memory_bytes: int) -> None:
    """Let this process have no more memory; Windows has no such limit, and macOS does not keep it."""
    with contextlib.suppress(ImportError):
        import resource

        _limit(resource.RLIMIT_AS, memory_bytes)
        _limit(resource.RLIMIT_CORE, 0)


def _limit(kind: int, most: int) -> None:
    import resource

    hard = resource.getrlimit(kind)[1]
    with contextlib.suppress(ValueError, OSError):  # a system may know a limit and refuse to set it
        resource.setrlimit(kind, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))
