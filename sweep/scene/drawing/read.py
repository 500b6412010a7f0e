"""A profile from a drawing: the longest line of a DXF or an SVG file, as points in mm.

A drawing has no stock in it, so the line is placed on the stock. Its lowest point lies on the face that rides on the
table, and its ends (of a whole moulding its outermost points) lie equally far from the centreline. `target.across`
moves it from there.

A process of its own (`child.py`) reads the file, with limits of time and memory. A drawing of a few lines, or a fault
in the libraries that read drawings, can ask for hours or for all the memory there is.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sweep.errors import SceneError
from sweep.scene.drawing.child import REMEDY
from sweep.scene.file import read_bytes
from sweep.scene.line import turned_back

MOST_BYTES = 2_000_000
"""The largest drawing that is read: a profile takes thousandths of it."""

CPU_SECONDS, WALL_SECONDS = 5, 20
"""Most time that reading may take, of the processor and by the clock: lines that fill `MOST_BYTES` take about 3 s."""

MEMORY_BYTES = 1 << 30
"""Most memory that reading may take; the libraries alone ask for about 300 MB of addresses."""

LARGEST = 100_000.0
"""mm. Farthest that a coordinate may lie from the drawing's origin: 100 m, beyond any sheet."""

NO_FONTS = '{"version": 2, "font-faces": []}'
"""What the reader of DXF finds for a list of fonts: it would search the whole system for them, and keep what it found
among the user's files."""

TOO_MUCH = f"reading it takes more than {CPU_SECONDS} s or {MEMORY_BYTES >> 30} GB"


def read_drawing(path: Path, most_points: int) -> list[list[float]]:
    """Return the longest open line of a drawing, placed on the stock, as [[y, z], ...] from left to right, mm.

    Raises
    ------
    SceneError
        When the file is no drawing, holds no line, takes more time or memory than a profile could, or when its
        longest line turns back, or has more than `most_points` points.
    """
    line = _line_in(path, most_points)
    if line[0][0] > line[-1][0]:
        line = line[::-1]
    if turned_back(line) is not None:
        raise SceneError(str(path), "the line turns back on itself", "draw it from one edge of the cove to the other")
    middle, lowest = (line[0][0] + line[-1][0]) / 2, min(z for _, z in line)
    return [[y - middle, z - lowest] for y, z in line]


def read_outline(path: Path, most_points: int) -> list[list[float]]:
    """Return the longest line of a drawing, open or closed, placed on the stock, as [[y, z], ...], mm.

    Raises
    ------
    SceneError
        When the file is no drawing, holds no line, takes more time or memory than a profile could, or when its
        longest line has more than `most_points` points.
    """
    line = _line_in(path, most_points)
    across = [y for y, _ in line]
    middle, lowest = (min(across) + max(across)) / 2, min(z for _, z in line)
    return [[y - middle, z - lowest] for y, z in line]


def _line_in(path: Path, most_points: int) -> tuple[tuple[float, float], ...]:
    content = read_bytes(path, "a DXF or SVG drawing", MOST_BYTES)
    return _longest_line(path, hashlib.sha256(content).digest(), most_points)


@lru_cache(maxsize=16)
def _longest_line(path: Path, content: bytes, most_points: int) -> tuple[tuple[float, float], ...]:
    """Return the line as the child process found it; `content` tells a changed file from one already read.

    A live page asks for the same drawing with every setting that is moved.
    """
    # the child looks for modules where this process does, and nowhere else: not beside the drawing
    places = [str(Path(__file__).parents[3]), *(place for place in sys.path if place)]
    limits = (CPU_SECONDS, MEMORY_BYTES, LARGEST, most_points)
    try:
        with TemporaryDirectory(prefix="sweep-drawing-") as kept:
            fonts = Path(kept) / "ezdxf" / "font_manager_cache.json"
            fonts.parent.mkdir()
            fonts.write_text(NO_FONTS, encoding="utf-8")
            ours = {"PYTHONPATH": os.pathsep.join(places), "XDG_CACHE_HOME": kept, "OPENBLAS_NUM_THREADS": "1"}
            child = subprocess.run(
                [sys.executable, "-P", "-m", "sweep.scene.drawing.child", path.absolute(), *map(str, limits)],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                cwd=Path(__file__).parent,
                env=os.environ | ours,
                timeout=WALL_SECONDS,
            )
        answer = json.loads(child.stdout)
    except OSError as wrong:
        problem = f"no process can be started to read it ({wrong.strerror})"
        raise SceneError(str(path), problem, "end other programs and try again") from None
    except (subprocess.TimeoutExpired, ValueError):  # it was ended, or ended without an answer
        answer = {"problem": TOO_MUCH, "remedy": REMEDY}
    if "problem" in answer:
        raise SceneError(str(path), answer["problem"], answer["remedy"])
    return tuple((y, z) for y, z in answer["line"])
