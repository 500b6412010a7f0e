"""A cove that is being cut, put right: what was really set, what to move, and what is left to be cut.

The wood as it is now is what the pass that was measured last has left of it. Heights are those of the blade above the
table, as a rule shows them beside it or as the cove's depth tells them, not those of a scale that may stand wrong.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np

from sweep.cut.lines_on_table import BESIDE
from sweep.plan.correct.found import FoundSetup, found_set_up
from sweep.plan.correct.measured import AfterPass, highest_looked_at
from sweep.plan.correct.moves import Move, moves_of_fence
from sweep.plan.correct.reach import HALVINGS, ProfileWanted
from sweep.plan.correct.remaining import Remaining, no_passes
from sweep.scene.model import WholeScene
from sweep.shape.feed import StraightFeed
from sweep.shape.section import edges_at_table
from sweep.tolerance import SAME_HEIGHT


@dataclass(frozen=True)
class LeftAlone:
    """What the cove will be if nothing is moved: the fence stays, and the blade stays as far off its heights as it is.

    Parameters
    ----------
    width, depth : float, mm
    deviation : float, mm
        How far it will lie off the target at most, either way.
    """

    width: float
    depth: float
    deviation: float


@dataclass(frozen=True)
class PassLeft:
    """A pass that remains.

    Parameters
    ----------
    height, rise : float, mm
        Of the blade above the table, and above where it stands before this pass; lowered where that is negative.
    width : float, mm
        Of the cove after it, the fence put right: to be measured.
    feed_speed : float, mm/s
    stop : float or None, mm
        Travel at which it stops; None when it goes through.
    """

    height: float
    rise: float
    width: float
    feed_speed: float
    stop: float | None


@dataclass(frozen=True)
class Correction:
    """How a job goes on.

    Parameters
    ----------
    scene : WholeScene
        As it was meant.
    found : FoundSetup
        As it was really set.
    slipped : bool
        Whether passes that were measured do not go together, so that only the last one counts.
    moves : tuple of Move
        That put the fence right; none where it misses the table.
    left : LeftAlone
    tolerance : float, mm
    beyond : float, mm
        How far the cove goes beyond the target already.
    out_from : float or None, mm
        The height from which the target is out of reach if the fence stays; None where it never is.
    perhaps_from : float or None, mm
        The same where fence angle and offset are as far off as their intervals allow.
    closest : float, mm
        How near to the target the cove can still come: its largest deviation, the fence put right.
    passes : tuple of PassLeft
        With the fence put right; none is deeper than the target allows.
    """

    scene: WholeScene
    found: FoundSetup
    slipped: bool
    moves: tuple[Move, ...]
    left: LeftAlone
    tolerance: float
    beyond: float
    out_from: float | None
    perhaps_from: float | None
    closest: float
    passes: tuple[PassLeft, ...]

    @property
    def other_pass(self) -> int | None:
        """The pass, from 1, whose height is nearer to the one that was measured; None where it is the same."""
        heights = self.scene.passes.heights
        nearest = min(range(len(heights)), key=lambda k: abs(heights[k] - self.found.blade_height.value)) + 1
        return None if nearest == self.found.number or self.found.blade_height.as_meant else nearest

    @property
    def in_reach(self) -> bool:
        """Whether the target can still be had within its tolerance."""
        return self.beyond <= self.tolerance

    @property
    def is_well(self) -> bool:
        """Whether nothing is to be moved: all may be set as it was meant, and left so it keeps within tolerance."""
        return (
            self.found.as_meant
            and self.found.together
            and not self.slipped
            and self.in_reach
            and self.left.deviation <= self.tolerance
        )


def corrected(scene: WholeScene, measured: tuple[AfterPass, ...], beside: float = BESIDE) -> Correction:
    """Return how a job goes on.

    Parameters
    ----------
    scene : WholeScene
        As it was meant; see `require_cove`.
    measured : tuple of AfterPass
        One or more, of passes that differ; see `require_measured`.
    beside : float, mm
        Where the scene has no table: how far from the blade's centre the fence's marks are.

    Raises
    ------
    SceneError
        When the measurements are none of this blade's coves, or no passes keep within the limits.
    """
    found, slipped = found_set_up(scene, measured), False
    if len(measured) > 1 and not found.together:
        found, slipped = found_set_up(scene, (max(measured, key=lambda one: one.number),)), True
    setup, (wanted, remaining) = scene.setup, _meant(scene)
    angle, height, offset = found.fence_angle.value, found.blade_height.value, found.offset.value
    end = min(setup.blade_height + found.blade_height.error, highest_looked_at(scene.tool, scene.tilt))
    top = remaining.top
    start = cut_up_to(scene, angle, height, offset)
    planned = remaining.left_from(start, height)
    if planned is None:
        raise no_passes(scene, start)
    beyond = float(wanted.beyond(angle, height, offset)[0])
    highest = max(end, top)
    reaches = wanted.reaches(*_corners(found), highest)
    return Correction(
        scene=scene,
        found=found,
        slipped=slipped,
        moves=moves_of_fence(scene, angle, offset, beside),
        left=LeftAlone(
            width=float(wanted.width(angle, end)[0]), depth=end, deviation=wanted.deviation(angle, end, offset)
        ),
        tolerance=wanted.tolerance,
        beyond=beyond,
        out_from=_below(float(reaches[0]), highest),
        perhaps_from=_below(float(reaches.min()), highest),
        closest=max(beyond, wanted.deviation(setup.fence_angle, top, setup.offset)),
        passes=tuple(
            _left(scene, wanted, before, one) for before, one in zip((height, *planned), planned, strict=False)
        ),
    )


@lru_cache(maxsize=8)  # a maker asks after every pass
def _meant(scene: WholeScene) -> tuple[ProfileWanted, Remaining]:
    wanted = ProfileWanted(scene)
    return wanted, Remaining(scene, wanted.highest)


def cut_up_to(scene: WholeScene, fence_angle: float, blade_height: float, offset: float) -> float:
    """Return up to which height the fence put right takes nothing that a cove has not taken, mm.

    Parameters
    ----------
    scene : WholeScene
        As it was meant.
    fence_angle, blade_height, offset : float, rad and mm
        Of the cove that is there.

    Notes
    -----
    A cove of another fence angle first cuts beyond this one at one of its edges, so it is found at the table, by
    halving, a counted number of times. Where it lies aside as well, a sliver of the flank above may go sooner: of 200
    random ones (a standard deviation of 1.5 deg and of 1.5 mm) at most 5 mm2 of the section.
    """
    there = edges_at_table(scene.tool, StraightFeed(fence_angle, offset), scene.tilt, blade_height)
    low, high = 0.0, blade_height
    for _ in range(HALVINGS if there is not None else 0):
        middle = (low + high) / 2
        own = edges_at_table(scene.tool, scene.feed, scene.tilt, middle)
        within = own is None or (there is not None and own[0] >= there[0] and own[1] <= there[1])
        low, high = (middle, high) if within else (low, middle)
    return low


def _left(scene: WholeScene, wanted: ProfileWanted, before: float, height: float) -> PassLeft:
    """Return a pass that remains; feed and stop are those of the pass that was to take its wood."""
    own = scene.passes
    last = len(own.heights) - 1
    place = next((k for k, top in enumerate(own.heights) if top > height - SAME_HEIGHT), last)
    width = float(wanted.width(scene.setup.fence_angle, height)[0])
    return PassLeft(height, height - before, width, own.feed_speeds[place], own.stops[place])


def _corners(found: FoundSetup) -> tuple[list[float], list[float]]:
    """Return fence angles and offsets as they were found, and then as far off as their intervals allow."""
    both = [
        [setting.value - (setting.half or 0.0), setting.value + (setting.half or 0.0)]
        for setting in (found.fence_angle, found.offset)
    ]
    pairs = [(found.fence_angle.value, found.offset.value), *product(*both)]
    angles, offsets = np.array(pairs).T
    return np.clip(angles, 1e-3, np.pi / 2).tolist(), offsets.tolist()


def _below(height: float, highest: float) -> float | None:
    return height if height < highest - 1e-6 else None
