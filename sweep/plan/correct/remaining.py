"""The passes that remain when a cove has been cut up to some height: from there, to the height it may have.

They are the scene's own passes as far as those serve, so that what stands on the sheet stays true. The first one begins
where the cut stands; where little would be left to it, it goes on to the next height. A pass that would take more than
the limits allow is parted, at the highest step that keeps within them. Limits are those of a plan (`plan/heights.py`).

Where the fence is put right, the cove that is there belongs to another set-up. Then the passes begin where the fence
put right first cuts beyond one of its edges. What the cove has taken above is counted as if it were still there, so no
pass takes more than is told.

They are worked out from some tens of heights, the next lower of these for any other. So a phone can carry all of them,
and says what the program says.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.fewest import MOST_PASSES, Steps
from sweep.plan.grid import height_step
from sweep.plan.heights import WITHIN, Burden
from sweep.scene.model import WholeScene
from sweep.tolerance import SAME_HEIGHT

TABLED = 161
"""Heights at which areas are tabled: between them they grow all but straight."""

STARTS = 40
"""From how many heights passes are worked out, at most."""

LITTLE, LIGHT = 0.5, 1.5
"""A first pass that has less than this share of its own rise left goes on to the next height; to the last one only
where it then rises no more than so many times as the last pass was to."""


@dataclass(frozen=True)
class PassesLeft:
    """The heights of the passes that remain, mm, where all is cut up to `start`, mm; None where limits allow none."""

    start: float
    heights: tuple[float, ...] | None


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
        burden = Burden(scene, scene.passes.feed_speeds[0], TABLED)
        self.top = top
        self._own = [*(h for h in sorted(set(scene.passes.heights)) if h < top - SAME_HEIGHT), top]
        self._steps = Steps(top, height_step(scene), burden, burden.beyond)
        self._burden = lru_cache(maxsize=None)(burden)
        self._every = math.ceil(self._steps.count / STARTS)
        self._left_from = lru_cache(maxsize=None)(self._worked_out)

    def starts(self) -> list[float]:
        """Return the heights from which passes are worked out, mm, the lowest first."""
        return [place * self._steps.step for place in range(0, self._steps.count, self._every)]

    def left_from(self, height: float) -> PassesLeft:
        """Return the passes that remain where all is cut up to a height, mm.

        None remains less than half a step below the top.
        """
        step = self._steps.step
        if height > self.top - step / 2:
            return PassesLeft(height, ())
        place = min(math.floor((height + SAME_HEIGHT) / step), self._steps.count - 1)
        heights = self._left_from(max(0, place // self._every * self._every))
        if heights is None:
            return PassesLeft(height, None)
        return PassesLeft(height, tuple(one for one in heights if one > height + SAME_HEIGHT))

    def _worked_out(self, place: int) -> tuple[float, ...] | None:
        """Return the passes from a step; it ends, for each of them goes a step higher at least."""
        low, heights = place * self._steps.step, list[float]()
        ahead = [height for height in self._own if height > low + SAME_HEIGHT]
        if len(ahead) > 1 and self._goes_on(low, ahead):
            ahead = ahead[1:]
        while ahead and len(heights) < MOST_PASSES:
            within = self._burden(low, ahead[0]) <= WITHIN
            reached = ahead[0] if within else self._furthest(low)
            if reached <= low:
                return None
            heights.append(reached)
            low, ahead = reached, ahead[1:] if within else ahead
        return None if ahead else tuple(heights)

    def _goes_on(self, low: float, ahead: list[float]) -> bool:
        """Return whether the first of the passes ahead is left out, for little is left to it."""
        before = max((height for height in self._own if height <= low + SAME_HEIGHT), default=0.0)
        if ahead[0] - low >= LITTLE * (ahead[0] - before):
            return False
        if len(ahead) == 2 and ahead[1] - low > LIGHT * (ahead[1] - ahead[0]):
            return False
        return self._burden(low, ahead[1]) <= WITHIN

    def _furthest(self, low: float) -> float:
        """Return the highest step that a pass from a height reaches within the limits, mm; no higher where none."""
        place = math.floor((low + SAME_HEIGHT) / self._steps.step)  # the next lower one: it takes no more than told
        return self._steps.height(self._steps.furthest(place, WITHIN))


def no_passes(scene: WholeScene, start: float) -> SceneError:
    """Return the refusal where no passes from a height, mm, keep within the limits."""
    return SceneError(
        "limits",
        f"no {MOST_PASSES} passes or fewer from {{start}} on keep within them on steps of {{step}}",
        "allow more rise, area or power, feed slower, or round to finer steps",
        start=length(start),
        step=length(height_step(scene)),
    )
