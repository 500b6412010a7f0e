"""The lines of an SVG drawing, arcs and curves drawn by chords."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from xml.parsers import expat

import svgelements

from sweep.errors import SceneError

SVG_PER_INCH = 96.0
"""User units of SVG to an inch: the CSS pixel (W3C, CSS Values and Units, section 6.2)."""

MM = 25.4 / SVG_PER_INCH
"""mm to a user unit."""


def lines(path: Path, tolerance: float, largest: float) -> Iterator[list[tuple[float, float]]]:
    """Yield each line as points, mm, y upwards; chords lie within `tolerance` of what they stand for.

    A curve that would reach beyond `largest` is not drawn by chords, whose number grows with its size. It gives only
    the points that show how far it reaches.

    Raises
    ------
    SceneError
        For a file that defines entities.
    Exception
        Whatever the library meets with.
    """
    _refuse_entities(path)
    document = svgelements.SVG.parse(str(path), ppi=SVG_PER_INCH)
    for shape in document.elements(lambda one: isinstance(one, svgelements.Shape)):
        for part in svgelements.Path(shape).as_subpaths():
            points = []
            for segment in svgelements.Path(part):
                # SVG counts y downwards
                points += [(p.x * MM, -p.y * MM) for p in _points(segment, tolerance / MM, largest / MM)]
            yield points


def _refuse_entities(path: Path) -> None:
    """Raise for a file that defines entities: a few lines of them can stand for terabytes, or for other files."""

    def refuse(*_: object) -> None:
        raise SceneError(str(path), "it defines entities, which can stand for anything", "save it as plain SVG")

    reader = expat.ParserCreate()
    reader.EntityDeclHandler = refuse
    reader.Parse(path.read_bytes(), True)


def _points(segment: svgelements.PathSegment, tolerance: float, largest: float) -> list[svgelements.Point]:
    """Return points along one piece of a path, its start left out where it only moves there.

    Notes
    -----
    n equal steps of the parameter lie within max |B''| / (8 n^2) of a curve B (the error of linear interpolation).
    For Bezier curves |B''| is at most m (m - 1) times the largest second difference of the m + 1 control points; on an
    ellipse swept through an angle, at most the larger radius times that angle squared.
    """
    if isinstance(segment, (svgelements.Move, svgelements.Line, svgelements.Close)):
        return [] if segment.end is None else [segment.end]
    if isinstance(segment, svgelements.Arc):
        reach = [segment.center, segment.prx, segment.pry]
        bend = max(segment.rx, segment.ry) * segment.sweep**2
    elif isinstance(segment, svgelements.QuadraticBezier):
        reach = [segment.start, segment.control, segment.end]
        bend = 2 * _second_difference(reach)
    else:
        reach = [segment.start, segment.control1, segment.control2, segment.end]
        bend = 6 * _second_difference(reach)
    if not all(abs(x) <= largest for p in reach for x in (p.x, p.y)):
        return reach
    count = max(1, math.ceil(math.sqrt(bend / (8 * tolerance))))
    return [segment.point(step / count) for step in range(1, count + 1)]


def _second_difference(points: list[svgelements.Point]) -> float:
    """Return the largest second difference of control points, in the drawing's unit."""
    triples = zip(points, points[1:], points[2:])  # noqa: B905
    return max(math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y) for a, b, c in triples)
