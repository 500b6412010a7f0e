"""A profile from a drawing: the longest line of a DXF or an SVG file, as points in mm.

A drawing has no stock in it, so the line is placed on the stock. Its lowest point lies on the face that rides on the
table, and its ends (of a whole moulding its outermost points) lie equally far from the centreline. `target.across`
moves it from there.

A process of its own reads the file (`reader.py`), with limits of time and memory.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path

from sweep.errors import SceneError
from sweep.scene.drawing.reader import DrawingReader
from sweep.scene.file import read_bytes
from sweep.scene.line import turned_back

MOST_BYTES = 2_000_000
"""The largest drawing that is read: a profile takes thousandths of it."""

_READER: ContextVar[DrawingReader | None] = ContextVar("reader", default=None)


@contextmanager
def read_by_one() -> Iterator[None]:
    """Have all drawings that are read inside read by one process: for many, where starting one for each would count."""
    with DrawingReader() as reader:
        before = _READER.set(reader)
        try:
            yield
        finally:
            _READER.reset(before)


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
    shared = _READER.get()
    try:
        with DrawingReader() if shared is None else nullcontext(shared) as reader:
            answer = reader.answer(path, most_points)
    except OSError as wrong:
        problem = f"no process can be started to read it ({wrong.strerror})"
        raise SceneError(str(path), problem, "end other programs and try again") from None
    if "problem" in answer:
        raise SceneError(str(path), answer["problem"], answer["remedy"])
    return tuple((y, z) for y, z in answer["line"])
