"""Several blades held against the points of one offcut: which cannot have cut it, and how hard the others are to tell.

Blades of another diameter, set otherwise, leave almost the same outline. How nearly is told by two that fit: the
distances of the points from the one outline and from the other differ by a vector d. Were one of them the truth, and
each point measured with a standard deviation s, least squares would take the other for it with a probability of
Phi(-|d| / 2s): the error of telling two known signals in white noise apart (S. M. Kay, Fundamentals of Statistical
Signal Processing: Detection Theory, 1998, section 4.3.2; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr, ndtri

from sweep.plan.match import ACCURACY, FINE, Match, match_offcut
from sweep.plan.moulding import Outlines
from sweep.shape.tool import Tool

Array = NDArray[np.float64]

SELDOM = 0.05
"""How often two blades may be taken for each other and still count as told apart: 1 time in 20; our choice."""


@dataclass(frozen=True)
class Tried:
    """One blade.

    Parameters
    ----------
    number : int
        Its place among those that were tried, from 0.
    match : Match
    too_high : bool
        Whether it would have to stand higher than the saw raises it.
    """

    number: int
    match: Match
    too_high: bool

    @property
    def can(self) -> bool:
        """Whether it can have cut the piece on this saw."""
        return self.match.by_this_blade and not self.too_high


@dataclass(frozen=True)
class BladeLikeness:
    """How nearly the best two blades leave the same outline.

    Parameters
    ----------
    largest, rms : float, mm
        Between both outlines, at the points.
    mistaken : float
        How often points measured so exactly would take one for the other: 0.5 where nothing tells them.
    needed : float, mm
        The accuracy of each point that would tell them apart, but for 1 time in 20.
    """

    largest: float
    rms: float
    mistaken: float
    needed: float

    @property
    def told_apart(self) -> bool:
        """Whether the points tell the two."""
        return self.mistaken <= SELDOM


@dataclass(frozen=True)
class Rivals:
    """All blades that were tried, the likeliest first, those that cannot have cut it last.

    Parameters
    ----------
    tried : tuple of Tried
    likeness : BladeLikeness or None
        Of the first two; None where fewer than two can have cut it.
    """

    tried: tuple[Tried, ...]
    likeness: BladeLikeness | None

    @property
    def best(self) -> Tried:
        """The blade that lies closest, of those that can have cut it where any can."""
        return self.tried[0]


def match_blades(
    tools: Sequence[Tool],
    points: ArrayLike,
    tilts: tuple[float, float] = (-math.pi / 4, math.pi / 4),
    accuracy: float = ACCURACY,
    max_height: float | None = None,
    on_done: Callable[[], None] = lambda: None,
) -> Rivals:
    """Return what each of several blades makes of the points.

    Parameters
    ----------
    tools : sequence of Tool
        At least one.
    points : (n, 2) float, mm
    tilts : (float, float), rad
    accuracy : float, mm
        As for `match_offcut`.
    max_height : float or None, mm
        Most that the saw raises a blade.
    on_done : function
        Called after each blade.

    Raises
    ------
    SceneError
        When the points, the tilts or the accuracy cannot be used.
    """
    tried = []
    for number, tool in enumerate(tools):
        match = match_offcut(tool, points, tilts, accuracy)
        height = match.blade_height
        least = None if height.half_width is None else height.value - height.half_width
        tried.append(Tried(number, match, max_height is not None and least is not None and least > max_height))
        on_done()
    ranked = tuple(sorted(tried, key=lambda one: (not one.can, one.match.scatter, one.number)))
    likely = [one for one in ranked if one.can][:2]
    if len(likely) < 2:
        return Rivals(ranked, None)
    first, second = (_distances(tools[one.number], points, one.match, tilts) for one in likely)
    return Rivals(ranked, _likeness(first - second, accuracy))


def _distances(tool: Tool, points: ArrayLike, match: Match, tilts: tuple[float, float]) -> Array:
    """Return how far each point lies from the outline of a match, mm."""
    settings = (match.fence_angle, match.blade_height, match.blade_tilt, match.rotation, *match.shift)
    row = np.array([[one.value for one in settings]])
    found: Array = Outlines(tool, tilts).off(np.asarray(points, float), row, FINE)[0]
    return found


def _likeness(between: Array, accuracy: float) -> BladeLikeness:
    far = float(np.linalg.norm(between))
    return BladeLikeness(
        largest=float(np.abs(between).max()),
        rms=far / math.sqrt(len(between)),
        mistaken=float(ndtr(-far / (2 * accuracy))),
        needed=far / (2 * -float(ndtri(SELDOM))),
    )
