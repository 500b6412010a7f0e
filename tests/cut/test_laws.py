"""What must hold for every scene, on random scenes: tilted, offset, shaped, stopped, run off an edge."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from strategies import scenes

from sweep.cut.engagement import engaged_edges
from sweep.cut.passes import pass_sections, passes_of
from sweep.cut.stages import essential, stage, swept_pass, travel_range
from sweep.shape import section, solid
from sweep.shape.mesh import UNCUT
from sweep.tolerance import CHORD, FINE_CHORD, VOLUME


def size(scene) -> float:
    """The stock's volume before the cut, mm3."""
    return scene.stock.length * scene.stock.width * scene.stock.thickness


def by_hulls_alone(scene) -> solid.Solid:
    """The finished stock with its passes swept as hulls, whether they go through or not."""
    stock, passes = scene.stock, passes_of(scene)
    through, stopping = essential(scene, passes, travel_range(scene, len(passes))[1])
    passes = [one for one, _ in stopping] + ([through] if through else [])
    cutters = [hull for one in passes for hull in swept_pass(scene, one, travel_range(scene, one.number)[1])]
    return solid.subtract(solid.box(stock.length, stock.width, stock.thickness), cutters)


def chips(scene, number: int) -> solid.Solid:
    """The wood that one pass takes, all its chips together."""
    before = stage(scene, number - 1)
    return solid.subtract(before.body, [stage(scene, number, after=before).body])


@given(scene=scenes())
def test_stock_is_what_is_left_and_every_chip(scene):
    """No wood is made and none is lost."""
    count = len(scene.passes.heights)
    kept = stage(scene, count).volume
    taken = sum(solid.volume(chips(scene, number)) for number in range(1, count + 1))

    assert abs(kept + taken - size(scene)) <= VOLUME * size(scene)


@given(scene=scenes(), share=st.floats(0, 1))
def test_every_stage_is_closed_and_oriented_and_holds_the_wood_it_says(scene, share):
    """At every pass, whole and part-way, the mesh is a closed 2-manifold of positive volume."""
    for number in range(len(scene.passes.heights) + 1):
        travel = None
        if number == len(scene.passes.heights):
            start, end = travel_range(scene, number)
            travel = start + share * (end - start)
        now = stage(scene, number, travel)

        assert now.mesh.is_closed()
        assert 0 < now.mesh.volume <= size(scene) * (1 + VOLUME)
        assert now.volume == pytest.approx(now.mesh.volume, rel=1e-9)


@given(scene=scenes(), share=st.floats(0, 1))
def test_no_pass_and_no_travel_puts_wood_back(scene, share):
    """Each stage lies within the one before, and a pass part-way between its start and its end."""
    for number in range(1, len(scene.passes.heights) + 1):
        start, end = travel_range(scene, number)
        part_way = stage(scene, number, start + share * (end - start))
        # where the kernel stumbled a stage is cut a little finer: only stages of one chord are compared
        before, midway, after = (
            stage(scene, number - 1, chord=part_way.chord).body,
            part_way.body,
            stage(scene, number, chord=part_way.chord).body,
        )

        assert solid.volume(solid.subtract(after, [before])) <= VOLUME * size(scene)
        assert solid.volume(solid.subtract(midway, [before])) <= VOLUME * size(scene)
        assert solid.volume(solid.subtract(after, [midway])) <= VOLUME * size(scene)


@given(scene=scenes())
def test_hulls_alone_and_drawn_out_sections_make_the_same_solid(scene):
    """Two ways to one solid: neither holds more than a skin of a millionth of a mm that the other does not."""
    fast, slow = stage(scene, len(scene.passes.heights)).body, by_hulls_alone(scene)
    skin = 1e-6 * scene.stock.length * (scene.stock.width + scene.stock.thickness)

    assert solid.volume(solid.subtract(fast, [slow])) <= skin
    assert solid.volume(solid.subtract(slow, [fast])) <= skin


@given(scene=scenes(stops=False))
def test_the_finished_mesh_has_the_exact_section(scene):
    """The mid-length slice of what is written lies within the chord tolerance of the exact section."""
    mesh = stage(scene, len(scene.passes.heights)).mesh
    segments, _ = mesh.section(scene.stock.length / 2)
    got = shapely.build_area(shapely.multilinestrings(shapely.linestrings(segments.round(9))))
    exact = pass_sections(scene)[-1].left

    assert section.area(section.minus(exact, shapely.buffer(got, 2 * FINE_CHORD))) <= 1e-9
    assert section.area(section.minus(got, shapely.buffer(exact, CHORD + 2 * FINE_CHORD))) <= CHORD**2


@given(scene=scenes())
def test_every_cut_face_lies_on_the_surface_of_the_pass_it_names(scene):
    """A face said to be cut by pass n touches the volume that pass n sweeps, and no face is nameless."""
    count = len(scene.passes.heights)
    finished = stage(scene, count)
    mesh, passes = finished.mesh, passes_of(scene)
    middles = mesh.vertices[mesh.triangles].mean(axis=1)
    half = scene.stock.width / 2
    walls = np.abs(
        np.column_stack([middles, middles]) - [0, -half, 0, scene.stock.length, half, scene.stock.thickness]
    ).min(axis=1)

    for number in np.unique(mesh.cut_by):
        there = middles[mesh.cut_by == number]
        if number == UNCUT:
            assert walls[mesh.cut_by == UNCUT].max() <= 1e-9
            continue
        one = passes[number - 1]
        cut = section.cut_section(scene.tool, scene.feed, scene.tilt, one.height, CHORD)
        if one.stop is None:  # on the outline of that pass's section, all along
            away = shapely.distance(shapely.points(there[:, 1:]), shapely.boundary(cut))
            assert away.max() <= 1e-7
        else:  # no further up or out than that section, and no further along than the blade reached
            assert shapely.distance(shapely.points(there[:, 1:]), cut).max() <= 1.001 * CHORD
            start, end = travel_range(scene, int(number))
            assert there[:, 0].max() <= end - start


@given(scene=scenes())
def test_only_passes_that_no_other_contains_are_cut(scene):
    """What is left out lies wholly within what is not: deeper passes that stop no sooner."""
    passes = passes_of(scene)
    end = travel_range(scene, len(passes))[1]
    through, stopping = essential(scene, passes, end)
    kept = stopping if through is None else [*stopping, (through, np.inf)]

    for one in passes:
        stop = np.inf if one.stop is None else one.stop
        assert any(other.height >= one.height and far >= min(stop, end) for other, far in kept)


@given(scene=scenes(passes=3))
def test_the_chips_of_one_tooth_in_one_turn_are_the_area_of_the_pass_times_the_feed(scene):
    """Section 4's two identities: what the edges shave, rim angle by rim angle, is what the section loses."""
    highest = None
    for one, taken in zip(passes_of(scene), pass_sections(scene), strict=True):
        edges = engaged_edges(scene, one, highest)
        # volume for each unit of feed per tooth; times turns and teeth, chip area x speed for each unit of feed speed
        shaved = sum(float((edge.thickness * edge.lever).sum()) * edge.step for edge in edges)
        # where a whole edge leaves the wood at once the sum over angles is out by up to one step of it
        slack = sum(edge.step * float((edge.thickness * edge.lever).max()) for edge in edges)
        highest = one.height

        assert abs(taken.area - shaved) <= slack + 1e-6 * taken.area + FINE_CHORD * 300


def test_the_identities_hold_to_six_figures_on_the_cornice(cornice):
    """The same on the demo scene, where nothing is degenerate."""
    highest = None
    for one, taken in zip(passes_of(cornice), pass_sections(cornice), strict=True):
        edges = engaged_edges(cornice, one, highest)
        shaved = sum(float((edge.thickness * edge.lever).sum()) * edge.step for edge in edges)
        highest = one.height

        assert taken.area == pytest.approx(shaved, rel=5e-6)


@given(scene=scenes())
def test_the_state_at_the_start_of_a_pass_is_the_stage_before(scene):
    """Clear of the leading end nothing has been cut; at the end of its travel a pass is whole."""
    number = len(scene.passes.heights)
    start, end = travel_range(scene, number)

    assert stage(scene, number - 1).volume == pytest.approx(stage(scene, number, start).volume, rel=1e-12)
    assert stage(scene, number).volume == pytest.approx(stage(scene, number, end + 50).volume, rel=1e-12)


@given(scene=scenes(passes=4))
def test_going_on_from_the_stage_before_makes_the_same_stock_as_cutting_it_afresh(scene):
    """What is carried over is not cut again, and nothing else changes."""
    carried = stage(scene, 0)
    for number in range(1, len(scene.passes.heights) + 1):
        carried, afresh = stage(scene, number, after=carried), stage(scene, number)

        assert abs(carried.volume - afresh.volume) <= VOLUME * size(scene)
        assert set(carried.mesh.cut_by) == set(afresh.mesh.cut_by)
        assert carried.mesh.is_closed()
