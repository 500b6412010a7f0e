"""A whole moulding as the target: from the points of its profile to the body that must stay.

The points are written in the stock's section: y from the centreline to the right looking along the feed, z up from the
face on the table. An open line runs from one edge of the stock to the other, and the wood beyond it, seen from the
table, stays. A closed outline has the same point first and last, and the wood within it stays.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.figure import length
from sweep.scene.keys import Stock
from sweep.scene.target import Target
from sweep.shape import edges, section
from sweep.tolerance import DRAWN, SAME_POINT


def kept_body(target: Target, stock: Stock) -> section.Figure:
    """Return the section of the body that must stay, one polygon in (y, z), mm.

    Parameters
    ----------
    target : Target
        A whole moulding.
    stock : Stock

    Raises
    ------
    SceneError
        When the points lie outside the stock, make no outline, or cross one another, or when all wood stays.
    """
    assert target.points is not None  # `Target` refuses it
    points = np.array(target.points, float) + (target.across, 0.0)
    _refuse_outside(points, stock)
    outline = edges.apart(points[:-1] if np.hypot(*(points[-1] - points[0])) < DRAWN else _closed(points, stock))
    if len(outline) < 3 or section.touches_itself(outline):
        raise SceneError(
            "target.points", "the profile crosses or touches itself", "write its points in order, each once"
        )
    planed = section.stock_section(stock.width, stock.thickness)
    kept = max(section.parts(section.within(section.together(outline), planed)), key=section.area, default=planed)
    if section.area(section.minus(planed, kept)) < SAME_POINT:
        raise SceneError("target.points", "the whole stock stays: nothing is to be cut", "write the profile wanted")
    return kept


def _refuse_outside(points: NDArray[np.float64], stock: Stock) -> None:
    beyond = np.column_stack([np.abs(points[:, 0]) - stock.width / 2, points[:, 1] - stock.thickness, -points[:, 1]])
    worst = int(np.argmax(beyond.max(axis=1)))
    if beyond[worst].max() > DRAWN:
        raise SceneError(
            "target.points",
            "the point at y = {y}, z = {z} lies outside the stock, {width} wide and {thickness} thick",
            "measure y from the centreline and z from the face on the table, in mm",
            y=length(float(points[worst, 0])),
            z=length(float(points[worst, 1])),
            width=length(stock.width),
            thickness=length(stock.thickness),
        )


def _closed(line: NDArray[np.float64], stock: Stock) -> NDArray[np.float64]:
    """Return an open line closed round the back of the stock, (n, 2) mm."""
    half, top = stock.width / 2, stock.thickness
    if line[0, 0] > line[-1, 0]:
        line = line[::-1]
    if max(abs(line[0, 0] + half), abs(line[-1, 0] - half)) > DRAWN:
        raise SceneError(
            "target.points",
            "the profile runs from y = {first} to y = {last}, and the stock from {left} to {right}",
            "run it from one edge of the stock to the other, or end it where it began",
            first=length(float(line[0, 0])),
            last=length(float(line[-1, 0])),
            left=length(-half),
            right=length(half),
        )
    line = line.copy()
    line[0, 0], line[-1, 0] = -half, half
    return np.vstack([line, [(half, top), (-half, top)]])
