"""Which profiles of a drawer are the same, and which set-up of the drawer makes which profile without a new one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sweep.shop.nearest import Index, Kept

MOST = 8
"""Others that are told of one profile: the nearest."""


@dataclass(frozen=True)
class Known:
    """What is kept of a profile to compare it with the others.

    Parameters
    ----------
    name : str
    line : (n, 2) float, mm
        What is wanted, as an index keeps it.
    made : (n, 2) float, mm, or None
        What its own set-up cuts.
    tolerance : float, mm
        Within which another is the same.
    """

    name: str
    line: Kept
    made: Kept | None
    tolerance: float


@dataclass(frozen=True)
class Alike:
    """Another profile, or what another one's set-up cuts, within a profile's tolerance.

    Parameters
    ----------
    profile, other : str
    how : "same" or "set-up"
        Whether the other profile is the same, or its set-up makes this one.
    deviation_mm : float
        The largest distance either way.
    mirrored : bool
        Whether it is so seen from its other end.
    """

    profile: str
    other: str
    how: Literal["same", "set-up"]
    deviation_mm: float
    mirrored: bool


def alike(profiles: Sequence[Known]) -> tuple[Alike, ...]:
    """Return all that lies within tolerance of one another: of two profiles that are the same the earlier one's row."""
    wanted = Index((one.name, one.line) for one in profiles)
    made = Index((one.name, one.made) for one in profiles if one.made is not None)
    found: list[Alike] = []
    for number, one in enumerate(profiles):
        for near in wanted.nearest(one.line, MOST + 1, one.tolerance):
            if near.number > number:
                found.append(Alike(one.name, near.name, "same", round(near.deviation, 4), near.mirrored))
        for near in made.nearest(one.line, MOST + 1, one.tolerance):
            if near.name != one.name:
                found.append(Alike(one.name, near.name, "set-up", round(near.deviation, 4), near.mirrored))
    return tuple(found)
