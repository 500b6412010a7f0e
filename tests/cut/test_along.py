"""Entering and leaving: what is cut along the way adds up to what the pass takes."""

from __future__ import annotations

import pytest
from demos import SCENES
from hypothesis import given
from saws import steady_of
from strategies import fewer, scenes

from sweep.cut.along import ANGLES, at_the_ends, moments
from sweep.cut.engagement import engaged_edges
from sweep.cut.forces import DULL, SHARP, USUAL
from sweep.cut.job import simulate
from sweep.cut.load import load_of
from sweep.cut.passes import feed_per_tooth, pass_sections, passes_of
from sweep.cut.stages import travel_range
from sweep.scene.read import read_scene
from sweep.tolerance import Fineness


@pytest.mark.parametrize(("name", "number"), [("corner-cupboard-cornice", 8), ("tilted-cove", 3), ("off-the-edge", 2)])
def test_the_wood_cut_along_the_way_is_the_volume_of_the_pass(name, number, cornice):
    """Section being cut, summed over the travel, is the volume: entry and exit included."""
    scene = read_scene(SCENES / f"{name}.toml") if name != "corner-cupboard-cornice" else cornice
    start, end = travel_range(scene, number)
    found = moments(scene, number, 400)
    volume = sum(one.cutting for one in found) * (end - start) / len(found)

    assert simulate(scene).removed(number) == pytest.approx(volume, rel=2e-3)


def test_a_pass_that_stops_cuts_a_little_more_at_its_stop_than_this_says():
    """The pass before stopped there too and left wood ahead of its blade, which is not in the sum."""
    scene = read_scene(SCENES / "stopped-cove.toml")
    start, end = travel_range(scene, 4)
    found = moments(scene, 4, 400)
    volume = sum(one.cutting for one in found) * (end - start) / len(found)

    assert 0.97 * simulate(scene).removed(4) < volume <= 1.001 * simulate(scene).removed(4)


def test_the_first_pass_that_stops_cuts_just_what_its_way_holds():
    """Nothing was left by any pass before."""
    scene = read_scene(SCENES / "stopped-cove.toml")
    start, end = travel_range(scene, 1)
    found = moments(scene, 1, 400)
    volume = sum(one.cutting for one in found) * (end - start) / len(found)

    assert simulate(scene).removed(1) == pytest.approx(volume, rel=3e-3)


def test_the_load_rises_from_nothing_to_that_of_the_steady_middle_and_falls_back(cornice):
    """Nothing before the stock, all of it amid."""
    found = moments(cornice, 7, 400)
    steady = simulate(cornice, Fineness(chord=0.05)).loads[6].usual

    assert found[0].cutting < 0.02 * found[200].cutting
    assert found[-1].cutting < 0.02 * found[200].cutting
    assert found[200].forces.power == pytest.approx(steady.power, rel=1e-2)
    assert max(one.forces.feed for one in found) <= steady.feed * 1.1


@fewer(1 / 32)
@given(scene=scenes())
def test_entering_and_leaving_are_each_travel_by_itself_and_never_take_more_power_or_push_than_the_middle(scene):
    """Several travels at once are what each is alone; of the middle's edges only some have wood before them."""
    passes, number = passes_of(scene), len(scene.passes.heights)
    one, before = passes[-1], passes[-2].height if number > 1 else None
    area = pass_sections(scene, chord=0.01)[-1].area
    steady = load_of(scene, one, before, area, ANGLES).usual
    found = at_the_ends(scene, number, 6)

    for moment in found[:: len(found) - 1 or 1]:
        edges = engaged_edges(scene, one, before, ANGLES, moment.travel)
        for state, there in ((SHARP, moment.low), (USUAL, moment.forces), (DULL, moment.high)):
            alone = steady_of(scene, edges, feed_per_tooth(scene, one), state)
            assert (there is None) == (alone is None)
            if there is not None and alone is not None:
                assert vars(there) == pytest.approx(vars(alone), rel=1e-9, abs=1e-9)
    if steady is not None:
        assert max(moment.forces.power for moment in found) <= steady.power * (1 + 1e-9) + 1e-9
        assert max(moment.forces.feed for moment in found) <= max(0.0, steady.feed) * 1.01 + 0.02


def test_a_pass_that_stops_short_leaves_nothing_at_the_other_end():
    """The travels beyond its stop are not among those looked at."""
    scene = read_scene(SCENES / "stopped-cove.toml")
    found = at_the_ends(scene, 1, 16)

    assert len(found) == 16
    assert max(moment.travel for moment in found) <= passes_of(scene)[0].stop
