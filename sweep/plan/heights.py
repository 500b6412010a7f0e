"""The pass plan: the fewest passes within every limit, the burden even over them, the last light and slow.

The burden of a pass is the largest of its shares of the limits: of rise, of area, of power. How the fewest passes are
found is `fewest.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sweep.check.shares import governing, shares_of, thinnest_chip
from sweep.cut.blank import first_met, wood_section
from sweep.cut.load import loads_after
from sweep.cut.passes import Pass
from sweep.cut.push import friction_of
from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.fewest import MOST_PASSES, Steps, fewest_even
from sweep.plan.grid import height_step
from sweep.scene.keys import Passes
from sweep.scene.model import SetUpScene
from sweep.shape.areas import areas_cut
from sweep.tolerance import CHORD

PLANNING_ANGLES = 128
"""Rim angles at which power is summed while planning: within 1 % of the run's own sum."""

TABLED, WITHIN = 641, 0.9995
"""Heights at which areas are tabled, and the most burden of a plan: with straight lines between those heights the
run's own sums then stay within the limits. Of a straight rip, which is few passes, areas are measured as asked for."""


@dataclass(frozen=True)
class PlannedPass:
    """One pass of a plan.

    Parameters
    ----------
    height, rise : float, mm
    burden : float
        The largest of the pass's shares of the limits, 1 at a limit.
    governed_by : str
        The limit that it comes closest to, as `check/shares.py` names them, or ``last pass``.
    """

    height: float
    rise: float
    burden: float
    governed_by: str


@dataclass(frozen=True)
class PassPlan:
    """Planned passes, and even rises beside them.

    Parameters
    ----------
    passes : Passes
        As a scene holds them.
    planned, even : tuple of PlannedPass
        What was planned, and as many passes of one rise.
    feed_limited : bool
        Whether a feed was changed to keep shavings from being too thick or too thin.
    """

    passes: Passes
    planned: tuple[PlannedPass, ...]
    even: tuple[PlannedPass, ...]
    feed_limited: bool


def plan_passes(scene: SetUpScene) -> PassPlan:
    """Plan the passes of a scene whose set-up is known.

    Raises
    ------
    SceneError
        When no plan keeps within the limits.
    """
    whole, first, last = _thickest(scene)
    speed, slowed = _feed_within(scene, scene.plan.feed_speed, whole, first)
    straight = scene.feed.along_blade  # a rip is one pass where it can be, and nothing is cleaned by a last one
    burden = Burden(scene, speed)
    step = height_step(scene)
    steps = Steps(scene.setup.blade_height, step, burden.of, burden.beyond)
    last_rise = scene.setup.blade_height if straight else min(scene.plan.last_rise, scene.limits.rise)
    heights = fewest_even(steps, last_rise, WITHIN)
    if heights is None:
        raise SceneError(
            "limits",
            f"no plan of at most {MOST_PASSES} passes keeps within them on steps of {{step}}",
            "allow more rise, area or power, feed slower, or round to finer steps",
            step=length(step),
        )
    last_speed, slowed_last, slow = speed, False, min(scene.plan.last_feed_speed, speed)
    if len(heights) > 1 and not straight:
        last_speed, slowed_last = _feed_within(scene, slow, whole, last or first, cleaning=True)
    elif not straight:  # a pass alone takes all: it is as slow as a last one, and cleans nothing
        last_speed, slowed_last = _feed_within(scene, slow, whole, whole)
    passes = Passes.model_construct(heights=tuple(heights), feed_speed=speed, last_feed_speed=last_speed, stop=(None,))
    planned = _described(burden, heights, last="last pass" if len(heights) > 1 else "")
    even = _described(burden, list(np.linspace(min(burden.met, heights[0]), heights[-1], len(heights) + 1)[1:]))
    return PassPlan(passes, planned, even, slowed or slowed_last)


class Burden:
    """The burden of going from one height to another at a feed speed, from areas tabled at so many heights."""

    def __init__(self, scene: SetUpScene, speed: float, tabled: int = TABLED) -> None:
        self.scene, self.speed = scene, speed
        self.wood = wood_section(scene.stock, CHORD / 20)
        self._known: dict[tuple[float, float], dict[str, float]] = {}
        self.met = first_met(scene)
        self.heights: NDArray[np.float64] = np.linspace(0.0, scene.setup.blade_height, tabled)
        self.fixed = {"chip"}
        """Shares that no height changes: of the shaving, and of the push where most of it is friction."""
        if friction_of(scene) > scene.limits.push / 2:
            self.fixed.add("push")

    def shares(self, low: float, high: float) -> dict[str, float]:
        """Return the share of each limit that a pass takes, but of those that its heights do not change."""
        self.look_at([(low, high)])
        return self._known[low, high]

    def look_at(self, passes: Iterable[tuple[float, float]]) -> None:
        """Work out the shares of passes, (low, high) each, that are asked for later: many take little longer than one.

        What is known is kept: it is asked for in a search, and again in what is told of it.
        """
        asked = [one for one in dict.fromkeys(passes) if one not in self._known]
        if not asked:
            return
        scene, ends = self.scene, np.array(asked)
        reached = self._measured(ends.ravel()) if scene.feed.along_blade else np.interp(ends, self.heights, self.areas)
        areas = np.diff(reached.reshape(-1, 2)).ravel().tolist()
        found = [Pass(1, high, max(0.0, high - max(low, self.met)), None, self.speed) for low, high in asked]
        loads = loads_after(scene, found, [low or None for low, _ in asked], areas, PLANNING_ANGLES)
        for pair, one, area, load in zip(asked, found, areas, loads, strict=True):
            shares = shares_of(scene, one, area, load)
            self._known[pair] = {name: share for name, share in shares.items() if name not in self.fixed}

    @cached_property
    def areas(self) -> NDArray[np.float64]:
        """What a blade at each of the tabled heights takes in all, (n,) mm2."""
        return self._measured(self.heights)

    def _measured(self, heights: NDArray[np.float64]) -> NDArray[np.float64]:
        scene = self.scene
        return areas_cut(scene.tool, scene.feed, scene.tilt, heights, self.wood, CHORD / 20)

    def of(self, passes: list[tuple[float, float]]) -> list[float]:
        """Return the burden of each of some passes, (low, high) each."""
        self.look_at(passes)
        return [max(self._known[one].values()) for one in passes]

    def __call__(self, low: float, high: float) -> float:
        return self.of([(low, high)])[0]

    def beyond(self, low: float, most: float) -> float:
        """Return the height that rise and area allow at most: known at once, without the slower sum of forces."""
        limits = self.scene.limits
        if self.scene.feed.along_blade:
            return self.scene.setup.blade_height
        area = np.interp(low, self.heights, self.areas) + most * limits.area
        return min(max(low, self.met) + most * limits.rise, float(np.interp(area, self.areas, self.heights)))


def _described(burden: Burden, heights: list[float], last: str = "") -> tuple[PlannedPass, ...]:
    planned, passes = [], list(pairwise([0.0, *heights]))
    burden.look_at(passes)
    for low, high in passes:
        shares = burden.shares(low, high)
        worst = governing(shares)
        planned.append(PlannedPass(high, max(0.0, high - max(low, burden.met)), shares[worst], worst))
    if last:
        end = planned[-1]
        planned[-1] = PlannedPass(end.height, end.rise, end.burden, last)
    return tuple(planned)


def _feed_within(
    scene: SetUpScene, speed: float, thick: float, thin: float, cleaning: bool = False
) -> tuple[float, bool]:
    """Return the feed speed, changed if shavings would be too thick or too thin, and whether it was.

    `thick` and `thin` are the thickest shavings, mm for each mm/s, of the passes that take the thickest and the
    thinnest.
    """
    if thin == 0.0:
        return speed, False
    # a little inside both limits, for these are coarser sums than the run's
    within = max(speed, 1.02 * thinnest_chip(scene, cleaning) / thin)
    within = min(within, 0.999 * scene.limits.chip_thickness / thick)
    return within, within != speed


def _thickest(scene: SetUpScene) -> tuple[float, ...]:
    """Return the thickest shavings of three passes, mm for each mm/s: of all at once, of the first, of the last.

    The first is the narrowest and takes the thinnest shavings; a last one takes only what was left above.
    """
    top = scene.setup.blade_height
    first = top if scene.feed.along_blade else min(top, first_met(scene) + scene.limits.rise / 2)
    last = max(0.0, top - 0.5 * scene.plan.last_rise)
    passes = [Pass(1, high, high - low, None, 1.0) for low, high in ((0.0, top), (0.0, first), (last, top))]
    loads = loads_after(scene, passes, [None, None, last or None], [1.0] * 3, PLANNING_ANGLES)
    return tuple(load.chip_thickness_max for load in loads)
