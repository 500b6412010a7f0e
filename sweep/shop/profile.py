"""One profile of a folder, whatever it was written as, laid as the stock lies on the table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.scene.defaults import default_of
from sweep.scene.line import crosses_itself, turned_back
from sweep.scene.places import Tables
from sweep.scene.target import Target
from sweep.shape import section
from sweep.tolerance import DRAWN
from sweep.units import LENGTH

Array = NDArray[np.float64]

ON_THE_FACE = 0.5
"""mm. A line both of whose ends lie this close to its lowest point is one cove, measured or drawn; our choice."""


AS_ROUND = 0.95
"""A hollow that fills this share of the room within a string round it is one cove: a blade's is convex, but for the
notch that bevelled tips leave; our choice."""


@dataclass(frozen=True, eq=False)
class Profile:
    """A profile that is wanted, or was made.

    Parameters
    ----------
    name : str
        Its path from the folder, parts joined by ``/``.
    line : (n, 2) float, mm
        In (y, z) as the stock lies on the table: from the left edge of the cove to the right one; of a whole moulding
        the open line or the closed outline.
    whole : bool
        Whether it is a whole moulding, and not one cove.
    inches : bool
        Whether it is written in inches.
    tables : dict or None
        The scene it was written in, without what a shop says, its points in it; None of points and drawings.
    made : (n, 2) float, mm, or None
        The curve that the scene's own set-up cuts, the same way; None where it has none, or several.
    tolerance : float, mm
        How far a cut may be from it.
    """

    name: str
    line: Array
    whole: bool
    inches: bool
    tables: Tables | None = None
    made: Array | None = None
    tolerance: float = default_of(Target, "tolerance", LENGTH)


@dataclass(frozen=True)
class Unread:
    """A file that is no profile, and why: one sentence that does not name it."""

    name: str
    reason: str


def placed(points: Sequence[Sequence[float]]) -> tuple[Array, bool]:
    """Return points of a profile that has no stock, laid on it, and whether they are a whole moulding.

    The lowest point lies on the face, and the ends (of a whole moulding the outermost points) lie either side of the
    centreline. A cove runs from left to right. One that was drawn with its hollow upwards is turned half round. What
    runs along the face beside it is left out.
    """
    line = np.array(points, float)
    low, high = line[:, 1].min(), line[:, 1].max()
    ends = line[[0, -1], 1]
    if np.hypot(*(line[-1] - line[0])) > DRAWN:
        if np.all(ends >= high - ON_THE_FACE) and not np.all(ends <= low + ON_THE_FACE):
            line, low = -line, -high
        if line[0, 0] > line[-1, 0]:
            line = line[::-1]
        line = line - ((line[0, 0] + line[-1, 0]) / 2, low)
        if np.all(line[[0, -1], 1] <= ON_THE_FACE) and turned_back(line.tolist()) is None and not crosses_itself(line):
            hollow = _without_face(line)
            if len(hollow) < 3 or section.share_of_hull(hollow) >= AS_ROUND:
                return hollow, False
    across = line[:, 0]
    return line - ((across.min() + across.max()) / 2, line[:, 1].min()), True


def _without_face(line: Array) -> Array:
    """Return a cove's line without the flat to its left and right, its edges either side of the centreline."""
    above = np.flatnonzero(line[:, 1] > DRAWN)
    if len(above):
        line = line[max(above[0] - 1, 0) : above[-1] + 2]
    return line - ((line[0, 0] + line[-1, 0]) / 2, 0.0)
