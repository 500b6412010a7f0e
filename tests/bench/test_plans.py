"""How long the inverse takes: set-ups from targets, care by chance, with scipy's global optimiser as the peer."""

from __future__ import annotations

import math

from demos import cornice_with
from scipy.optimize import differential_evolution

from sweep.check.target import target_line
from sweep.plan.accuracy import care_needed
from sweep.plan.closeness import largest, sampled
from sweep.plan.complete import complete
from sweep.plan.setup import find_setups
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape.cove import angle_for_width
from sweep.shape.outline import curves, settings


def unsolved(target: dict, blades: int = 1, tilts: bool = False) -> Scene:
    """The demo scene without set-up and passes, with another target, and so many blades."""
    table = cornice_with()
    del table["setup"], table["passes"]
    table["target"] = target
    if blades > 1:
        blade = table.pop("blade")
        table["blades"] = [blade | {"name": str(k), "diameter": f"{200 + 12 * k} mm"} for k in range(blades)]
    if tilts:
        table["saw"]["tilts"] = ["-45 deg", "45 deg"]
    return scene_from(table)


ARC = {"shape": "arc", "width": "58 mm", "depth": "14 mm", "across": "3 mm"}


def test_a_plain_cove_in_closed_form(benchmark):
    """Width and depth to a fence angle: under 1 ms is wanted."""
    tool = scene_from(cornice_with()).tool

    assert math.isclose(math.degrees(benchmark(angle_for_width, tool, 0.0, 16.0, 60.7667)), 28.0, abs_tol=1e-4)


def test_an_arc_over_ten_blades_with_tilt(benchmark):
    """Least largest deviation, every blade at every angle and tilt: under 1 s is wanted."""
    scene = unsolved(ARC, blades=10, tilts=True)

    assert benchmark.pedantic(find_setups, (scene,), rounds=5, warmup_rounds=1)[0].fit.deviation < 0.25


def test_the_same_arc_with_one_blade(benchmark):
    """The job that the peer below is given."""
    assert benchmark.pedantic(find_setups, (unsolved(ARC),), rounds=5, warmup_rounds=1)[0].fit.deviation < 0.2


def test_the_same_arc_by_scipys_differential_evolution(benchmark):
    """The peer, on the same measure and one blade."""
    scene = unsolved(ARC)
    tool = scene.blade.tool
    line = target_line(scene.target, tool, tilt=0.0)
    drawn, points = sampled(line, 200), sampled(line, 120)

    def measure(x):
        return largest(curves(tool, settings(x[0], 0.0, x[1], x[2]), 20), drawn, points)

    def peer():
        bounds = [(math.radians(1), math.pi / 2), (8.0, 16.5), (-10.0, 10.0)]
        return differential_evolution(measure, bounds, vectorized=True, updating="deferred", rng=1, polish=False)

    found = benchmark.pedantic(peer, rounds=1)

    assert math.isclose(found.fun, find_setups(scene)[0].fit.deviation, abs_tol=0.02)


def test_ten_thousand_set_ups_by_chance(benchmark):
    """Monte Carlo and the effect of every setting: under 2 s is wanted."""
    scene = scene_from(cornice_with())

    assert 0.5 < benchmark.pedantic(care_needed, (scene,), rounds=3, warmup_rounds=1).within < 1


def test_a_pass_plan(benchmark):
    """Fewest passes within rise, area and power, evened out."""
    table = cornice_with()
    del table["passes"]
    scene = scene_from(table)

    assert len(benchmark.pedantic(complete, (scene,), rounds=3).scene.passes.heights) == 7
