"""How far points are from lines: the nearest stretch is found in a tree, so that not all are measured against all."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

STRETCH = 6
"""Segments measured together, and the stretches of a node: with either a few times as many it takes twice as long."""


def distances(points: NDArray[np.float64], lines: shapely.Geometry) -> NDArray[np.float64]:
    """Return how far each point is from the nearest of some lines, exactly.

    Parameters
    ----------
    points : (n, 2) float, mm
    lines : LineString, LinearRing or a collection of them, mm

    Returns
    -------
    (n,) float, mm
        NaN where there is no line.
    """
    stretches: list[shapely.Geometry] = []
    for part in shapely.get_parts(lines):
        ends = shapely.get_coordinates(part)
        stretches += [shapely.LineString(ends[k : k + STRETCH + 1]) for k in range(0, len(ends) - 1, STRETCH)]
    found = np.full(len(points), np.nan)
    tree = shapely.STRtree(stretches, STRETCH)
    (which, _), away = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    found[which] = away
    return found
