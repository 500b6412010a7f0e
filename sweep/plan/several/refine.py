"""Chosen cuts moved between the settings that were tried first, for as long as together they take more."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sweep.plan.grid import height_step
from sweep.plan.several.candidates import LEAST_ANGLE, PLACE_STEP, TILT_STEP, Pool, joined, of_family, takes_of
from sweep.plan.several.cuts import Cut, Step
from sweep.plan.several.wanted import Wanted
from sweep.scene.model import Scene

HALVINGS = 5
"""How often the steps between settings are halved: the last ones are a thirtieth of a mm and half a degree."""

RATIO = 1.3
"""About that of one fence angle tried first to the next."""

ROUND, LOST = math.radians(0.1), 5e-4
"""rad: what angles are rounded to. And the share of the waste that may be lost by rounding one cut's settings."""

WORTH = 0.01
"""mm2. A move that gains less is not made."""


def refined(cuts: tuple[Cut | Step, ...], scene: Scene, wanted: Wanted) -> tuple[Cut | Step, ...]:
    """Return the cuts moved, one after the other, to angles, tilts and places at which they take more together.

    At the end each is lowered to a height that can be set, and moved to those round figures near by that then take
    most, where they lose next to nothing. It ends: at every width of step, each cut is looked at once.
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
    for k, cut in enumerate(found):
        found[k] = _lowered(cut, height_step(scene))
        takes[k] = takes_of(found[k], wanted, wanted.cells)
        near = _round_near(cut, scene, wanted)
        left = ~np.delete(takes, k, axis=0).any(axis=0)
        gains = (near.takes & left).sum(axis=1)
        if len(gains) and (takes[k] & left).sum() - gains.max() <= LOST * len(wanted.cells):
            best = int(np.argmax(gains))
            found[k], takes[k] = near.cuts[best], near.takes[best]
    return tuple(found)


def _lowered(cut: Cut | Step, grid: float) -> Cut | Step:
    """Return a cut at the next height below that can be set; one that comes out of the wood stays as it is."""
    if isinstance(cut, Step) or cut.through:
        return cut
    steps = math.floor(cut.height / grid + 1e-9)
    return replace(cut, height=steps * grid) if steps > 0 else cut


def _near(cut: Cut, scene: Scene, wanted: Wanted, step: float) -> Pool:
    """Return the cuts around one, a share of the first steps of angle, tilt and place away."""
    steepest = max(scene.limits.fence_angle, LEAST_ANGLE)
    angles = {min(max(cut.family.fence_angle * RATIO ** (k * step), LEAST_ANGLE), steepest) for k in (-1, 0, 1)}
    low, high = scene.saw.tilts
    tilts = {min(max(cut.family.tilt + k * step * TILT_STEP, low), high) for k in (-1, 0, 1)}
    return _around(cut, angles, tilts, cut.place + step * PLACE_STEP * np.arange(-3.0, 4.0), scene, wanted)


def _round_near(cut: Cut | Step, scene: Scene, wanted: Wanted) -> Pool:
    """Return the cuts around one whose angle, tilt and place are round figures; none for a rabbet."""
    if isinstance(cut, Step):
        return Pool((), np.zeros((0, len(wanted.cells)), bool))
    grid = height_step(scene)
    angles, tilts = map(_rounded, (cut.family.fence_angle, cut.family.tilt))
    steepest, (low, high) = scene.limits.fence_angle, scene.saw.tilts
    near = _around(
        cut,
        {a for a in angles if LEAST_ANGLE - 1e-9 <= a <= steepest + 1e-9},
        {min(max(tilt, low), high) for tilt in tilts},
        grid * (math.floor(cut.place / grid) + np.arange(-1.0, 3.0)),
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
    nothing = Pool((), np.zeros((0, len(wanted.cells)), bool))
    found = [part for one in families for part in of_family(one, scene, wanted, places, wanted.cells)]
    return joined([nothing, *found])


def _rounded(angle: float) -> set[float]:
    """Return round angles on both sides, two each, rad."""
    return {(math.floor(angle / ROUND) + k) * ROUND for k in range(-1, 3)}
