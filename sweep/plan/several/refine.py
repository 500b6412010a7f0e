"""Chosen cuts moved between the settings that were tried first, for as long as together they take more."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from sweep.plan.grid import height_step
from sweep.plan.several.candidates import LEAST_ANGLE, PLACE_STEP, TILT_STEP, Pool, joined, of_family, takes_of
from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.plan.several.wanted import Wanted
from sweep.scene.model import Scene

HALVINGS, SWEEPS = 5, 3
"""How often the steps between settings are halved: the last ones are a thirtieth of a mm and half a degree. And how
often, at every width of step, all cuts are looked at, as long as one of them still gains."""

RATIO = 1.3
"""About that of one fence angle tried first to the next."""

ROUND = math.radians(0.1)
"""rad. What angles are rounded to."""

ROUNDS, PLACES = 2, 4
"""How many round angles are tried on both sides of one, and how many round places."""

WORTH = 0.01
"""mm2. A move that gains less is not made."""


class Nearby:
    """The cuts around a cut, each worked out once: most choices hold cuts of the others, and most moves gain nothing.

    Parameters
    ----------
    scene : Scene
    wanted : Wanted
    """

    def __init__(self, scene: Scene, wanted: Wanted) -> None:
        self.scene, self.wanted = scene, wanted
        self.within: Callable[[Cut | RabbetCut, float], Pool] = cache(lambda cut, step: _near(cut, scene, wanted, step))
        self.round: Callable[[Cut | RabbetCut], Pool] = cache(lambda cut: _round_near(cut, scene, wanted))


def refined(cuts: tuple[Cut | RabbetCut, ...], nearby: Nearby) -> tuple[Cut | RabbetCut, ...]:
    """Return the cuts moved, one after the other, to angles, tilts and places at which they take more together.

    At the end each is moved to the round figures near by at which it then takes most, lowered to a height that can be
    set: a height just above such a one loses next to nothing. It ends: at every width of step, each cut is looked at a
    few times at most.
    """
    found, scene, wanted = list(cuts), nearby.scene, nearby.wanted
    takes = np.array([takes_of(cut, wanted, wanted.cells) for cut in found])
    for halved in range(1, HALVINGS + 1):
        for _ in range(SWEEPS):
            moved = [_moved(found, takes, k, nearby.within(cut, 0.5**halved), wanted) for k, cut in enumerate(found)]
            if not any(moved):
                break
    exact = tuple(found)
    for k, cut in enumerate(exact):
        found[k] = _lowered(cut, height_step(scene))
        takes[k] = takes_of(found[k], wanted, wanted.cells)
    for _ in range(2):  # the second time the others are where they stay
        for k, cut in enumerate(exact):
            _moved(found, takes, k, nearby.round(cut), wanted)
    return tuple(found)


def _moved(found: list[Cut | RabbetCut], takes: NDArray[np.bool_], k: int, near: Pool, wanted: Wanted) -> bool:
    """Put that one of some cuts in the place of one which takes most that no other does; return whether one does so."""
    if not near.cuts:
        return False
    left = ~np.delete(takes, k, axis=0).any(axis=0)
    gains = (near.takes & left).sum(axis=1)
    best = int(np.argmax(gains))
    if (gains[best] - (takes[k] & left).sum()) * wanted.cell <= WORTH:
        return False
    found[k], takes[k] = near.cuts[best], near.takes[best]
    return True


def _lowered(cut: Cut | RabbetCut, grid: float) -> Cut | RabbetCut:
    """Return a cut at the next height below that can be set; one that comes out of the wood stays as it is."""
    if isinstance(cut, RabbetCut) or cut.through:
        return cut
    steps = math.floor(cut.height / grid + 1e-9)
    return replace(cut, height=steps * grid) if steps > 0 else cut


def _near(cut: Cut | RabbetCut, scene: Scene, wanted: Wanted, step: float) -> Pool:
    """Return the cuts around one, a share of the first steps of angle, tilt and place away; none for a rabbet."""
    if isinstance(cut, RabbetCut):
        return _none(wanted)
    steepest = max(scene.limits.fence_angle, LEAST_ANGLE)
    angles = {min(max(cut.family.fence_angle * RATIO ** (k * step), LEAST_ANGLE), steepest) for k in (-1, 0, 1)}
    low, high = scene.saw.tilts
    tilts = {min(max(cut.family.tilt + k * step * TILT_STEP, low), high) for k in (-1, 0, 1)}
    return _around(cut, angles, tilts, cut.place + step * PLACE_STEP * np.arange(-3.0, 4.0), scene, wanted)


def _round_near(cut: Cut | RabbetCut, scene: Scene, wanted: Wanted) -> Pool:
    """Return the cuts around one whose angle, tilt and place are round figures; none for a rabbet."""
    if isinstance(cut, RabbetCut):
        return _none(wanted)
    grid = height_step(scene)
    angles, tilts = map(_rounded, (cut.family.fence_angle, cut.family.tilt))
    steepest, (low, high) = scene.limits.fence_angle, scene.saw.tilts
    near = _around(
        cut,
        {a for a in angles if LEAST_ANGLE - 1e-9 <= a <= steepest + 1e-9},
        {min(max(tilt, low), high) for tilt in tilts},
        grid * (math.floor(cut.place / grid) + np.arange(1.0 - PLACES, PLACES + 1.0)),
        scene,
        wanted,
    )
    lowered = tuple(_lowered(one, grid) for one in near.cuts)
    takes = np.array([takes_of(one, wanted, wanted.cells) for one in lowered], bool)
    return Pool(lowered, takes.reshape(near.takes.shape))


def _around(
    cut: Cut, angles: set[float], tilts: set[float], places: NDArray[np.float64], scene: Scene, wanted: Wanted
) -> Pool:
    if cut.family.is_rip:
        angles = {0.0}
    families = [replace(cut.family, fence_angle=a, tilt=t) for a in sorted(angles) for t in sorted(tilts)]
    found = [part for one in families for part in of_family(one, scene, wanted, places, wanted.cells)]
    return joined([_none(wanted), *found])


def _none(wanted: Wanted) -> Pool:
    return Pool((), np.zeros((0, len(wanted.cells)), bool))


def _rounded(angle: float) -> set[float]:
    """Return round angles on both sides, a few each, rad."""
    return {(math.floor(angle / ROUND) + k) * ROUND for k in range(1 - ROUNDS, ROUNDS + 1)}
