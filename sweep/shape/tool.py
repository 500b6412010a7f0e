"""The cutting tool as a solid of revolution: a polyline of (axial offset, radius).

It knows nothing of where it stands; that is `frame.py` and `feed.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

Band = tuple[tuple[float, float], tuple[float, float]]
"""Two neighbouring points of the profile: together a frustum, which is convex."""


@dataclass(frozen=True)
class Tool:
    """A solid of revolution about the arbor.

    Parameters
    ----------
    profile : tuple of (a, r), mm
        Axial offset from the mid-plane (never falling) and radius there (positive); two or more points.
    """

    profile: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        offsets = [a for a, _ in self.profile]
        if len(offsets) < 2 or any(b < a for a, b in pairwise(offsets)):
            raise ValueError("the profile needs two points or more, with offsets that never fall")
        if not offsets[-1] > offsets[0]:
            raise ValueError("the profile needs some width along the arbor")
        if any(r <= 0 or not math.isfinite(a + r) for a, r in self.profile):
            raise ValueError("every radius of the profile must be more than 0 mm")

    @property
    def radius(self) -> float:
        """The largest radius, mm."""
        return max(r for _, r in self.profile)

    @property
    def kerf(self) -> float:
        """The width along the arbor, mm."""
        return self.profile[-1][0] - self.profile[0][0]

    @property
    def middle(self) -> float:
        """Where the middle of the kerf lies along the arbor, from the mid-plane, mm: 0 but for a shaped cutter."""
        return (self.profile[0][0] + self.profile[-1][0]) / 2

    @property
    def bands(self) -> tuple[Band, ...]:
        """The frusta between neighbouring points, from the side that meets the oncoming stock first."""
        return tuple(pairwise(self.profile))

    def rise_above_centre(self, tilt: float) -> float:
        """Return how far the highest point stands above the blade's centre at this tilt, mm."""
        return max(r * math.cos(tilt) - a * math.sin(tilt) for a, r in self.profile)


@lru_cache  # a scene asks for its tool a hundred times in a run
def flat_tips(radius: float, kerf: float) -> Tool:
    """Return a blade with flat-topped teeth."""
    return Tool(((-kerf / 2, radius), (kerf / 2, radius)))


@lru_cache
def alternate_bevel(radius: float, kerf: float, bevel: float) -> Tool:
    """Return the solid that teeth bevelled to either hand sweep out: a rim with a notch in the middle.

    Once both hands have gone by, the rim reaches r(a) = R - (k/2 - |a|) tan(bevel).
    """
    notch = radius - kerf / 2 * math.tan(bevel)
    return Tool(((-kerf / 2, radius), (0.0, notch), (kerf / 2, radius)))
