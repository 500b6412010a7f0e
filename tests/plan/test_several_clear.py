"""Cuts for a whole moulding keep clear of it, and only just: laws on random profiles, blades, tilts and faces."""

from __future__ import annotations

import math

import mouldings
import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st
from oracles import Cut as OracleCut
from strategies import fewer

from sweep.errors import SceneError
from sweep.plan.several.candidates import LEAST_HEIGHT, families_of, of_family, takes_of
from sweep.plan.several.cuts import Cut
from sweep.plan.several.family import Family
from sweep.plan.several.wanted import Wanted, wanted_of
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.tolerance import CHORD

ABOVE_TABLE = shapely.box(-200, 1e-4, 200, 200)
"""A blade that only just reaches the table takes no wood there."""


def random_scene(chance: np.random.Generator) -> Scene:
    """A random profile in a scene with one of three kinds of cutter, and a random skin to be left."""
    while True:
        points, width, thickness = mouldings.at_random(chance)
        tables = mouldings.scene_of(points, width, thickness, leave=f"{chance.choice([0, 0.1, 0.3, 1.5])} mm")
        blades: list[dict[str, object]] = [
            {},
            {"tip": "alternate bevel", "bevel": "15 deg"},
            {"diameter": None, "kerf": None, "profile": [[-5, 80], [-1, 92], [3, 88], [6, 70]]},
        ]
        tables["blades"][0] |= chance.choice(np.array(blades, object))
        tables["blades"][0] = {key: value for key, value in tables["blades"][0].items() if value is not None}
        try:
            return scene_from(tables)
        except SceneError:
            continue  # the line crosses itself


def in_the_stock(cut: Cut, wanted: Wanted) -> section.Figure:
    """What a cut takes, with chords as fine as they are judged by."""
    return section.within(cut.figure(1e-4), section.within(section.stock_section(*wanted.stock), ABOVE_TABLE))


def assert_reached_as_by_the_oracle(family: Family, place: float, wanted: Wanted) -> None:
    """A point is in the cut from the height on that is told: an independent membership test just above and below."""
    points = wanted.cells[::97]
    heights = family.heights_to_reach(points, np.array([place]))[0]
    laid = family.lying.laid(points)
    for point, height in zip(laid, heights, strict=True):
        for more, taken in ((-0.01, False), (0.01, True)):
            if 0.02 < height < family.highest - 0.02:
                tried = OracleCut(family.tool.profile, family.fence_angle, height + more, family.tilt, -place)
                assert tried.takes_from_section([point])[0] == taken


def assert_clear_and_no_lower_than_it_must_be(cut: Cut, scene: Scene, wanted: Wanted) -> None:
    """No nearer the body than what is to be left, but for a chord; 0.02 mm higher it is nearer, where it may be."""
    took = in_the_stock(cut, wanted)
    assert shapely.distance(took, wanted.kept) >= scene.plan.leave - CHORD
    assert section.area(section.within(took, wanted.kept)) < 1e-9
    clear = cut.family.greatest_heights(wanted.sides, np.array([cut.place]))[0]
    if cut.height == clear and not cut.through:
        higher = in_the_stock(Cut(cut.family, cut.place, cut.height + 0.02), wanted)
        assert shapely.distance(higher, wanted.clear_of) == 0.0


@given(st.integers(0, 2**32 - 1))
@fewer(1 / 32)
def test_cuts_on_random_profiles_keep_clear_and_no_more(seed):
    """Coves and rips of every cutter, on every face, both ends first; what they take is as the exact section has it."""
    chance = np.random.default_rng(seed)
    scene = random_scene(chance)
    wanted = wanted_of(scene)
    families = list(families_of(scene, wanted))
    for family in [families[k] for k in chance.integers(0, len(families), 5)]:
        half = family.lying.size[0] / 2
        places = chance.uniform(-half, half, 4)
        if not family.is_rip:
            assert_reached_as_by_the_oracle(family, float(places[0]), wanted)
        for pool in of_family(family, scene, wanted, places, wanted.cells):
            for cut, takes in zip(pool.cuts, pool.takes, strict=True):
                assert cut.height > LEAST_HEIGHT
                assert_clear_and_no_lower_than_it_must_be(cut, scene, wanted)
                assert np.array_equal(takes, takes_of(cut, wanted, wanted.cells))
                own = in_the_stock(cut, wanted)
                near = shapely.distance(shapely.points(wanted.cells), shapely.boundary(own)) < 0.01
                assert np.array_equal(section.inside(wanted.cells, own) | near, takes | near) or cut.through


def test_a_rip_through_a_corner_takes_the_kerf_and_what_falls_off():
    """At 45 deg, 10 mm from the corner: a triangle and the kerf beside it, by hand; it comes out of the side."""
    points = np.array([(-20.0, 0), (5, 0), (20, 15)])
    scene = scene_from(mouldings.scene_of(points, 40, 20, blades=1, leave="0 mm"))
    wanted = wanted_of(scene)
    family = next(one for one in families_of(scene, wanted) if one.is_rip and math.degrees(one.tilt) == 45)
    # tilted, the blade's top leans to the right; the kerf's left face runs through (5, 0) and (20, 15)
    place = np.array([5 + 3.2 / 2 * math.sqrt(2) + 2e-3])
    _, through = of_family(family, scene, wanted, place, wanted.cells)
    (cut,) = through.cuts

    assert through.takes.mean() > 0.99  # of all the waste: it is the triangle outside the line
    assert 15 < cut.height < 15 + 3.2 + 3.0 + 0.1
    assert len(section.parts(section.minus(section.stock_section(40, 20), cut.figure()))) == 2


def test_round_a_profile_of_thousands_of_points_what_is_kept_clear_of_has_few_sides_and_all_of_the_body_in_it():
    """A rough line, as a scanner gives: grown by what is to be left, and a little more."""
    chance = np.random.default_rng(3)
    across = np.linspace(-20, 20, 2000)
    line = np.column_stack([across, 6 + 3 * np.sin(across / 3) + chance.normal(0, 0.03, 2000)])
    wanted = wanted_of(scene_from(mouldings.scene_of(line, 40, 20, leave="0.2 mm")))
    least = section.within(section.grown(wanted.kept, 0.2 - CHORD), section.stock_section(40, 20))

    assert len(wanted.sides) <= 400
    assert section.area(section.minus(least, wanted.clear_of)) < 1e-6
    assert section.area(wanted.clear_of) < section.area(section.grown(wanted.kept, 0.5))
