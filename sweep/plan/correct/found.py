"""The set-up that was really set, as a cove that is being cut tells it, with 95 % intervals.

Fence angle, offset and the height of each measured pass are moved until what the scene's blade would cut differs least
from what was measured, each difference as a share of its standard deviation: least squares, with the usual linear
intervals. The kerf that is really cut is one unknown more, known as `accuracy.kerf` says.

What no measurement tells is taken as it was set, with the error that `[accuracy]` gives it: so a width alone tells
the fence's angle, as far as the height is known. That is no answer about the height, so none is given.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.correct.measured import AfterPass, highest_looked_at
from sweep.plan.correct.points import TellsPoints, told_by_points
from sweep.plan.setting_errors import setting_errors
from sweep.scene.model import WholeScene
from sweep.shape.outline import edges, settings
from sweep.tolerance import IN_95

Array = NDArray[np.float64]

LEAST, STEEPEST = math.radians(0.1), math.pi / 2
"""rad. Fence angles that are looked at."""

VAGUE = math.radians(10)
"""rad. A fence angle whose interval is wider than this either way is not told: such a fence is seen to be wrong."""

UNLIKELY = 1e-3
"""Chance of so much scatter below which measurements are said not to go together."""

ANGLE, KERF = 0, 1
"""Places among the unknowns; the heights of the measured passes follow, and the offset last, where it is told."""


@dataclass(frozen=True)
class FoundSetting:
    """One setting, rad or mm.

    Parameters
    ----------
    meant : float
        As the scene has it.
    value : float
        As it was measured; as it was meant where no measurement tells it.
    half : float or None
        Half of its 95 % interval; None where no measurement tells it.
    """

    meant: float
    value: float
    half: float | None

    @property
    def error(self) -> float:
        """How much larger it was set than it was meant."""
        return self.value - self.meant

    @property
    def as_meant(self) -> bool:
        """Whether it may be set as it was meant, as far as was measured."""
        return self.half is None or abs(self.error) <= self.half


@dataclass(frozen=True)
class FoundSetup:
    """The set-up that was really set.

    Parameters
    ----------
    number : int
        The last pass that was measured.
    fence_angle : FoundSetting, rad
    blade_height, offset : FoundSetting, mm
        The height in that pass.
    together : bool
        Whether the measurements go together, as far as their accuracy explains.
    """

    number: int
    fence_angle: FoundSetting
    blade_height: FoundSetting
    offset: FoundSetting
    together: bool

    @property
    def as_meant(self) -> bool:
        """Whether all of it may be set as it was meant."""
        return self.fence_angle.as_meant and self.blade_height.as_meant and self.offset.as_meant


def found_set_up(scene: WholeScene, measured: tuple[AfterPass, ...]) -> FoundSetup:
    """Return the set-up that was really set.

    Parameters
    ----------
    scene : WholeScene
        As it was meant.
    measured : tuple of AfterPass
        One or more, of passes that differ; see `require_measured`.

    Raises
    ------
    SceneError
        When the points are no outline of this blade, or no fence angle gives a width at its depth.
    """
    from scipy.optimize import least_squares  # not above: what a phone shows of a run's moves comes by this file too
    from scipy.special import chdtrc

    problem = _Problem(scene, tuple(sorted(measured, key=lambda one: one.number)))
    solved = least_squares(problem.misfits, problem.start, bounds=problem.bounds, x_scale=problem.scales, xtol=1e-12)
    spare = len(solved.fun) - len(solved.x)
    together = bool(chdtrc(max(spare, 1), solved.fun @ solved.fun) >= UNLIKELY)
    if spare == 0 and not together:  # so few figures could all be met if any cove had them
        raise problem.no_such_cove(solved.x)
    half = IN_95 * np.sqrt(np.diag(np.linalg.pinv(solved.jac.T @ solved.jac)))
    return problem.described(solved.x, half, together)


class _Problem:
    """What was measured as least squares: the unknowns, and how far a set-up is from every measurement."""

    def __init__(self, scene: WholeScene, measured: tuple[AfterPass, ...]) -> None:
        self.scene, self.measured = scene, measured
        self.errors = setting_errors(scene)
        self.heights = [scene.passes.heights[one.number - 1] for one in measured]
        self.tells_offset = any(one.flat.values for one in measured)
        self.tells_angle = any(one.tells_angle for one in measured)
        self.points: list[TellsPoints | None] = [
            None if one.points is None else told_by_points(scene.tool, scene.tilt, one.points, one.points_accuracy)
            for one in measured
        ]
        highest = highest_looked_at(scene.tool, scene.tilt)
        heights = [
            one.depth.values[0] if one.depth.values else told.blade_height if told is not None else meant
            for one, told, meant in zip(measured, self.points, self.heights, strict=True)
        ]
        offset = [scene.setup.offset] if self.tells_offset else []
        angle = min(max(scene.setup.fence_angle, 1.01 * LEAST), 0.999 * STEEPEST)
        self.start = np.array([angle, 0.0, *np.clip(heights, 0.011, 0.999 * highest), *offset])
        few, much = np.full(len(self.start), -np.inf), np.full(len(self.start), np.inf)
        few[ANGLE], much[ANGLE] = LEAST, STEEPEST
        few[2 : 2 + len(heights)], much[2 : 2 + len(heights)] = 0.01, highest
        self.bounds = few, much
        self.scales = np.array([math.radians(1), 0.1, *[1.0] * (len(heights) + len(offset))])

    def misfits(self, unknowns: Array) -> Array:
        """Return every difference between a set-up and what is known of it, in standard deviations."""
        scene, errors = self.scene, self.errors
        angle, kerf = float(unknowns[ANGLE]), float(unknowns[KERF])
        heights = unknowns[2 : 2 + len(self.measured)]
        offset = float(unknowns[-1]) if self.tells_offset else scene.setup.offset
        rows = settings(angle, scene.tilt, heights, offset, kerf)
        found = [kerf / errors.kerf]
        if not self.tells_angle:
            found.append((angle - scene.setup.fence_angle) / errors.fence_angle)
        every = zip(self.measured, self.points, self.heights, heights, *edges(scene.tool, rows), strict=True)
        for one, told, meant, height, left, right in every:
            flat = scene.stock.width / 2 + (-right if scene.setup.fence_side == "near" else left)
            for size, sized in ((right - left, one.width), (height, one.depth), (flat, one.flat)):
                found += [(size - value) / sized.accuracy for value in sized.values]
            if not one.tells_height:
                found.append((height - meant) / errors.blade_height)
            if told is not None:
                found += told.misfits(angle, height)
        return np.array(found)

    def described(self, unknowns: Array, half: Array, together: bool) -> FoundSetup:
        last, setup = self.measured[-1], self.scene.setup
        place = 1 + len(self.measured)
        return FoundSetup(
            number=last.number,
            fence_angle=_setting(
                setup.fence_angle, unknowns[ANGLE], half[ANGLE], self.tells_angle and half[ANGLE] < VAGUE
            ),
            blade_height=_setting(self.heights[-1], unknowns[place], half[place], last.tells_height),
            offset=_setting(setup.offset, unknowns[-1], half[-1], self.tells_offset),
            together=together,
        )

    def no_such_cove(self, unknowns: Array) -> SceneError:
        """Return the refusal of a width that no fence angle gives at its depth."""
        scene = self.scene
        ends = [edges(scene.tool, settings(angle, scene.tilt, unknowns[2])) for angle in (LEAST, STEEPEST)]
        narrowest, widest = (float(right[0] - left[0]) for left, right in ends)
        return SceneError(
            "--width",
            "no fence angle gives {value} at {depth} deep with this blade: it cuts {least} to {most} there",
            "measure again, or say after which pass it was measured",
            value=length(float(np.mean(self.measured[0].width.values or (0.0,)))),
            depth=length(float(unknowns[2])),
            least=length(narrowest),
            most=length(widest),
        )


def _setting(meant: float, value: float, half: float, told: bool) -> FoundSetting:
    return FoundSetting(meant, float(value), float(half)) if told else FoundSetting(meant, meant, None)
