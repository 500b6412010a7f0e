"""The passes that remain when a cove has been cut up to some height: from there, to the height it may have.

They are the scene's own passes as far as those serve, so that what stands on the sheet stays true. The first one begins
where the cut stands; where little would be left to it, it goes on to the next height. A pass that would take more than
the limits allow is parted evenly. Limits are those of a plan (`plan/heights.py`).

Where the fence is put right, the cove that is there belongs to another set-up. Then the passes begin where the fence
put right first cuts beyond one of its edges, and what the cove has taken above is counted as if it were still there.
Where that is little lower than the cove is deep, only a sliver is left there, and the next pass takes it as well. Where
it is lower by more, the first pass goes again at the height of the cove and takes the wood beside it. Either is done
only within the limits. The wood beside the cove is counted as all that a pass from there would take of fresh wood, a
sliver as half of that: were the cove a parabola, it would be a third where the angle alone is off and a quarter where
the place is. No pass goes less deep than the cove then, for a cove cut by two set-ups at two heights tells neither.
Only where a fence is further off do the passes begin below.

They are worked out from some tens of heights, the next lower of these for any other. So a phone can carry all of them,
and says what the program says.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from functools import cached_property, lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.fewest import MOST_PASSES
from sweep.plan.grid import height_step
from sweep.plan.heights import WITHIN, Burden
from sweep.scene.model import WholeScene
from sweep.tolerance import SAME_HEIGHT

Array = NDArray[np.float64]

TABLED = 161
"""Heights at which areas are tabled: between them they grow all but straight."""

STARTS = 40
"""From how many heights passes are worked out, at most."""

LITTLE, LIGHT = 0.5, 1.5
"""A first pass that has less than this share of its own rise left goes on to the next height; to the last one only
where it then rises no more than so many times as the last pass was to."""


SLIVER = 1.0
"""mm. How much lower than the cove is deep the fence put right may begin to cut for only a sliver to be there: in a
cove 50 mm wide about 15 mm2 of its section, a tenth of what a pass may take."""

NEARER = 12
"""How often it is halved how high a pass may reach: to a thousandth of a mm, or less."""


class Remaining:
    """What remains of the passes of one set-up.

    Parameters
    ----------
    scene : WholeScene
        As it was meant.
    top : float, mm
        The height of the last pass.
    """

    def __init__(self, scene: WholeScene, top: float) -> None:
        self.top, self._step = top, height_step(scene)
        self._burden = Burden(scene, scene.passes.feed_speeds[0], TABLED)
        self._own = [*(h for h in sorted(set(scene.passes.heights)) if h < top - SAME_HEIGHT), top]
        steps = max(1, math.ceil((top - SAME_HEIGHT) / self._step))
        self._starts = [place * self._step for place in range(0, steps, math.ceil(steps / STARTS))]
        self._from_start = lru_cache(maxsize=None)(self._worked_out)

    def rows(self) -> list[tuple[float, tuple[float, ...] | None, float]]:
        """Return every height from which passes are worked out, mm, rising, with what is known from there.

        The heights of the passes, None for none, and how high one pass may reach.
        """
        self._burden.look_at(self._likely())
        return [(start, self._from_start(start), high) for start, high in zip(self._starts, self._reached, strict=True)]

    def left_from(self, start: float, depth: float) -> tuple[float, ...] | None:
        """Return the heights of the passes that remain, mm; None where the limits allow none.

        None remains less than half a step below the top, and none is added for less than that: no wheel is set finer.

        Parameters
        ----------
        start : float, mm
            Up to where all is cut that the fence put right would cut.
        depth : float, mm
            How deep the cove is; not less.
        """
        if start > self.top - self._step / 2:
            return ()
        heights = self._from_start(self._starts[max(0, bisect_right(self._starts, start + SAME_HEIGHT) - 1)])
        if heights is None:
            return None
        above = tuple(one for one in heights if one > depth + self._step / 2 or one == self.top)
        if depth - start <= SLIVER and above[0] <= self._furthest((start + depth) / 2) + self._step / 2:
            return above
        if start + SAME_HEIGHT < depth <= min(self._furthest(start), self.top):
            return (depth, *above)
        return tuple(one for one in heights if one > start + SAME_HEIGHT)

    def _furthest(self, start: float) -> float:
        """Return how high one pass may reach from any height, mm: on the straight line between those worked out."""
        return float(np.interp(start, self._starts, self._reached))

    @cached_property
    def _reached(self) -> list[float]:
        """How high one pass may reach from each start, mm, over the whole of the wood: found by halving."""
        starts = np.array(self._starts)
        high = np.array([max(one, min(self._burden.beyond(one, WITHIN), self.top)) for one in self._starts])
        low = np.where(self._are_within(starts, high), high, starts)
        for _ in range(NEARER):
            middle = (low + high) / 2
            within = self._are_within(starts, middle)
            low, high = np.where(within, middle, low), np.where(within, high, middle)
        reached: list[float] = low.tolist()
        return reached

    def _are_within(self, low: Array, high: Array) -> NDArray[np.bool_]:
        """Return which of some passes, between heights, (n,) mm each, the limits allow."""
        passes = list(zip(low.tolist(), high.tolist(), strict=True))
        self._burden.look_at(passes)
        return np.array([self._burden(*one) <= WITHIN for one in passes])

    def _likely(self) -> Iterator[tuple[float, float]]:
        """Yield passes that are likely to be looked at: from each start to both heights after it, and between those."""
        yield from pairwise(self._own)
        for start in self._starts:
            yield from ((start, one) for one in [one for one in self._own if one > start + SAME_HEIGHT][:2])

    def _worked_out(self, start: float) -> tuple[float, ...] | None:
        """Return the heights of the passes from one, mm; it ends, for each of them goes a step higher at least."""
        low, heights = start, list[float]()
        ahead = [height for height in self._own if height > low + SAME_HEIGHT]
        if len(ahead) > 1 and self._goes_on(low, ahead):
            ahead = ahead[1:]
        while ahead and len(heights) < MOST_PASSES:
            reached = self._towards(low, ahead[0])
            if reached is None:
                return None
            heights.append(reached)
            low, ahead = reached, ahead[1:] if reached == ahead[0] else ahead
        return None if ahead else tuple(heights)

    def _towards(self, low: float, high: float) -> float | None:
        """Return how high a pass goes that is to reach a height: there, or on a step, so that it is parted evenly."""
        if self._burden(low, high) <= WITHIN:
            return high
        for parts in range(2, math.ceil((high - low) / self._step) + 1):
            there = math.floor((low + (high - low) / parts) / self._step + 0.5) * self._step
            if low + SAME_HEIGHT < there and self._burden(low, there) <= WITHIN:
                return there
        return None

    def _goes_on(self, low: float, ahead: list[float]) -> bool:
        """Return whether the first of the passes ahead is left out, for little is left to it."""
        before = max((height for height in self._own if height <= low + SAME_HEIGHT), default=0.0)
        if ahead[0] - low >= LITTLE * (ahead[0] - before):
            return False
        if len(ahead) == 2 and ahead[1] - low > LIGHT * (ahead[1] - ahead[0]):
            return False
        return self._burden(low, ahead[1]) <= WITHIN


def no_passes(scene: WholeScene, start: float) -> SceneError:
    """Return the refusal where no passes from a height, mm, keep within the limits."""
    return SceneError(
        "limits",
        f"no {MOST_PASSES} passes or fewer from {{start}} on keep within them on steps of {{step}}",
        "allow more rise, area or power, feed slower, or round to finer steps",
        start=length(start),
        step=length(height_step(scene)),
    )
