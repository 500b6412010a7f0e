"""Chosen cuts moved between the settings that were tried first, for as long as together they take more."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sweep.plan.several.candidates import LEAST_ANGLE, PLACE_STEP, TILT_STEP, Pool, joined, of_family, takes_of
from sweep.plan.several.cuts import Cut, Step
from sweep.plan.several.family import Family
from sweep.plan.several.wanted import Wanted
from sweep.scene.model import Scene

HALVINGS = 5
"""How often the steps between settings are halved: the last ones are a thirtieth of a mm and half a degree."""

RATIO = 1.3
"""About that of one fence angle tried first to the next."""

WORTH = 0.01
"""mm2. A move that gains less is not made."""


def refined(cuts: tuple[Cut | Step, ...], scene: Scene, wanted: Wanted) -> tuple[Cut | Step, ...]:
    """Return the cuts moved, one after the other, to angles, tilts and places at which they take more together.

    It ends: at every width of step, each cut is looked at once.
    """
    found = list(cuts)
    takes = np.array([takes_of(cut, wanted, wanted.cells) for cut in found])
    for halved in range(1, HALVINGS + 1):
        for k, cut in enumerate(found):
            if isinstance(cut, Step):
                continue
            near = _near(cut, scene, wanted, 0.5**halved)
            left = ~np.delete(takes, k, axis=0).any(axis=0)
            gains = (near.takes & left).sum(axis=1)
            best = int(np.argmax(gains))
            if (gains[best] - (takes[k] & left).sum()) * wanted.cell > WORTH:
                found[k], takes[k] = near.cuts[best], near.takes[best]
    return tuple(found)


def _near(cut: Cut, scene: Scene, wanted: Wanted, step: float) -> Pool:
    """Return the cuts around one, a share of the first steps of angle, tilt and place away."""
    family, steepest = cut.family, max(scene.limits.fence_angle, LEAST_ANGLE)
    angles = {min(max(family.fence_angle * RATIO ** (k * step), LEAST_ANGLE), steepest) for k in (-1, 0, 1)}
    if family.is_rip:
        angles = {0.0}
    low, high = scene.saw.tilts
    tilts = {min(max(family.tilt + k * step * TILT_STEP, low), high) for k in (-1, 0, 1)}
    places = cut.place + step * PLACE_STEP * np.arange(-3.0, 4.0)
    families: list[Family] = [replace(family, fence_angle=a, tilt=t) for a in sorted(angles) for t in sorted(tilts)]
    return joined([part for one in families for part in of_family(one, scene, wanted, places, wanted.cells)])
