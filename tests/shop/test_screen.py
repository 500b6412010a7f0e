"""The screening: its first blades hold one that fits as closely as any, and its figures are those of exact curves."""

from __future__ import annotations

from math import pi, radians

import numpy as np
import pytest
from drawers import RACK, chance_lines

from sweep.plan.closeness import largest, sampled
from sweep.plan.fit import Range, fit_blade
from sweep.shape.cove import angle_for_width
from sweep.shape.outline import curves, settings
from sweep.shop.screen import FITTED, screened, shapes_of

AS_CLOSE = 0.01
"""mm. Blades whose best curves differ by less are alike: a fit's own figures in the table are no finer than a saw."""

TOOLS = tuple(RACK.values())


def lost(line: np.ndarray, chosen: list[int], tilts: tuple[float, float] = (0.0, 0.0)) -> float:
    """By how much the closest of all blades is closer than the closest of those chosen, mm."""
    allowed = [Range((radians(0.1), pi / 2), (0.1, min(75.0, 0.9 * tool.radius)), tilts) for tool in TOOLS]
    fits = [fit_blade(tool, line, one).deviation for tool, one in zip(TOOLS, allowed, strict=True)]
    return min(fits[number] for number in chosen) - min(fits)


def test_the_first_three_of_twelve_hold_one_that_fits_as_closely_as_any():
    """A share of `tests/bench/test_shop.py`, which does it for 500."""
    lines = chance_lines(6, seed=11)[::2]
    order = np.argsort(screened(TOOLS, shapes_of(lines, [75.0] * len(lines))), axis=1)

    for line, chosen in zip(lines, order[:, :FITTED].tolist(), strict=True):
        assert lost(line, chosen) <= AS_CLOSE


def test_a_curve_of_a_blade_is_its_own_at_the_angle_that_a_closed_form_tells():
    """Every blade of the rack: its own cove is off by nothing, whatever the others are."""
    lines = [curves(tool, settings(angle_for_width(tool, 0.0, 12.0, 40.0), 0.0, 12.0), 200)[0] for tool in TOOLS]
    found = screened(TOOLS, shapes_of(lines, [75.0] * len(lines)))

    assert np.diag(found).max() < 0.005
    assert (found.min(axis=1) >= np.diag(found) - 0.005).all()


def test_what_is_screened_is_the_exact_curve_s_deviation():
    """Within a tenth, and a thirtieth of a mm, of what the fit's own measure says of the same set-up."""
    lines = chance_lines(12, seed=5)
    found = screened(TOOLS[:4], shapes_of(lines, [75.0] * len(lines)))
    for line, row in zip(lines, found, strict=True):
        for tool, off in zip(TOOLS[:4], row, strict=True):
            width, depth = line[-1, 0] - line[0, 0], line[:, 1].max()
            angle = angle_for_width(tool, 0.0, depth, width)
            if angle is None:
                continue
            curve = curves(tool, settings(angle, 0.0, depth), 24)
            curve = curve - ((curve[0, 0, 0] + curve[0, -1, 0] - line[0, 0] - line[-1, 0]) / 2, 0.0)
            assert off == pytest.approx(float(largest(curve, line, sampled(line, 200))[0]), rel=0.15, abs=0.05)


def test_a_blade_that_does_not_reach_is_last():
    """A cove deeper than a small blade can be raised, by a larger one."""
    deep = chance_lines(1, seed=2)[0] * (1.0, 60.0 / 5)
    deep[:, 1] *= 70.0 / deep[:, 1].max()
    found = screened(TOOLS, shapes_of([deep], [90.0]))[0]

    assert int(np.argmin(found)) == len(TOOLS) - 1
