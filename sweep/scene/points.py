"""Points measured on a profile, or read off a drawing, from the file that a scene names."""

from __future__ import annotations

import csv
import math
from pathlib import Path

from sweep.errors import SceneError
from sweep.scene.drawing.read import read_drawing, read_outline
from sweep.scene.file import read_text
from sweep.scene.target import MOST_POINTS


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

    Raises
    ------
    SceneError
        Naming the first point that is none, or saying that there are more than `MOST_POINTS`.
    """
    what = "a CSV file of points, or of a DXF or SVG drawing"
    lines = [line for line in read_text(path, what).splitlines() if line.strip()]
    lines = [line for line in lines if not line.lstrip().startswith("#")]
    if len(lines) > MOST_POINTS + 1:
        raise SceneError(str(path), f"there are more than {MOST_POINTS:,} points", "leave most of them out")
    points = []
    for number, line in enumerate(lines, start=1):
        try:
            (row,) = csv.reader([line])  # a line at a time: an open quotation mark takes no more than its own
            y, z = (float(cell) for cell in row)
            if not (math.isfinite(y) and math.isfinite(z)):
                raise ValueError
        except (ValueError, csv.Error):
            if number == 1 and line.lstrip()[0] not in "0123456789+-.":
                continue
            raise SceneError(
                str(path), f"point {number} is '{line[:40]}'", "write y,z in mm, one point a line"
            ) from None
        points.append([y, z])
    return points
