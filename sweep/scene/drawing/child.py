"""The process that reads drawings and prints, of each, its longest line or what is wrong with it, as JSON.

It reads their paths, each with the most points that a line may have, from standard input, one a line, as JSON, and ends
with it. It limits its own memory, and its own time on the processor anew for each drawing, where the system can. There
remain the size of the file and the time by the clock (`reader.py`).
"""

from __future__ import annotations

import json
import math
import os
import sys
from itertools import pairwise
from pathlib import Path
from typing import Any

from sweep.bounded import limit_memory, limit_time
from sweep.errors import SceneError
from sweep.scene.drawing.chained import Line, chained
from sweep.tolerance import CHORD, DRAWN

FLATTENED = CHORD / 2
"""mm. How far the chords that stand for arcs and curves may lie off them."""

REMEDY = "draw the profile alone, its pieces end to end, and save that"


def main(cpu_seconds: int, memory_bytes: int, largest: float) -> None:
    """Print what `answer` returns for each drawing, within limits of time and memory."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)  # whatever a library prints is no answer
    limit_memory(memory_bytes)
    for line in sys.stdin:
        limit_time(cpu_seconds)
        path, most_points = json.loads(line)
        answers.write(json.dumps(answer(Path(path), largest, most_points)) + "\n")
        answers.flush()


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
    found: list[Line] = []
    for line in lines(path, FLATTENED, largest):
        if not all(math.isfinite(x) and abs(x) <= largest for point in line for x in point):
            raise SceneError(str(path), f"a line runs further than {largest / 1000:g} m from its origin", REMEDY)
        if any(point != line[0] for point in line):
            found.append(line)
    longest = max(chained(found, DRAWN), key=_length, default=[])
    if not longest:
        raise SceneError(str(path), "there is no line in this drawing", REMEDY)
    if len(longest) > most_points:
        raise SceneError(str(path), f"its longest line has more than {most_points:,} points", REMEDY)
    return longest


def _length(line: Line) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(line))


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), float(sys.argv[3]))
