"""What the hands push with: the teeth's part, and friction in plain sums of weight, featherboards and what presses."""

from __future__ import annotations

import pytest
from demos import cornice_with
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.check.shares import shares_of
from sweep.cut.forces import Forces
from sweep.cut.job import simulate
from sweep.cut.push import HOLD, SLIDING, friction_of, push_of, weight_of
from sweep.scene.read import scene_from
from sweep.tolerance import Fineness

CORNICE = scene_from(cornice_with())


def teeth(feed: float, fence: float, lift: float) -> Forces:
    """Forces of teeth, N."""
    return Forces(feed=feed, fence=fence, lift=lift, side=0.0, power=100.0)


def test_the_stock_weighs_its_density_times_its_size_and_rubs_on_table_fence_and_featherboards():
    """White oak, 762 kg/m3 (Wood Handbook), 0.9 x 0.092 x 0.0225 m; no force of the teeth across or up."""
    weight = 762 * 0.9 * 0.092 * 0.0225 * 9.81

    assert weight_of(CORNICE) == pytest.approx(weight, rel=1e-3)
    assert friction_of(CORNICE) == pytest.approx(SLIDING * (weight + 4 * HOLD), rel=1e-3)
    assert push_of(CORNICE, teeth(17.0, 0.0, 0.0)) == pytest.approx(17.0 + friction_of(CORNICE))


@given(feed=between(-50, 200), fence=between(-300, 300), lift=between(-300, 300), more=st.sampled_from([1.0, 30.0]))
@fewer(1 / 8)
def test_friction_grows_with_what_presses_and_is_never_a_help(feed, fence, lift, more):
    """Teeth that lift the stock take weight off the table, those that press it into the fence add there."""
    here = friction_of(CORNICE, teeth(feed, fence, lift))

    assert here >= SLIDING * 2 * HOLD
    assert friction_of(CORNICE, teeth(feed, fence + more, lift)) >= here
    assert friction_of(CORNICE, teeth(feed, fence, lift + more)) <= here
    assert friction_of(CORNICE, teeth(feed + more, fence, lift)) == here


def test_stock_twice_as_long_weighs_twice_as_much_and_friction_counts_against_the_limit():
    """The share of the limit grows by the coefficient times the weight that is added."""
    job = simulate(CORNICE, Fineness(chord=0.05))
    long = scene_from(cornice_with(stock={"length": "1800 mm"}))
    one, load, area = job.passes[0], job.loads[0], job.sections[0].area
    more = shares_of(long, one, area, load)["push"] - shares_of(CORNICE, one, area, load)["push"]

    assert weight_of(long) == pytest.approx(2 * weight_of(CORNICE))
    assert more * CORNICE.limits.push == pytest.approx(SLIDING * weight_of(CORNICE))
