"""What it does to a traced profile when the camera was not held square to the wood.

Seen by a pinhole (R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, 2003, section
6.1; from memory) at a distance D, a plane turned by an angle a about an upright line through the middle of the picture
is drawn with a point x off that line at x cos(a) / (1 + x sin(a) / D). To the first order it is nearer by x (1 -
cos(a)) whatever the distance, and moved inwards on one side and outwards on the other by x^2 sin(a) / D. A scanner
looks square on, from nowhere near.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

SKEW = math.radians(2)
"""An angle that is not seen by eye."""

NEAR, FAR = 500.0, 1500.0
"""mm. How far a phone is held as one holds it, and as far as its zoom allows."""


@dataclass(frozen=True)
class Askew:
    """What a skew of `SKEW` does to a piece so wide, mm.

    Parameters
    ----------
    narrower : float
        How much narrower it is drawn.
    near, far : float
        How far one edge is drawn in and the other out, from `NEAR` and from `FAR`.
    """

    narrower: float
    near: float
    far: float


def askew(width: float) -> Askew:
    """Return what a skew does to a piece `width` mm wide.

    Examples
    --------
    >>> found = askew(100.0)
    >>> round(found.narrower, 3), round(found.near, 3), round(found.far, 3)
    (0.061, 0.174, 0.058)
    """
    half = width / 2
    return Askew(width * (1 - math.cos(SKEW)), half * half * math.sin(SKEW) / NEAR, half * half * math.sin(SKEW) / FAR)
