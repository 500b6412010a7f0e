"""Traced points as a file of points, in mm, as `scene/points.py` reads it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.trace.face import Traced

Array = NDArray[np.float64]

FLANK = 5
"""Points at either end of a cove through which its flank is drawn on to the face."""

FEWEST = 10
"""Points that make a face."""


def points_text(traced: Traced, pixels: Array) -> str:
    """Return the text of a file of points: [y, z] a line, y along the face to the right, z into the wood.

    Parameters
    ----------
    traced : Traced
    pixels : (n, 2) float
        Its points, perhaps moved by hand. Those of a face are for `match` and `correct`; a cove is drawn on to the
        face, and a whole outline closed, for `target.file`.

    Raises
    ------
    SceneError
        When too few points are left, or they make no hollow.
    """
    if len(pixels) < FEWEST:
        raise SceneError("points", f"{len(pixels)} points are left", f"keep at least {FEWEST}")
    points = traced.placed(pixels)
    if traced.kind == "cove":
        points = _on_the_face(points)
    elif traced.kind == "whole":
        points = _closed(points)
    head = (
        f"# traced with the face on the {traced.side} of the picture; {1 / traced.scale.mm_per_pixel:.4g} pixels a mm; "
        f"each point to {traced.accuracy:.3f} mm (one standard deviation)\ny,z\n"
    )
    return head + "".join(f"{y + 0.0:.3f},{z + 0.0:.3f}\n" for y, z in points)


def _on_the_face(points: Array) -> Array:
    """Return a cove with its flanks drawn on to the face, its edges either side of the centreline."""
    points = points[points[:, 1] > 0]
    if len(points) < FEWEST or points[-1, 0] <= points[0, 0]:
        raise SceneError("points", "they make no hollow above the face", "move them back, or trace the picture anew")
    ends = [_foot(points[:FLANK]), _foot(points[: -FLANK - 1 : -1])]
    whole = np.vstack([ends[0], points, ends[1]])
    centred: Array = whole - ((whole[0, 0] + whole[-1, 0]) / 2, 0.0)
    return centred


def _foot(flank: Array) -> Array:
    """Return where the line through the first points of a flank meets the face."""
    run = flank[-1] - flank[0]
    slope = run[0] / run[1] if run[1] > 0 else 0.0
    return np.array([flank[0, 0] - slope * flank[0, 1], 0.0])


def _closed(points: Array) -> Array:
    across = points[:, 0]
    centred = points - ((across.min() + across.max()) / 2, 0.0)
    centred[:, 1] = np.maximum(centred[:, 1], 0.0)
    return np.vstack([centred, centred[:1]])
