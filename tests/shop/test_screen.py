"""The screening: its first blades hold one that fits as closely as any, and its figures are those of exact curves."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, radians

import numpy as np
import pytest
from drawers import RACK, chance_lines

from sweep.plan.fit import Range, fit_blade, settle
from sweep.shape.cove import angle_for_width
from sweep.shape.outline import curves, settings
from sweep.shape.tool import Tool
from sweep.shop import screen
from sweep.shop.off_curve import off_curve
from sweep.shop.screen import FITTED, screened, shapes_of

AS_CLOSE = 0.001
"""mm. Blades whose best curves differ by less are alike: a settled fit's own figure is right within 0.0004 mm."""

TOOLS = tuple(RACK.values())


def closest(tools: Sequence[Tool], line: np.ndarray) -> np.ndarray:
    """Return how close blades come on an upright saw, mm: of those that come nearly as close as the best the truth."""
    ranges = [Range((radians(0.1), pi / 2), (0.1, min(75.0, 0.9 * tool.radius)), (0.0, 0.0)) for tool in tools]
    fits = [fit_blade(tool, line, allowed) for tool, allowed in zip(tools, ranges, strict=True)]
    near = 1.03 * min(fit.deviation for fit in fits) + 0.02  # a fit that is not settled is off by 0.02 mm at most
    each = zip(tools, ranges, fits, strict=True)
    settled = [settle(tool, line, allowed, fit) if fit.deviation < near else fit for tool, allowed, fit in each]
    return np.array([fit.deviation for fit in settled])


def test_the_first_three_of_twelve_hold_one_that_fits_as_closely_as_any():
    """A share of `tests/bench/test_shop.py`, which does it for 500."""
    for line in chance_lines(4, seed=11)[2:]:
        chosen = np.argsort(screened(TOOLS, shapes_of([line], [75.0]))[0])[:FITTED]
        fits = closest(TOOLS, line)

        assert fits[chosen].min() <= fits.min() + AS_CLOSE


def test_a_few_more_steps_bring_the_screening_s_bound_to_the_least_largest_deviation(monkeypatch):
    """Lawson's steps climb to what the descent by linear programmes settles at, from below."""
    lines = chance_lines(4, seed=5)[2:]
    least = np.concatenate([closest(TOOLS[6:7], line) for line in lines])
    shapes = shapes_of(lines, [75.0] * len(lines))
    few = screened(TOOLS[6:7], shapes)[:, 0]
    monkeypatch.setattr(screen, "STEPS", 12)
    many = screened(TOOLS[6:7], shapes)[:, 0]

    assert (0.8 * least < few).all()
    assert (few < many).all()
    assert many == pytest.approx(least, rel=0.05)
    assert (many < least).all()


def test_points_of_exact_curves_are_off_by_nothing_and_slopes_are_those_of_small_changes():
    """Upright and tilted, with flat tips and with bevelled ones, points at the ends along the table."""
    chance = np.random.default_rng(3)
    at = np.array([chance.uniform(low, high, 9) for low, high in [(0.2, 1.3), (3, 25), (-9, 9), (0, 0.7)]])
    at[3, :3] = 1e-5  # upright, but for the place where the other side of the rim begins to be the top
    for tool in TOOLS[:2]:
        points = curves(tool, settings(at[0], at[3], at[1], at[2]), 6).transpose(2, 1, 0)
        off, slopes = off_curve(tool, points, at, 4)
        beside, _ = off_curve(tool, points[:, [0, -1]] + [[[0.01]], [[0.0]]], at)

        assert np.abs(off).max() < 1e-9
        assert beside == pytest.approx(np.outer([-0.01, 0.01], np.ones(9)), rel=0.02)
        for k, slope in enumerate(slopes):
            change = np.eye(4)[:, k : k + 1] * 1e-6
            expected = (off_curve(tool, points, at + change)[0] - off_curve(tool, points, at - change)[0]) / 2e-6
            gaps = np.abs(slope - expected) / (1 + np.abs(expected))
            assert np.quantile(gaps, 0.95) < 1e-4  # where two bands meet the slope is one of either


def test_a_curve_of_a_blade_is_its_own_at_the_angle_that_a_closed_form_tells():
    """Every blade of the rack: its own cove is off by nothing, whatever the others are."""
    lines = [curves(tool, settings(angle_for_width(tool, 0.0, 12.0, 40.0), 0.0, 12.0), 200)[0] for tool in TOOLS]
    found = screened(TOOLS, shapes_of(lines, [75.0] * len(lines)))

    assert np.diag(found).max() < 0.001
    assert (found.min(axis=1) >= np.diag(found) - 0.001).all()


def test_a_blade_that_does_not_reach_is_last():
    """A cove deeper than a small blade can be raised, by a larger one."""
    deep = chance_lines(1, seed=2)[0] * (1.0, 60.0 / 5)
    deep[:, 1] *= 70.0 / deep[:, 1].max()
    found = screened(TOOLS, shapes_of([deep], [90.0]))[0]

    assert int(np.argmin(found)) == len(TOOLS) - 1


def test_a_leaning_cove_is_nearest_to_the_tilted_blade_that_cut_it():
    """On a saw that tilts it is all but exact; on one that stays upright it is not."""
    tool = TOOLS[3]
    line = curves(tool, settings(0.5, 0.4, 14.0), 100)[0]
    shapes = shapes_of([line], [75.0])

    assert screened((tool,), shapes, (0.0, 0.785))[0, 0] < 0.02
    assert screened((tool,), shapes)[0, 0] > 0.5
