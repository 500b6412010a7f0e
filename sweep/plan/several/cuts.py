"""The cuts that a moulding is made of, as data: coves and rips of a family, and rabbets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sweep.plan.several.family import Family
from sweep.plan.several.on_face import OnFace
from sweep.shape import edges, section
from sweep.shape.feed import StraightFeed
from sweep.tolerance import FINE_CHORD

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Cut:
    """A cove, or a rip along the saw's own fence.

    Parameters
    ----------
    family : Family
    place : float, mm
        Where the blade's centre runs along the stock, across it as it lies: a rip's `at`, a cove's offset negated.
    height : float, mm
    through : bool
        Whether a rip comes out of the stock, so that the wood on one side of it falls off.
    """

    family: Family
    place: float
    height: float
    through: bool = False

    cost = 1
    """For how many set-ups it counts."""

    @property
    def lying(self) -> OnFace:
        """How the stock lies for it."""
        return self.family.lying

    def figure(self, chord: float = FINE_CHORD) -> section.Figure:
        """Return what it takes itself, in the planed stock's section."""
        return _taken(self, chord)


@dataclass(frozen=True)
class RabbetCut:
    """A rabbet: a step along a lower edge of the stock as it lies, by two rips; what is left falls free.

    Parameters
    ----------
    lying : OnFace
    blade : int
        Which blade of the scene, counted from 0.
    left : bool
        Which lower edge.
    width, depth : float, mm
    """

    lying: OnFace
    blade: int
    left: bool
    width: float
    depth: float

    cost = 2

    def figure(self, chord: float = FINE_CHORD) -> section.Figure:
        """Return what it takes, in the planed stock's section."""
        corner = (-self.lying.size[0] / 2 if self.left else self.lying.size[0] / 2, 0.0)
        return section.laid(
            section.together(edges.rabbet(corner, self.width, self.depth, self.left, True)), self.lying.motion.back
        )


@lru_cache(maxsize=1024)  # asked for by every order that is tried
def _taken(cut: Cut, chord: float) -> section.Figure:
    feed = StraightFeed(cut.family.fence_angle, -cut.place)
    taken = section.cut_section(cut.family.tool, feed, cut.family.tilt, cut.height, chord)
    return section.laid(taken, cut.lying.motion.back)
