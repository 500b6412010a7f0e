"""One job by different means, side by side: the eight through passes of the demo scene at 0.01 mm of chord.

'volume' is the wood wrongly left or taken, summed over the stages made, as a share of all they should take;
'section' is how far the finished outline strays from the exact one. Ratios are of best times, which other work
on the machine disturbs least. Each means must be as good as is said beside it, so that no row can win by being wrong.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from bench import discs, heights, ours
from bench.yardstick import CHORD, Job, Outcome, stations
from pytest_benchmark.fixture import BenchmarkFixture

ALL = tuple(range(1, 9))
LAST = (8,)
MOST_DISCS = 800
FINER = CHORD / 2
"""mm. What a mesh of the boundary-representation kernel errs by when it is asked for `CHORD`."""
EXACT = 1e-5
"""mm. Where our sections come near the exact arcs of that kernel."""

HULLS, SECTIONS, ONE_HULL = "our hulls of every pass", "our sections drawn out", "our hull of the last pass"
TITLE = "eight passes by different means"
HEADING = ("means", "passes", "best", "median", "to hulls", "to sections", "volume", "section", "triangles")


@pytest.fixture(scope="session")
def best() -> dict[str, float]:
    """Best time of every row so far, s."""
    return {}


def times_of(best: dict[str, float], name: str, other: str) -> str:
    """Return how many times as long one row took as another, or nothing when that was not run."""
    if other not in best:
        return ""
    ratio = best[name] / best[other]
    return f"x {ratio:,.0f}" if ratio >= 10 else f"x {ratio:.2f}"


@pytest.fixture
def compare(benchmark: BenchmarkFixture, job: Job, write_row: Callable, best: dict[str, float]) -> Callable:
    """Return how one means is timed, checked and put in the table."""

    def run(
        name: str,
        make: Callable[[], Any],
        read: Callable[[Any], Outcome],
        *,
        rounds: int,
        volume: float,
        section: float,
    ) -> Outcome:
        outcome = read(benchmark.pedantic(make, rounds=rounds, warmup_rounds=min(rounds - 1, 3)))
        volume_error, section_error = job.volume_error(outcome), job.section_error(outcome)
        assert volume_error <= volume
        assert section_error <= section
        if benchmark.stats is None:
            return outcome
        times, every = benchmark.stats.stats, len(outcome.left) == len(ALL)
        best[name] = times.min
        write_row(
            TITLE,
            HEADING,
            (
                name,
                "1 to 8" if every else "8",
                f"{times.min * 1e3:,.2f} ms",
                f"{times.median * 1e3:,.2f} ms",
                times_of(best, name, HULLS if every else ONE_HULL),
                times_of(best, name, SECTIONS) if every else "",
                f"{volume_error:.1e}",
                f"{section_error:.5f} mm",
                f"{outcome.triangles:,}" if outcome.triangles else "",
            ),
        )
        return outcome

    return run


@pytest.mark.parametrize("chord", [CHORD, FINER])
def test_hulls(job, compare, chord):
    """Our sweep: for every stage the stock, a hull and one difference."""
    at = [job.box[0] / 2]
    compare(
        HULLS if chord == CHORD else f"... chords of {chord:g} mm",
        lambda: ours.hulls(job.scene, ALL, chord),
        lambda made: ours.read(made, at),
        rounds=100,
        volume=chord / 10,
        section=chord,
    )


@pytest.mark.parametrize("chord", [CHORD, FINER, EXACT])
def test_sections_drawn_out(job, compare, chord):
    """Our exact sections."""
    at = [job.box[0] / 2]
    compare(
        SECTIONS if chord == CHORD else f"... chords of {chord:g} mm",
        lambda: ours.sections(job.scene, chord),
        lambda made: ours.read(made, at),
        rounds=20 if chord == EXACT else 200,
        volume=chord / 10,
        section=chord,
    )


def test_sections_and_the_finished_piece(job, compare):
    """Our exact sections for the history, and one solid: the finished moulding."""
    at = [job.box[0] / 2]
    compare(
        "our sections, the last drawn out",
        lambda: ours.finished(job.scene),
        lambda made: ours.read_finished(made, job.box[0], at),
        rounds=200,
        volume=CHORD / 10,
        section=CHORD,
    )


def test_the_program_itself(job, compare):
    """What a run really does for every stage."""
    at = [job.box[0] / 2]
    compare(
        "our `stage`, mesh and marks included",
        lambda: ours.stages(job.scene),
        lambda made: ours.read([one.body for one in made], at),
        rounds=100,
        volume=1e-3,
        section=CHORD,
    )


@pytest.mark.parametrize("way", ["solids", "sections"])
def test_boundary_representation(job, compare, way):
    """True arcs, no triangles: more exact than the job asks, and nothing yet that could be drawn or printed."""
    brep = pytest.importorskip("bench.brep")
    name = {"solids": "B-rep, cove from stock", "sections": "B-rep, sections drawn out"}[way]
    make, rounds = getattr(brep, way), {"solids": 5, "sections": 20}[way]
    compare(
        name,
        lambda: make(job),
        lambda made: brep.read_exact(made, job),
        rounds=rounds,
        volume=1e-9,
        section=1e-4,
    )


@pytest.mark.parametrize("way", ["solids", "sections"])
def test_boundary_representation_meshed(job, compare, way):
    """The same with the triangles that the job asks for."""
    brep = pytest.importorskip("bench.brep")
    name = {"solids": "B-rep, cove from stock, meshed", "sections": "B-rep, sections drawn out, meshed"}[way]
    make, rounds = getattr(brep, way), {"solids": 5, "sections": 20}[way]
    compare(
        name,
        lambda: brep.meshed(make(job), CHORD),
        lambda made: brep.read_meshed(made, job),
        rounds=rounds,
        volume=1e-3,
        section=CHORD,
    )


def test_height_map(job, compare):
    """One height for every cell of the face."""
    compare(
        f"height map, cells of {heights.CELL} mm",
        lambda: heights.height_map(job),
        lambda made: heights.read(job),
        rounds=5,
        volume=1e-4,
        section=heights.CELL,
    )


def test_one_pass_as_a_hull(job, compare):
    """The last pass alone, to stand beside the discs."""
    at = [job.box[0] / 2]
    compare(
        ONE_HULL,
        lambda: ours.hulls(job.scene, LAST),
        lambda made: ours.read(made, at),
        rounds=200,
        volume=1e-3,
        section=CHORD,
    )


@pytest.mark.parametrize("steps", [MOST_DISCS // 4, MOST_DISCS // 2, MOST_DISCS])
def test_one_pass_as_steps(job, compare, best, write_row, steps):
    """And the law: what the steps leave beyond what the hull of the same rim leaves is what geometry says."""
    hull = ours.read(ours.hulls(job.scene, LAST), [job.box[0] / 2])
    step, height = discs.step(job, 8, steps), job.heights[-1]
    name = f"union of {steps} discs"
    outcome = compare(
        name,
        lambda: discs.union_of_steps(job, LAST, steps),
        lambda made: ours.read(made, stations(job.box[0] / 2, step)),
        rounds=3 if steps < MOST_DISCS else 1,
        volume=1.1 * discs.left_by_steps(job, height, step) + 1e-3,
        section=step / 2,
    )
    by_steps = job.volume_error(outcome) - job.volume_error(hull)
    assert by_steps == pytest.approx(discs.left_by_steps(job, height, step), rel=0.02)
    if steps == MOST_DISCS and name in best:
        # as many discs as leave, in steps alone, what the chords leave; the time for one rises with their number
        fine = discs.step_for(job, height, job.volume_error(hull))
        needed = math.ceil(step * (steps - 1) / fine)
        at_least = best[name] * needed / steps
        write_row(
            TITLE,
            HEADING,
            (
                f"... {needed:,} discs, not run: no less than",
                "8",
                f"{at_least * 1e3:,.0f} ms",
                "",
                f"x {at_least / best[ONE_HULL]:,.0f}" if ONE_HULL in best else "",
                "",
                f"{2 * job.volume_error(hull):.1e}",
            ),
        )


def test_all_passes_as_steps(job, compare):
    """The whole job in steps, as many as patience allows; still far from our error."""
    step = max(discs.step(job, number, MOST_DISCS) for number in ALL)
    compare(
        f"union of {MOST_DISCS} discs a pass",
        lambda: discs.union_of_steps(job, ALL, MOST_DISCS),
        lambda made: ours.read(made, stations(job.box[0] / 2, step)),
        rounds=1,
        volume=0.02,
        section=step / 2,
    )
