"""The pass plan: the fewest passes within every limit, the burden even over them, the last light and slow.

The burden of a pass is the largest of its shares of the limits: of rise, of area, of power. From any
height the furthest that stays within a burden grows with the height, so taking each pass as far as it
may go gives the fewest passes; the least burden that needs no more of them then evens them out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from sweep.check.shares import governing, shares_of, thinnest_chip
from sweep.cut.load import load_of
from sweep.cut.passes import Pass
from sweep.errors import SceneError
from sweep.plan.grid import height_grid
from sweep.scene.keys import Passes
from sweep.scene.model import Scene
from sweep.shape import section
from sweep.tolerance import CHORD, SAME_HEIGHT

PLANNING_ANGLES = 128
"""Rim angles at which power is summed while planning: within 1 % of the run's own sum."""

MOST_PASSES = 500

TABLED, WITHIN = 641, 0.9995
"""Heights at which areas are tabled, and the most burden of a plan: with straight lines between those heights the
run's own sums then stay within the limits."""

NEAR = 1e-3
"""mm. How near to the height that a burden allows is near enough: less than any wheel can be set."""


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


def plan_passes(scene: Scene) -> PassPlan:
    """Plan the passes of a scene whose set-up is known.

    Raises
    ------
    SceneError
        When no plan keeps within the limits.
    """
    speed, slowed = _feed_within(scene, scene.plan.feed_speed)
    last_speed, slowed_last = _feed_within(scene, min(scene.plan.last_feed_speed, speed), last=True)
    burden = _Burden(scene, speed)
    heights = _heights(burden, scene)
    passes = Passes.model_construct(heights=tuple(heights), feed_speed=speed, last_feed_speed=last_speed, stop=(None,))
    planned = _described(burden, heights, last="last pass" if len(heights) > 1 else "")
    even = _described(burden, list(np.linspace(0.0, heights[-1], len(heights) + 1)[1:]))
    return PassPlan(passes, planned, even, slowed or slowed_last)


def _heights(burden: _Burden, scene: Scene) -> list[float]:
    """Return even passes up to a last one that is lighter than them all."""
    top, grid = scene.setup.blade_height, height_grid(scene)
    last = min(scene.plan.last_rise, scene.limits.rise)
    while True:
        below = math.floor((top - last) / grid + 1e-9) * grid if grid else top - last
        if below <= SAME_HEIGHT:
            return [top]
        heights = [*_even(burden, below, grid), top]
        lightest = min(high - low for low, high in pairwise([0.0, *heights[:-1]]))
        # on a grid the last step is what the grid leaves over; finer there is none
        if top - below < lightest or last < max(grid, 0.05):
            return heights
        last = 0.8 * lightest


class _Burden:
    """The burden of going from one height to another at a feed speed, from tables of one scene."""

    def __init__(self, scene: Scene, speed: float) -> None:
        self.scene, self.speed = scene, speed
        stock = section.stock_section(scene.stock.width, scene.stock.thickness)
        self.heights: NDArray[np.float64] = np.linspace(0.0, scene.setup.blade_height, TABLED)
        areas = [0.0]
        for height in self.heights[1:]:
            cut = section.cut_section(scene.tool, scene.feed, scene.tilt, float(height), CHORD / 20)
            areas.append(section.area(section.within(cut, stock)))
        self.areas = np.array(areas)

    def shares(self, low: float, high: float) -> dict[str, float]:
        """Return the share of each limit that a pass takes; that of the shaving is the feed's, not the rise's."""
        area = float(np.interp(high, self.heights, self.areas) - np.interp(low, self.heights, self.areas))
        one = Pass(1, high, high - low, None, self.speed)
        shares = shares_of(self.scene, one, area, load_of(self.scene, one, low or None, area, PLANNING_ANGLES))
        del shares["chip"]
        return shares

    def __call__(self, low: float, high: float) -> float:
        return max(self.shares(low, high).values())

    def furthest(self, low: float, most: float, top: float, grid: float) -> float:
        """Return the greatest height up to `top`, on the grid if there is one, that stays within a burden."""
        limits = self.scene.limits
        area = np.interp(low, self.heights, self.areas) + most * limits.area
        # rise and area say at once how far they allow; only then is the slower sum of forces asked
        beyond = min(top, low + most * limits.rise, float(np.interp(area, self.areas, self.heights)))
        if self(low, beyond) <= most + 1e-9:
            reach = beyond
        else:  # a nearly straight line in the height: a few steps of Brent's method find it
            reach = brentq(lambda high: self(low, high) - most, low, beyond, xtol=NEAR) - NEAR
        return math.floor(reach / grid + 1e-9) * grid if grid and reach < top else reach


def _even(burden: _Burden, top: float, grid: float) -> list[float]:
    """Return the fewest heights up to `top` within burden 1, at the least burden that needs no more."""
    fewest = _as_far_as(burden, top, grid, WITHIN)
    if fewest is None:
        raise SceneError(
            "limits",
            "no plan of passes keeps within them" + (f" on steps of {grid:.4g} mm" if grid else ""),
            "allow more rise, area or power, feed slower, or round to finer steps",
        )
    low, high = 0.0, WITHIN
    for _ in range(8):
        middle = (low + high) / 2
        heights = _as_far_as(burden, top, grid, middle, len(fewest))
        low, high, fewest = (low, middle, heights) if heights is not None else (middle, high, fewest)
    return fewest


def _as_far_as(burden: _Burden, top: float, grid: float, most: float, passes: int = MOST_PASSES) -> list[float] | None:
    """Return heights that each go as far as a burden allows, or None when they get nowhere or are too many."""
    heights: list[float] = []
    here = 0.0
    while here < top - SAME_HEIGHT:
        there = burden.furthest(here, most, top, grid)
        if there <= here + SAME_HEIGHT or len(heights) == passes:
            return None
        heights.append(there)
        here = there
    return heights


def _described(burden: _Burden, heights: list[float], last: str = "") -> tuple[PlannedPass, ...]:
    planned = []
    for low, high in pairwise([0.0, *heights]):
        shares = burden.shares(low, high)
        worst = governing(shares)
        planned.append(PlannedPass(high, high - low, shares[worst], worst))
    if last:
        end = planned[-1]
        planned[-1] = PlannedPass(end.height, end.rise, end.burden, last)
    return tuple(planned)


def _feed_within(scene: Scene, speed: float, last: bool = False) -> tuple[float, bool]:
    """Return the feed speed, changed if shavings would be too thick or too thin, and whether it was."""
    top, rise = scene.setup.blade_height, scene.limits.rise
    # the first pass is the narrowest and takes the thinnest shavings; a last one takes only what was left above
    thin = _thickest(scene, max(0.0, top - 0.5 * scene.plan.last_rise), top, speed) if last else 0.0
    thin = thin or _thickest(scene, 0.0, min(top, rise / 2), speed)
    thick = _thickest(scene, 0.0, top, speed)
    if thin == 0.0:
        return speed, False
    # a little inside both limits, for these are coarser sums than the run's
    within = max(speed, 1.02 * speed * thinnest_chip(scene, last) / thin)
    within = min(within, 0.999 * speed * scene.limits.chip_thickness / thick)
    return within, within != speed


def _thickest(scene: Scene, low: float, high: float, speed: float) -> float:
    """Return the thickest shaving of a pass from one height to another, mm."""
    one = Pass(1, high, high - low, None, speed)
    return load_of(scene, one, low or None, 1.0, PLANNING_ANGLES).chip_thickness_max
