"""Classical mouldings as targets, constructed as `mouldings.py` says, and what is known of them without the program.

The constructions and the joiner's way to a round (the corner knocked off at 45 deg first) are from memory of handbooks
in the public domain, and common practice; areas are closed forms.
"""

from __future__ import annotations

import math

import mouldings
import numpy as np
import pytest

from sweep.plan.several.choose import curve_of
from sweep.plan.several.cuts import Cut
from sweep.plan.several.wanted import wanted_of
from sweep.scene.read import scene_from
from sweep.scene.whole import kept_body
from sweep.shape import section

RADIUS = 16.0
"""mm. Of the quarter round and the quarter hollow, at the right of stock 50 x 24 mm."""


def ovolo() -> np.ndarray:
    """A quarter round at the lower right corner: its centre inside the wood."""
    return np.vstack([[(-25.0, 0.0)], mouldings.arc((25 - RADIUS, RADIUS), RADIUS, -90, 0, 90)])


def cavetto() -> np.ndarray:
    """A quarter hollow there: its centre in the corner."""
    return np.vstack([[(-25.0, 0.0)], mouldings.arc((25.0, 0.0), RADIUS, 180, 90, 90)])


def cyma_recta() -> np.ndarray:
    """Two arcs of 60 deg between two fillets."""
    return np.vstack([[(-25.0, 2.0)], mouldings.cyma((-20.0, 2.0), (20.0, 18.0)), [(25.0, 18.0)]])


@pytest.mark.parametrize(
    ("points", "waste"),
    [
        (ovolo(), RADIUS**2 * (1 - math.pi / 4)),
        (cavetto(), RADIUS**2 * math.pi / 4),
        (cyma_recta(), 5 * 2 + 40 * (2 + 18) / 2 + 5 * 18),  # it is the same on both sides of its middle
    ],
    ids=["ovolo", "cavetto", "cyma recta"],
)
def test_the_waste_of_a_classical_moulding_is_the_closed_form(points, waste):
    """Chords of the drawn arcs lie within a hundredth of a mm."""
    scene = scene_from(mouldings.scene_of(points, 50, 24))
    kept = kept_body(scene.wanted, scene.stock)

    assert 50 * 24 - section.area(kept) == pytest.approx(waste, abs=0.1)


def test_a_cyma_rectas_arcs_meet_in_one_tangent_and_have_the_radius_of_their_chord():
    """An arc of 60 deg is as long in radius as in chord: the triangle over it has equal sides."""
    line = mouldings.cyma((-20.0, 2.0), (20.0, 18.0))
    middle, chord = len(line) // 2, math.hypot(20, 8)
    before, after = line[middle] - line[middle - 1], line[middle + 1] - line[middle]
    for half in (line[: middle + 1], line[middle:]):
        a, b, c = half[0], half[len(half) // 2], half[-1]
        sides = [math.dist(a, b), math.dist(b, c), math.dist(c, a)]
        (ux, uz), (vx, vz) = b - a, c - a
        assert math.prod(sides) / (2 * abs(ux * vz - uz * vx)) == pytest.approx(chord, rel=1e-9)

    assert before[0] * after[1] == pytest.approx(before[1] * after[0], abs=1e-3)


def test_a_quarter_round_is_begun_by_one_bevel_at_45_deg():
    """The joiner's way: its tangent at 45 deg takes 0.800 of the waste, r^2 (2 - sqrt 2)^2 / 2 of r^2 (1 - pi / 4)."""
    scene = scene_from(mouldings.scene_of(ovolo(), 50, 24, blades=1, leave="0 mm", most_setups=1))
    row = curve_of(scene).rows[0]
    (cut,) = row.ordered.cuts
    best = (2 - math.sqrt(2)) ** 2 / 2 / (1 - math.pi / 4)

    assert isinstance(cut, Cut) and cut.through and cut.family.is_rip
    assert math.degrees(abs(cut.family.tilt)) == pytest.approx(45, abs=0.2)
    assert row.share == pytest.approx(best, abs=0.005)


@pytest.mark.parametrize("points", [ovolo(), cavetto(), cyma_recta()], ids=["ovolo", "cavetto", "cyma recta"])
def test_two_set_ups_take_most_of_a_classical_moulding_and_touch_nothing(points):
    """More each time, all of it outside the body."""
    scene = scene_from(mouldings.scene_of(points, 50, 24, blades=1, tilts=30, most_setups=2))
    curve, wanted = curve_of(scene), wanted_of(scene)
    shares = [row.share for row in curve.rows]

    assert curve.choice.share > 0.85 and shares == sorted(shares)
    assert section.area(section.minus(wanted.kept, curve.choice.ordered.wood)) < 1e-9
