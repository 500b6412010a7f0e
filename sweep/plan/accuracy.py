"""How exactly the saw must be set: what small errors of each setting do, one at a time and all together.

Exact sections of thousands of set-ups at once, no meshes. The errors are taken to be independent and
normal, with the standard deviations of the scene's `[accuracy]`; how a maker really sets a fence is not known.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.check.target import target_line
from sweep.plan.closeness import largest, sampled
from sweep.scene.model import WholeScene
from sweep.shape.outline import Settings, curves, edges, settings

Array = NDArray[np.float64]

SET_UPS = 10_000

FEWER = 2_000
"""How many of those serve to tell which setting costs most."""

CHORDS, POINTS = 3, 21
"""How finely curves and target of each set-up are drawn: the deviation is within 0.01 mm of the run's own."""

STEPS = {
    "fence angle": ("0.1 deg", math.radians(0.1)),
    "blade height": ("0.1 mm", 0.1),
    "blade tilt": ("0.1 deg", math.radians(0.1)),
    "kerf": ("0.1 mm", 0.1),
    "offset": ("0.1 mm", 0.1),
}
"""By how much each setting is moved, as text and in mm or rad."""


@dataclass(frozen=True)
class Effect:
    """What one setting does when it alone is a step too large.

    Parameters
    ----------
    setting, step : str
    width, depth, deviation : float, mm
        Change of the cove's width and depth, and of the largest deviation from the target.
    lost : float
        How much greater the share of set-ups within tolerance would be if this setting alone were exact.
    """

    setting: str
    step: str
    width: float
    depth: float
    deviation: float
    lost: float


@dataclass(frozen=True)
class Care:
    """How exactly a set-up must be set.

    Parameters
    ----------
    effects : tuple of Effect
    within : float
        Share of set-ups within tolerance, with all the scene's setting errors at once.
    set_ups, seed : int
        How many were tried, and from which seed: the same scene gives the same figure.
    most_care : str
        The setting whose error costs most set-ups.
    """

    effects: tuple[Effect, ...]
    within: float
    set_ups: int
    seed: int
    most_care: str


def care_needed(scene: WholeScene, set_ups: int = SET_UPS) -> Care:
    """Return how exactly a complete scene must be set to stay within its target's tolerance.

    Parameters
    ----------
    scene : WholeScene
        With a target.
    set_ups : int
    """
    line = target_line(scene.wanted, scene.tool, scene.tilt)
    drawn, points = sampled(line, 60), sampled(line, POINTS)
    setup, accuracy = scene.setup, scene.accuracy
    here = np.array([setup.fence_angle, setup.blade_height, setup.blade_tilt, 0.0, setup.offset])
    spread = np.array(
        [accuracy.fence_angle, accuracy.blade_height, accuracy.blade_tilt, accuracy.kerf, accuracy.offset]
    )
    errors = np.random.default_rng(accuracy.seed).standard_normal((set_ups, 5)) * spread
    gaps = _gaps(scene, here + errors, drawn, points)
    within, few = _within(scene, gaps), _within(scene, gaps[:FEWER])

    moved = _settings(here + np.vstack([np.zeros(5), np.diag([step for _, step in STEPS.values()])]))
    far = largest(curves(scene.tool, moved, 12), line, sampled(line, 97))
    left, right = edges(scene.tool, moved)
    effects = []
    for k, (name, (step, _)) in enumerate(STEPS.items()):
        exact = errors[:FEWER].copy()
        exact[:, k] = 0.0
        effects.append(
            Effect(
                setting=name,
                step=step,
                width=float((right - left)[k + 1] - (right - left)[0]),
                depth=float(moved.blade_height[k + 1] - moved.blade_height[0]),
                deviation=float(far[k + 1] - far[0]),
                lost=_within(scene, _gaps(scene, here + exact, drawn, points)) - few,
            )
        )
    most = max(effects, key=lambda effect: effect.lost)
    return Care(tuple(effects), within, set_ups, accuracy.seed, most.setting)


def _gaps(scene: WholeScene, rows: Array, line: Array, points: Array) -> Array:
    """Return how far each set-up's curve comes from the target, mm; not a number for one that cuts nothing."""
    gaps = np.full(len(rows), np.nan)
    cutting = (rows[:, 0] > 1e-4) & (rows[:, 1] > 1e-3)
    gaps[cutting] = largest(curves(scene.tool, _settings(rows[cutting]), CHORDS), line, points)
    return gaps


def _within(scene: WholeScene, gaps: Array) -> float:
    """Return the share within the target's tolerance of the set-ups that cut anything, 0 where none does."""
    gaps = gaps[~np.isnan(gaps)]
    return float((gaps <= scene.wanted.tolerance).mean()) if len(gaps) else 0.0


def _settings(rows: Array) -> Settings:
    return settings(rows[:, 0], rows[:, 2], rows[:, 1], rows[:, 4], rows[:, 3])
