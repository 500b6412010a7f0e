"""What it does to a traced profile when the camera was not held square to the wood.

Seen by a pinhole (R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, 2003, section
6.1; from memory) at a distance D, a plane turned by an angle a about an upright line through the middle of the picture
is drawn with a point x off that line at x cos(a) / (1 + x sin(a) / D). To the first order it is nearer by x (1 -
cos(a)) whatever the distance, and moved inwards on one side and outwards on the other by x^2 sin(a) / D. A scanner
looks square on, from nowhere near.
"""

from __future__ import annotations

import math

SKEW = math.radians(2)
"""An angle that is not seen by eye."""


def narrower(width: float) -> float:
    """Return how much narrower a skew of `SKEW` draws a piece `width` mm wide, mm.

    Examples
    --------
    >>> round(narrower(100.0), 3)
    0.061
    """
    return width * (1 - math.cos(SKEW))


def shifted(width: float, distance: float) -> float:
    """Return how far it draws one edge in, and the other out, seen from a distance, mm.

    Examples
    --------
    >>> round(shifted(100.0, 500.0), 3)
    0.174
    """
    return (width / 2) ** 2 * math.sin(SKEW) / distance
