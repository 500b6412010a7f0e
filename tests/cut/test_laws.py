"""What must hold for every scene, on random scenes: tilted, offset, shaped, stopped, run off an edge.

To draw and cut a scene costs far more than to look at it, so each is drawn and cut once, and every law is held to it.
What holds at any chord is held where the kernel has a third of the faces; the section is that of a run.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer, scenes

from sweep.cut.engagement import engaged_edges
from sweep.cut.forces import Forces
from sweep.cut.load import load_of, loads_of
from sweep.cut.passes import pass_sections, passes_of
from sweep.cut.stages import FINER, Stage, essential, stage, swept_pass, travel_range
from sweep.scene.model import Scene
from sweep.shape import section, solid
from sweep.shape.mesh import UNCUT
from sweep.tolerance import CHORD, FINE_CHORD, VOLUME

ROUGH = 10 * CHORD


@dataclass(frozen=True)
class Cutting:
    """A scene and its stock at the end of every pass, from the planed stock on, and in the middle of every pass."""

    scene: Scene
    share: float

    @property
    def count(self) -> int:
        return len(self.scene.passes.heights)

    @property
    def size(self) -> float:
        """The volume of the planed stock, mm3."""
        return self.scene.stock.length * self.scene.stock.width * self.scene.stock.thickness

    @cached_property
    def stages(self) -> list[Stage]:
        """Each cut afresh."""
        return [stage(self.scene, number, chord=ROUGH) for number in range(self.count + 1)]

    @cached_property
    def part_way(self) -> list[Stage]:
        """Each pass gone by one share of its way, from the first on."""
        ranges = [travel_range(self.scene, number) for number in range(1, self.count + 1)]
        return [
            stage(self.scene, number, start + self.share * (end - start), ROUGH)
            for number, (start, end) in enumerate(ranges, start=1)
        ]

    @cached_property
    def carried(self) -> list[Stage]:
        """Each gone on from the one before."""
        stages = [self.stages[0]]
        for number in range(1, self.count + 1):
            stages.append(stage(self.scene, number, chord=ROUGH, after=stages[-1]))
        return stages

    def at_chord(self, number: int, chord: float) -> Stage:
        """A stage by one chord: where the kernel stumbled, a stage is cut a little finer."""
        same = self.stages[number]
        return same if same.chord == chord else stage(self.scene, number, chord=chord)


def by_hulls_alone(scene: Scene, chord: float) -> solid.Solid:
    """The finished stock with its passes swept as hulls, whether they go through or not."""
    stock, passes = scene.stock, passes_of(scene)
    through, stopping = essential(scene, passes, travel_range(scene, len(passes))[1])
    passes = [one for one, _ in stopping] + ([through] if through else [])
    ends = [travel_range(scene, one.number)[1] for one in passes]
    cutters = [hull for one, end in zip(passes, ends, strict=True) for hull in swept_pass(scene, one, end, chord)]
    return solid.subtract(solid.box(stock.length, stock.width, stock.thickness), cutters)


def both_ways(cut: Cutting) -> tuple[solid.Solid, solid.Solid]:
    """The finished stock as a run cuts it, and by hulls alone: by a chord at which the kernel does not stumble."""
    for finer in FINER:
        try:
            return cut.at_chord(cut.count, ROUGH * finer).body, by_hulls_alone(cut.scene, ROUGH * finer)
        except solid.DisagreementError as wrong:
            unlucky = wrong
    raise unlucky


def wood_is_neither_made_nor_lost(cut: Cutting) -> None:
    """The stock is what is left and every chip."""
    chips = [solid.subtract(before.body, [after.body]) for before, after in pairwise(cut.carried)]

    assert abs(cut.stages[-1].volume + sum(map(solid.volume, chips)) - cut.size) <= VOLUME * cut.size


def every_stage_is_closed_and_oriented_and_holds_the_wood_it_says(cut: Cutting) -> None:
    """At every pass, whole and part-way, the mesh is a closed 2-manifold of positive volume."""
    for now in (*cut.stages, *cut.part_way):
        assert now.mesh.is_closed()
        assert 0 < now.mesh.volume <= cut.size * (1 + VOLUME)
        assert now.volume == pytest.approx(now.mesh.volume, rel=1e-9)


def no_pass_and_no_travel_puts_wood_back(cut: Cutting) -> None:
    """Each stage lies within the one before, and a pass part-way between its start and its end."""
    for midway in cut.part_way:  # only stages of one chord are compared
        before, after = (cut.at_chord(number, midway.chord) for number in (midway.number - 1, midway.number))

        for later, earlier in ((after, before), (midway, before), (after, midway)):
            assert solid.volume(solid.subtract(later.body, [earlier.body])) <= VOLUME * cut.size


def hulls_alone_and_drawn_out_sections_make_the_same_solid(cut: Cutting) -> None:
    """Two ways to one solid: neither holds more than a skin of a millionth of a mm that the other does not."""
    fast, slow = both_ways(cut)
    skin = 1e-6 * cut.scene.stock.length * (cut.scene.stock.width + cut.scene.stock.thickness)

    assert solid.volume(solid.subtract(fast, [slow])) <= skin
    assert solid.volume(solid.subtract(slow, [fast])) <= skin


def the_finished_mesh_has_the_exact_section(cut: Cutting) -> None:
    """Stops left out, the mid-length slice lies within the chord tolerance of the exact section."""
    scene = cut.scene.model_copy(update={"passes": cut.scene.passes.model_copy(update={"stop": (None,)})})
    finished = stage(scene, cut.count)
    segments, _ = finished.mesh.section(scene.stock.length / 2)
    got = shapely.build_area(shapely.multilinestrings(shapely.linestrings(segments.round(9))))
    exact = pass_sections(scene)[-1].left

    assert section.area(section.minus(exact, shapely.buffer(got, 2 * FINE_CHORD))) <= 1e-9
    assert section.area(section.minus(got, shapely.buffer(exact, CHORD + 2 * FINE_CHORD))) <= CHORD**2


def every_cut_face_lies_on_the_surface_of_the_pass_it_names(cut: Cutting) -> None:
    """A face said to be cut by pass n touches the volume that pass n sweeps, and no face is nameless."""
    scene, mesh, chord, passes = cut.scene, cut.stages[-1].mesh, cut.stages[-1].chord, passes_of(cut.scene)
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
        cut = section.cut_section(scene.tool, scene.feed, scene.tilt, one.height, chord)
        if one.stop is None:  # on the outline of that pass's section, all along
            away = shapely.distance(shapely.points(there[:, 1:]), shapely.boundary(cut))
            assert away.max() <= 1e-7
        else:  # no further up or out than that section, and no further along than the blade reached
            assert shapely.distance(shapely.points(there[:, 1:]), cut).max() <= 1.001 * chord
            start, end = travel_range(scene, int(number))
            assert there[:, 0].max() <= end - start


def only_passes_that_no_other_contains_are_cut(cut: Cutting) -> None:
    """What is left out lies wholly within what is not: deeper passes that stop no sooner."""
    passes = passes_of(cut.scene)
    end = travel_range(cut.scene, len(passes))[1]
    through, stopping = essential(cut.scene, passes, end)
    kept = stopping if through is None else [*stopping, (through, np.inf)]

    for one in passes:
        stop = np.inf if one.stop is None else one.stop
        assert any(other.height >= one.height and far >= min(stop, end) for other, far in kept)


def the_chips_of_one_tooth_in_one_turn_are_the_area_of_the_pass_times_the_feed(cut: Cutting) -> None:
    """Section 4's two identities: what the edges shave, rim angle by rim angle, is what the section loses."""
    highest = None
    for one, taken in zip(passes_of(cut.scene), pass_sections(cut.scene), strict=True):
        edges = engaged_edges(cut.scene, one, highest)
        # volume for each unit of feed per tooth; times turns and teeth, chip area x speed for each unit of feed speed
        shaved = sum(float((edge.thickness * edge.lever * edge.step).sum()) for edge in edges)
        # where a whole edge leaves the wood at once the sum over angles is out by up to one step of it
        slack = sum(float((edge.thickness * edge.lever * edge.step).max(initial=0.0)) for edge in edges)
        highest = one.height

        assert abs(taken.area - shaved) <= slack + 1e-6 * taken.area + FINE_CHORD * 300


def the_load_of_each_pass_is_what_it_is_alone(cut: Cutting) -> None:
    """All passes are worked out in the same sums of arrays."""
    passes, areas = passes_of(cut.scene), [one.area for one in pass_sections(cut.scene, 0.01)]
    befores = [None, *(one.height for one in passes)]
    together = loads_of(cut.scene, passes, areas, 24)

    for place in {0, cut.count - 1}:
        alone = load_of(cut.scene, passes[place], befores[place], areas[place], 24)
        for name, value in vars(alone).items():
            same = getattr(together[place], name)
            if value is None:
                assert same is None
            elif isinstance(value, Forces):
                assert vars(same) == pytest.approx(vars(value), rel=1e-9, abs=1e-9)
            else:
                assert same == pytest.approx(value, rel=1e-9, abs=1e-12)


def the_state_at_the_start_of_a_pass_is_the_stage_before(cut: Cutting) -> None:
    """Clear of the leading end nothing has been cut; at the end of its travel a pass is whole."""
    start, end = travel_range(cut.scene, cut.count)

    assert cut.stages[-2].volume == pytest.approx(stage(cut.scene, cut.count, start, ROUGH).volume, rel=1e-12)
    assert cut.stages[-1].volume == pytest.approx(stage(cut.scene, cut.count, end + 50, ROUGH).volume, rel=1e-12)


def going_on_from_the_stage_before_makes_the_same_stock_as_cutting_it_afresh(cut: Cutting) -> None:
    """What is carried over is not cut again, and nothing else changes."""
    for carried, afresh in zip(cut.carried, cut.stages, strict=True):
        assert abs(carried.volume - afresh.volume) <= VOLUME * cut.size
        assert set(carried.mesh.cut_by) == set(afresh.mesh.cut_by)
        assert carried.mesh.is_closed()


LAWS = (
    wood_is_neither_made_nor_lost,
    every_stage_is_closed_and_oriented_and_holds_the_wood_it_says,
    no_pass_and_no_travel_puts_wood_back,
    hulls_alone_and_drawn_out_sections_make_the_same_solid,
    the_finished_mesh_has_the_exact_section,
    every_cut_face_lies_on_the_surface_of_the_pass_it_names,
    only_passes_that_no_other_contains_are_cut,
    the_chips_of_one_tooth_in_one_turn_are_the_area_of_the_pass_times_the_feed,
    the_load_of_each_pass_is_what_it_is_alone,
    the_state_at_the_start_of_a_pass_is_the_stage_before,
    going_on_from_the_stage_before_makes_the_same_stock_as_cutting_it_afresh,
)


@fewer(3 / 8)
@given(scene=scenes(passes=3), share=st.floats(0, 1))
def test_every_law_holds_on_every_scene(scene, share):
    """The traceback names the law that is broken."""
    cut = Cutting(scene, share)
    for law in LAWS:
        law(cut)


def test_the_identities_hold_to_six_figures_on_the_cornice(cornice):
    """The same on the demo scene, where nothing is degenerate."""
    highest = None
    for one, taken in zip(passes_of(cornice), pass_sections(cornice), strict=True):
        edges = engaged_edges(cornice, one, highest)
        shaved = sum(float((edge.thickness * edge.lever * edge.step).sum()) for edge in edges)
        highest = one.height

        assert taken.area == pytest.approx(shaved, rel=5e-6)
