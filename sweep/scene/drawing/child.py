"""The process that reads one drawing and prints its longest line, or what is wrong with it, as JSON.

It limits its own memory and its own time on the processor. Windows has no such limits, and macOS does not keep that of
memory. There the limits that `read.py` sets remain: the size of the file, and the time by the clock.
"""

from __future__ import annotations

import contextlib
import json
import math
import sys
from itertools import pairwise
from pathlib import Path
from typing import Any

from sweep.errors import SceneError
from sweep.tolerance import CHORD

FLATTENED = CHORD / 2
"""mm. How far the chords that stand for arcs and curves may lie off them."""

REMEDY = "draw the profile alone, as one polyline, and save that"

Line = list[tuple[float, float]]


def main(path: Path, cpu_seconds: int, memory_bytes: int, largest: float, most_points: int) -> None:
    """Print what `answer` returns, within limits of time and memory."""
    _limit(cpu_seconds, memory_bytes)
    with contextlib.redirect_stdout(sys.stderr):  # the libraries may print
        found = answer(path, largest, most_points)
    print(json.dumps(found))  # noqa: T201


def answer(path: Path, largest: float, most_points: int) -> dict[str, Any]:
    """Return ``{"line": [[y, z], ...]}`` in mm, z upwards, or ``{"problem": "...", "remedy": "..."}``, never an error.

    A line is refused where a coordinate is more than `largest`, mm, or it has more than `most_points` points.
    """
    try:
        return {"line": _longest(path, largest, most_points)}
    except SceneError as wrong:
        return {"problem": wrong.problem.said(), "remedy": wrong.remedy.said()}
    except MemoryError:
        return {"problem": "reading it takes more memory than there is for it", "remedy": REMEDY}
    except Exception as wrong:  # whatever the libraries throw at a file they did not expect
        # only their own errors are about the file; the others are about their insides
        told = type(wrong).__module__ != "builtins"
        reason = f" ({' '.join(str(wrong).split())[:120]})" if told else ""
        return {"problem": f"this cannot be read as {path.suffix[1:].upper()}{reason}", "remedy": REMEDY}


def _longest(path: Path, largest: float, most_points: int) -> Line:
    if path.suffix.lower() == ".dxf":
        from sweep.scene.drawing.dxf import lines  # each reader is loaded only for its kind of drawing
    else:
        from sweep.scene.drawing.svg import lines
    longest: Line = []
    length = 0.0
    for line in lines(path, FLATTENED, largest):
        if not all(math.isfinite(x) and abs(x) <= largest for point in line for x in point):
            raise SceneError(str(path), f"a line runs further than {largest / 1000:g} m from its origin", REMEDY)
        own = sum(math.dist(a, b) for a, b in pairwise(line))
        if own > length:
            longest, length = line, own
    if not longest:
        raise SceneError(str(path), "there is no line in this drawing", REMEDY)
    if len(longest) > most_points:
        raise SceneError(str(path), f"its longest line has more than {most_points:,} points", REMEDY)
    return longest


def _limit(cpu_seconds: int, memory_bytes: int) -> None:
    try:
        import resource
    except ImportError:
        return
    limits = {resource.RLIMIT_CPU: cpu_seconds, resource.RLIMIT_AS: memory_bytes, resource.RLIMIT_CORE: 0}
    for kind, most in limits.items():
        hard = resource.getrlimit(kind)[1]
        most = most if hard == resource.RLIM_INFINITY else min(most, hard)
        with contextlib.suppress(ValueError, OSError):  # a system may know a limit and refuse to set it
            resource.setrlimit(kind, (most, hard))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]), float(sys.argv[4]), int(sys.argv[5]))
