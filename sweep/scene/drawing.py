"""A profile from a drawing: the longest line of a DXF or an SVG file, as points in mm.

A drawing has no stock in it, so the line is placed on one: its lowest point on the face that rides on
the table, its two ends as far from the centreline on either side. `target.across` moves it from there.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.tolerance import CHORD
from sweep.units import MM_PER_INCH

SVG_PER_INCH = 96.0
"""User units of SVG to an inch: the CSS pixel (W3C, CSS Values and Units, section 6.2)."""

FLATTENED = CHORD / 2
"""mm. How far the chords that stand for arcs and curves may lie off them."""


def read_drawing(path: Path) -> list[list[float]]:
    """Return the longest open line of a drawing, placed on the stock, as [[y, z], ...] from left to right, mm.

    Raises
    ------
    SceneError
        When the file is no drawing or holds no line.
    """
    lines = _dxf_lines(path) if path.suffix.lower() == ".dxf" else _svg_lines(path)
    lines = [line for line in lines if len(line) > 1]
    if not lines:
        raise SceneError(str(path), "there is no line in this drawing", "draw the profile as one polyline")
    line = max(lines, key=lambda one: float(np.hypot(*np.diff(one, axis=0).T).sum()))
    if line[0, 0] > line[-1, 0]:
        line = line[::-1]
    if np.any(np.diff(line[:, 0]) < -1e-9):
        raise SceneError(str(path), "the line turns back on itself", "draw it from one edge of the cove to the other")
    return (line - ((line[0, 0] + line[-1, 0]) / 2, line[:, 1].min())).tolist()


def _dxf_lines(path: Path) -> list[NDArray[np.float64]]:
    import ezdxf  # reading a drawing is rare, and loading its reader is slow
    from ezdxf import path as paths
    from ezdxf import units

    try:
        document = ezdxf.readfile(path)
    except (OSError, ezdxf.DXFError, UnicodeDecodeError) as wrong:
        raise SceneError(str(path), f"this cannot be read as DXF ({wrong})", "save it as DXF again") from None
    scale = units.conversion_factor(document.units, units.MM) if document.units else 1.0
    kinds = "LWPOLYLINE POLYLINE LINE ARC ELLIPSE SPLINE"
    found = [paths.make_path(entity) for entity in document.modelspace().query(kinds)]
    flat = [np.array([(p.x, p.y) for p in one.flattening(FLATTENED / scale)]) * scale for one in found]
    return flat


def _svg_lines(path: Path) -> list[NDArray[np.float64]]:
    from xml.etree.ElementTree import ParseError

    import svgelements

    try:
        document = svgelements.SVG.parse(str(path), ppi=SVG_PER_INCH)
    except (OSError, ParseError, ValueError) as wrong:
        raise SceneError(str(path), f"this cannot be read as SVG ({wrong})", "save it as plain SVG again") from None
    lines = []
    for shape in document.elements(lambda one: isinstance(one, svgelements.Shape)):
        for part in svgelements.Path(shape).as_subpaths():
            points = [_flat(segment) for segment in svgelements.Path(part)]
            if any(len(some) for some in points):
                # SVG counts y downwards
                lines.append(np.vstack([some for some in points if len(some)]) * (1, -1) * MM_PER_INCH / SVG_PER_INCH)
    return lines


def _flat(segment) -> NDArray[np.float64]:
    """Return points along one piece of an SVG path, its start left out where it only moves there."""
    import svgelements

    if isinstance(segment, svgelements.Move):
        return np.array([[segment.end.x, segment.end.y]])
    if isinstance(segment, (svgelements.Line, svgelements.Close)):
        return np.array([[segment.end.x, segment.end.y]]) if segment.end is not None else np.zeros((0, 2))
    return np.array([[p.x, p.y] for p in (segment.point(t) for t in np.linspace(0, 1, 201)[1:])])
