"""Whether the stock can be held, on random scenes: against the oracle's word of what the blade takes at the table."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from oracles import Cut
from strategies import fewer, scenes

from sweep.check.stock import flags_of_what_is_left, small_stock
from sweep.cut.job import simulate
from sweep.scene.model import WholeScene
from sweep.tolerance import Fineness

GRID, CLOSE = 20_001, 0.05
"""Places across the stock at which the oracle is asked, and how near to a limit, mm, nothing is claimed."""


def open_at_table(scene: WholeScene) -> np.ndarray:
    """Places across the stock, mm, at which the blade at its full height takes the face on the table."""
    setup, half = scene.setup, scene.stock.width / 2
    cut = Cut(scene.tool.profile, setup.fence_angle, setup.blade_height, setup.blade_tilt, setup.offset)
    across = np.linspace(-half, half, GRID)
    return across[cut.takes_from_section(np.column_stack([across, np.full(GRID, 1e-6)]))]


@fewer(1 / 8)
@given(scene=scenes(stops=False))
def test_stock_that_cannot_be_held_is_flagged_for_what_it_lacks(scene):
    """Its three sizes, and what the oracle says that the blade leaves of it."""
    sizes_are_judged_each_by_itself(scene)
    what_is_left_is_judged_as_the_oracle_does(scene)


def sizes_are_judged_each_by_itself(scene: WholeScene) -> None:
    """Each of the three against the limit of that size."""
    stock, limits = scene.stock, scene.limits
    small = {
        "stock-short": stock.length < limits.stock_length,
        "stock-narrow": stock.width < limits.stock_width,
        "stock-thin": stock.thickness < limits.stock_thickness,
    }

    assert {flag.code for flag in small_stock(scene)} == {code for code, is_small in small.items() if is_small}


def what_is_left_is_judged_as_the_oracle_does(scene: WholeScene) -> None:
    """Shoulders, contact and a blade that misses: flagged where they are too small by the oracle, and only there."""
    taken, half, limits = open_at_table(scene), scene.stock.width / 2, scene.limits
    flags = flags_of_what_is_left(simulate(scene, Fineness(chord=0.05, section_chord=1e-3, angles=64, ends=0)))
    found = {(flag.code, flag.part): flag for flag in flags}
    codes = {code for code, _ in found}

    if "stock-missed" in codes:
        assert len(taken) == 0
        assert codes == {"stock-missed"}
    if len(taken) < 2:
        return
    left, right = taken[0] + half, half - taken[-1]
    for side, flat in (("left", left), ("right", right)):
        if abs(flat - limits.shoulder) > CLOSE:
            assert (("shoulder-narrow", side) in found) == (flat < limits.shoulder)
    if min(left, right) > limits.shoulder + CLOSE and abs(left + right - limits.contact) > CLOSE:
        assert ("contact-small" in codes) == (left + right < limits.contact)
    for side in ("left", "right"):
        if ("shoulder-narrow", side) in found:
            assert abs(found["shoulder-narrow", side].value - {"left": left, "right": right}[side]) < CLOSE
