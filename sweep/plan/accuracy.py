"""How exactly the saw must be set: what a usual error of each setting does, and how often all together spoil the cove.

Shape and place are told apart. A cove that lies beside its place has its shape all the same, so before a curve is
held against the target it is moved back across, by as much as its middle (half-way between its edges at the table)
lies beside that of the set-up as it is meant. Nothing of an offset's error is left then.

Exact sections of thousands of set-ups at once, no meshes. Errors are taken to be independent and normal.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.check.target import target_line
from sweep.plan.closeness import largest, largest_about, sampled
from sweep.plan.setting_errors import SettingErrors, setting_errors
from sweep.scene.model import WholeScene
from sweep.shape.outline import curves, settings
from sweep.tolerance import CHORD

Array = NDArray[np.float64]

SET_UPS = 10_000

CHORDS, POINTS = 3, 21
"""How finely curves and target of each chance set-up are drawn: the deviation is within 0.01 mm of the run's own."""

FINE_CHORDS, FINE_POINTS = 12, 97
"""The same where one setting alone errs."""

SAME_GAP = 1e-3
"""mm. Deviations nearer than this are as good: where the depth is wrong, the place hardly matters."""

SETTINGS = ("fence angle", "blade height", "blade tilt", "kerf", "offset")

ANGLES = ("fence angle", "blade tilt")


@dataclass(frozen=True)
class Effect:
    """What one setting does when it alone is wrong by its error.

    Parameters
    ----------
    setting : str
        One of `SETTINGS`.
    error : float, rad for `ANGLES`, else mm
        One standard deviation of how it is set.
    width, depth, place : float, mm
        Change of the cove's width and depth, and how far its middle moves to the right, where it is set larger.
    shape : float, mm
        How much further the cove lies off the target, its place apart, whichever way the setting errs.
    """

    setting: str
    error: float
    width: float
    depth: float
    place: float
    shape: float


@dataclass(frozen=True)
class Care:
    """How exactly a set-up must be set.

    Parameters
    ----------
    effects : tuple of Effect
        The one that spoils the shape most first.
    errors : SettingErrors
        Those of the chance set-ups.
    beside : float, mm
        How far to the right of where it comes closest to the target the cove lies where nothing errs.
    exact : float, mm
        How far the cove lies off the target, its place apart, where nothing errs.
    within : float
        Share of the chance set-ups that come within tolerance in shape.
    place : float, mm
        How near to its place the cove lies, either way, in 95 of 100 of them.
    set_ups, seed : int
        How many were tried, and from which seed: the same scene gives the same figure.
    tolerance : float, mm
    """

    effects: tuple[Effect, ...]
    errors: SettingErrors
    beside: float
    exact: float
    within: float
    place: float
    set_ups: int
    seed: int
    tolerance: float

    @property
    def beyond(self) -> bool:
        """Whether the shape is out of tolerance however exactly it is set, by more than a run's mesh may be wrong."""
        return self.exact > self.tolerance + CHORD

    @property
    def most_care(self) -> str | None:
        """The setting whose usual error spoils the shape most; None where no set-up comes within tolerance at all."""
        return self.effects[0].setting if self.within > 0 and not self.beyond else None


def care_needed(scene: WholeScene, set_ups: int = SET_UPS) -> Care:
    """Return how exactly a complete scene must be set to stay within its target's tolerance.

    Parameters
    ----------
    scene : WholeScene
        With a target.
    set_ups : int
    """
    line = target_line(scene.wanted, scene.tool, scene.tilt)
    setup, errors = scene.setup, setting_errors(scene)
    here = np.array([setup.fence_angle, setup.blade_height, setup.blade_tilt, 0.0, setup.offset])
    spread = np.array([errors.fence_angle, errors.blade_height, errors.blade_tilt, errors.kerf, errors.offset])

    one_by_one = here + np.vstack([np.zeros(5), np.diag(spread), -np.diag(spread)])
    drawn = _drawn(scene, one_by_one, FINE_CHORDS)
    drawn = np.where(np.isnan(drawn), drawn[0], drawn)  # an error that takes the blade out of the wood tells nothing
    middle = _middles(drawn[:1])[0]
    moved_in = _closest_place(drawn[0], line)
    far = largest(_moved(drawn, middle + moved_in), line, sampled(line, FINE_POINTS))
    width, place = drawn[:, -1, 0] - drawn[:, 0, 0], _middles(drawn)
    effects = [
        Effect(
            setting=name,
            error=float(spread[k]),
            width=float(width[k + 1] - width[0]),
            depth=float(one_by_one[k + 1, 1] - here[1]),
            place=float(place[k + 1] - place[0]),
            shape=float(max(far[k + 1], far[k + 6]) - far[0]),
        )
        for k, name in enumerate(SETTINGS)
    ]

    chance = here + np.random.default_rng(scene.accuracy.seed).standard_normal((set_ups, 5)) * spread
    tried = _drawn(scene, chance, CHORDS)
    tried = tried[~np.isnan(_middles(tried))]
    gaps = largest_about(_moved(tried, middle + moved_in), sampled(line, 60), sampled(line, POINTS))
    beside = np.abs(_middles(tried) - middle)
    return Care(
        effects=tuple(sorted(effects, key=lambda effect: -round(effect.shape, 9))),
        errors=errors,
        beside=-moved_in,
        exact=float(far[0]),
        within=float((gaps <= scene.wanted.tolerance).sum()) / set_ups,
        place=float(np.quantile(beside, 0.95)) if len(beside) else 0.0,
        set_ups=set_ups,
        seed=scene.accuracy.seed,
        tolerance=scene.wanted.tolerance,
    )


def _drawn(scene: WholeScene, rows: Array, chords: int) -> Array:
    """Return the cut curve of each row of settings; not a number where it cuts nothing."""
    cutting = (rows[:, 0] > 1e-4) & (rows[:, 1] > 1e-3)
    rows = np.where(cutting[:, None], rows, np.nan)
    return curves(scene.tool, settings(rows[:, 0], rows[:, 2], rows[:, 1], rows[:, 4], rows[:, 3]), chords)


def _middles(drawn: Array) -> Array:
    """Return where the middle of each curve's edges lies across, mm."""
    middles: Array = (drawn[:, 0, 0] + drawn[:, -1, 0]) / 2
    return middles


def _moved(drawn: Array, middle: float) -> Array:
    """Return curves moved across until their middles lie at one place, mm."""
    return np.stack([drawn[..., 0] - (_middles(drawn) - middle)[:, None], drawn[..., 1]], axis=2)


def _closest_place(curve: Array, line: Array) -> float:
    """Return how far a curve is moved across to lie closest to the target, mm: a set-up beside its place is no shape.

    Three looks at 33 places, each about the best of the one before; of places as good the middle one. A quarter of the
    width either way is more than any cove is out of place that has the target's shape.
    """
    points = sampled(line, FINE_POINTS)
    centre = float(line[0, 0] + line[-1, 0] - curve[0, 0] - curve[-1, 0]) / 2
    reach = float(np.ptp(line[:, 0])) / 4
    for gaps_of in (largest, largest_about, largest_about):  # after the first look the places are near each other
        places = centre + np.linspace(-reach, reach, 33)
        moved = np.repeat(curve[None], len(places), axis=0)
        moved[..., 0] += places[:, None]
        gaps = gaps_of(moved, line, points)
        centre = float(places[gaps < gaps.min() + SAME_GAP][[0, -1]].mean())
        reach /= 16
    return centre
