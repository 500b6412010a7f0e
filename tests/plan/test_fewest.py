"""The fewest passes on steps that can be set: found within a counted number of looks, and no fewer would do."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.plan.fewest import MOST_PASSES, Steps, fewest_even

INCH = 25.4


class Cut:
    """A burden in closed form: a limit of rise, and one of area in a cove that widens as h^power; looks are counted."""

    def __init__(self, rise: float, area: float, power: float) -> None:
        self.rise, self.area, self.power, self.looks = rise, area, power, 0

    def __call__(self, low: float, high: float) -> float:
        self.looks += 1
        return max((high - low) / self.rise, (high**self.power - low**self.power) / self.area)

    def burdens(self, passes: list[tuple[float, float]]) -> list[float]:
        return [self(*one) for one in passes]

    def beyond(self, low: float, most: float) -> float:
        return low + most * self.rise

    def planned(self, top: float, step: float, wish: float) -> list[float] | None:
        return fewest_even(Steps(top, step, self.burdens, self.beyond), wish, 1.0)


STEPS = st.sampled_from([0.1, 0.25, 0.5, INCH / 64, INCH / 32])


@st.composite
def jobs(draw: st.DrawFn, most: int) -> tuple[Cut, float, float, float]:
    """A burden, a top on a step or between two, the step, and the rise wished for the last pass."""
    step = draw(STEPS)
    top = draw(st.integers(1, most).map(lambda n: n * step) | between(0.3 * step, most * step))
    cut = Cut(draw(between(0.6, 8)) * step, draw(between(0.5, 12)), draw(between(1, 1.6)))
    return cut, top, step, draw(between(0.2, 3)) * step


def fewest_by_force(cut: Cut, top: float, step: float, wish: float) -> int | None:
    """The fewest passes on the steps, every one tried; with a last one lighter than all where there is such a plan."""
    heights = [k * step for k in range(10_000) if k * step < top - 1e-6]
    lasts = [h for h in heights if h >= math.floor((top - wish) / step + 1e-9) * step - 1e-9]
    found: dict[bool, list[int]] = {True: [], False: []}
    for lightest in found:
        for below in (h for h in lasts if cut(h, top) <= 1):
            reached, passes, least = {0.0}, 1, top - below + 1e-6 if lightest else 0.0
            while reached and below not in reached:
                reached = {
                    there
                    for here in reached
                    for there in heights
                    if here < there <= below and there - here > least and cut(here, there) <= 1
                }
                passes += 1
            found[lightest] += [passes] if reached else []
    return min(found[True] or found[False], default=None)


@given(job=jobs(most=11))
@fewer(3 / 8)
def test_no_plan_on_the_steps_has_fewer_passes(job):
    """Against every plan there is on a small grid; and it is refused only where there is none."""
    cut, *sizes = job
    found = cut.planned(*sizes)

    assert (found and len(found)) == fewest_by_force(cut, *sizes)


@given(job=jobs(most=400))
@fewer(3 / 8)
def test_every_plan_can_be_set_keeps_within_the_limits_and_ends_soon(job):
    """On the steps, its last height the top, no burden above 1, after no more looks than some thousands."""
    cut, top, step, wish = job
    found = cut.planned(top, step, wish)

    assert cut.looks < 5_000
    if found is None:
        return
    assert found[-1] == top
    assert all(height / step == pytest.approx(round(height / step), abs=1e-6) for height in found[:-1])
    assert all(low < high and cut(low, high) <= 1 for low, high in pairwise([0.0, *found]))
    assert len(found) <= MOST_PASSES


@given(top=between(5, 80), step=st.just(0.001) | STEPS, passes=st.integers(3, 450), power=between(1, 1.6))
@fewer(3 / 40)
def test_what_the_passes_fall_short_of_is_spread_over_them(top, step, passes, power):
    """Where burdens add up none is above their mean by more than the steps cost; many passes cost few looks each."""
    cut = Cut(rise=math.inf, area=top**power / passes, power=power)
    cut.beyond = lambda low, most: (low**power + most * cut.area) ** (1 / power)
    found = cut.planned(top, step, 0.2 * top / passes)  # so light that it does not stand in their way
    one_step = cut(top, top + step)
    if found is None:  # a pass of some steps would be too much, or too many were needed
        assert one_step > 0.05 or passes > 400
        return
    burdens = [cut(low, high) for low, high in pairwise([0.0, *found[:-1]])]

    assert max(burdens, default=0.0) <= sum(burdens) / max(len(burdens), 1) + one_step + 0.01
    assert cut.looks <= 30 * len(found) + 200
