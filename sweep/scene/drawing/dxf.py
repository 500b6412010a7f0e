"""The lines of a DXF drawing's model space, arcs and curves drawn by chords."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ezdxf import path as paths
from ezdxf import units
from ezdxf.enums import InsertUnits
from ezdxf.filemanagement import readfile

KINDS = "LWPOLYLINE POLYLINE LINE ARC ELLIPSE SPLINE"


def lines(path: Path, tolerance: float, largest: float) -> Iterator[list[tuple[float, float]]]:
    """Yield each line as points, mm, y upwards; chords lie within `tolerance` of what they stand for.

    A line that would reach beyond `largest` is not drawn by chords, whose number grows with its size. It gives only
    the points that show how far it reaches.

    Raises
    ------
    Exception
        Whatever the library meets with.
    """
    document = readfile(path)
    # of a drawing without a header the library says metres
    given = InsertUnits(document.units) if b"$INSUNITS" in path.read_bytes() else InsertUnits.Unitless
    scale = units.conversion_factor(given, InsertUnits.Millimeters) if given else 1.0
    for entity in document.modelspace().query(KINDS):
        drawn = paths.make_path(entity)
        corners = [(p.x * scale, p.y * scale) for p in drawn.control_vertices()]
        if all(abs(x) <= largest for corner in corners for x in corner):
            corners = [(p.x * scale, p.y * scale) for p in drawn.flattening(tolerance / scale)]
        yield corners
