"""Whether points run as a profile does, from its left edge to its right one: written points and drawings alike."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from sweep.shape import edges, section
from sweep.tolerance import BELOW_TABLE

SLACK = 1e-9
"""mm. y may fall by less where it should rise: rounding in a drawing's own figures."""


def turned_back(points: Sequence[Sequence[float]]) -> int | None:
    """Return the number, from 1, of the first point at which a profile runs back though it may not, or None.

    Parameters
    ----------
    points : sequence of (y, z), mm
        From the left edge to the right one.

    Notes
    -----
    A cove of a tilted blade may overhang its edges: from the left edge its line first runs back to the left, and
    towards the right edge it runs back once more. Anything else, a point out of its order among them, has y rise again
    after it has fallen.
    """
    has_risen = falls = False
    for number, (before, here) in enumerate(pairwise(points), start=2):
        step = here[0] - before[0]
        if step > SLACK:
            if falls:
                return number
            has_risen = True
        elif step < -SLACK and has_risen:
            falls = True
    return None


def crosses_itself(points: Sequence[Sequence[float]]) -> bool:
    """Return whether a profile that is not `turned_back`, (y, z) mm, crosses or touches itself."""
    line = edges.apart(np.array(points, float))
    if np.all(np.diff(line[:, 0]) >= 0):
        return False
    below = [(line[-1, 0], -BELOW_TABLE), (line[0, 0], -BELOW_TABLE)]
    return section.touches_itself(np.vstack([line, below]))
