"""Many fine rises: the last stage and every stage on the way, as `stage` makes them.

All stopped at one place, each pass takes all that the lower ones took. With stops that fall as the blade
rises none contains another: every pass leaves its own step in the wood, and the triangles that draw it.
The same wood cut pass by pass from the last stage is the check.
"""

from __future__ import annotations

import time
from itertools import pairwise

import numpy as np
import pytest

from sweep.cut.passes import passes_of
from sweep.cut.stages import essential, stage, swept_pass, travel_range
from sweep.scene.model import Scene
from sweep.shape import solid

TITLE = "many fine rises, every one stopped"
HEADING = ("rises, stops", "not contained", "last stage, best", "triangles", "all stages", "most triangles")

TRIANGLES_A_STOP = 300
"""More than one stopped pass can need: two rims of arcs, and the walls that the stop leaves."""

STOPS = {
    "one": lambda n: np.full(n, 600.0),
    "falling": lambda n: np.linspace(860.0, 300.0, n),
    "random": lambda n: np.random.default_rng(1).uniform(50.0, 850.0, n),
}


def scene_of(cornice: Scene, rises: int, stops: str) -> Scene:
    """Return the demo scene with its height reached in many equal rises."""
    heights = tuple(float(h) for h in np.linspace(0.0, cornice.setup.blade_height, rises + 1)[1:])
    plan = cornice.passes.model_copy(update={"heights": heights, "stop": tuple(map(float, STOPS[stops](rises)))})
    return cornice.model_copy(update={"passes": plan})


@pytest.mark.parametrize(
    ("rises", "stops"),
    [(20, "one"), (40, "one"), (80, "one"), (200, "one"), (80, "random"), (20, "falling"), (80, "falling")],
)
def test_rises(benchmark, cornice, write_row, rises, stops):
    """The last stage, over and over, and every stage once."""
    scene = scene_of(cornice, rises, stops)
    last = benchmark.pedantic(lambda: stage(scene, rises), rounds=5, warmup_rounds=1)

    begin = time.perf_counter()
    every = [stage(scene, 0)]
    for number in range(1, rises + 1):
        every.append(stage(scene, number, after=every[-1]))
    history = time.perf_counter() - begin

    _, kept = essential(scene, passes_of(scene), travel_range(scene, rises)[1])
    most = max(len(one.mesh.triangles) for one in every)
    assert last.mesh.is_closed()
    assert most <= TRIANGLES_A_STOP * (len(kept) + 1) or stops == "random"
    assert all(b.volume <= a.volume for a, b in pairwise(every))
    assert last.volume == pytest.approx(_pass_by_pass(scene, [one.number for one, _ in kept]), rel=1e-9)
    if benchmark.stats is not None:
        write_row(
            TITLE,
            HEADING,
            (
                f"{rises}, {stops}",
                f"{len(kept)}",
                f"{benchmark.stats.stats.min * 1e3:,.1f} ms",
                f"{len(last.mesh.triangles):,}",
                f"{history * 1e3:,.0f} ms",
                f"{most:,}",
            ),
        )


def _pass_by_pass(scene: Scene, numbers: list[int]) -> float:
    """Return what is left when passes are taken from the wood one after another, mm3."""
    stock = scene.stock
    wood = solid.box(stock.length, stock.width, stock.thickness)
    for number in sorted(numbers):
        _, end = travel_range(scene, number)
        wood = solid.subtract(wood, swept_pass(scene, passes_of(scene)[number - 1], end))
    return solid.volume(wood)
