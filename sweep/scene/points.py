"""Points measured on a profile, or read off a drawing, from the file that a scene names."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

from sweep.errors import SceneError
from sweep.quantity import read_number
from sweep.scene.drawing.read import read_drawing, read_outline
from sweep.scene.file import read_text
from sweep.scene.target import MOST_POINTS
from sweep.units import MM_PER_INCH

_IN_INCHES = re.compile(r"\binch(?:es)?\b|^\s*y\s*[(\[]?in[)\]]?\s*,\s*z\s*[(\[]?in[)\]]?\s*$", re.IGNORECASE)


def points_in(path: Path, whole: bool = False) -> list[list[float]]:
    """Return the points of a drawing (`.dxf`, `.svg`) or of a file of points (any other name), [[y, z], ...], mm.

    Of a drawing of a whole moulding the line may turn back or be closed.

    Raises
    ------
    SceneError
    """
    if path.suffix.lower() in (".dxf", ".svg"):
        return read_outline(path, MOST_POINTS) if whole else read_drawing(path, MOST_POINTS)
    return read_points(path)


def read_points(path: Path) -> list[list[float]]:
    """Read y,z in mm, one point a line; a first line of words and lines starting with # are passed over.

    A first line ``y in,z in``, or one that speaks of inches, has them in inches, as decimals or fractions.

    Raises
    ------
    SceneError
        Naming the first point that is none, or saying that there are more than `MOST_POINTS`.
    """
    lines = _lines_of(path)
    if len(lines) > MOST_POINTS + 1:
        raise SceneError(str(path), f"there are more than {MOST_POINTS:,} points", "leave most of them out")
    inches = bool(lines) and _IN_INCHES.search(lines[0]) is not None
    points = []
    for number, line in enumerate(lines, start=1):
        try:
            (row,) = csv.reader([line])  # a line at a time: an open quotation mark takes no more than its own
            y, z = (_inches(cell) * MM_PER_INCH if inches else float(cell) for cell in row)
            if not (math.isfinite(y) and math.isfinite(z)):
                raise ValueError
        except (ValueError, csv.Error):
            if number == 1 and line.lstrip()[0] not in "0123456789+-.":
                continue
            raise SceneError(
                str(path),
                f"point {number} is '{line[:40]}'",
                "write y,z in mm, one point a line, or in inches below a first line y in,z in",
            ) from None
        points.append([y, z])
    return points


def in_inches_by_heading(path: Path) -> bool:
    """Return whether the first line of a file of points says that they are in inches.

    Raises
    ------
    SceneError
    """
    lines = _lines_of(path)
    return bool(lines) and _IN_INCHES.search(lines[0]) is not None


def _lines_of(path: Path) -> list[str]:
    lines = read_text(path, "a CSV file of points, or of a DXF or SVG drawing").splitlines()
    return [line for line in lines if line.strip() and not line.lstrip().startswith("#")]


def _inches(cell: str) -> float:
    """Return a number or a fraction of inches, with its sign."""
    body = cell.strip()
    return -read_number(body[1:]) if body.startswith("-") else read_number(body.removeprefix("+"))
