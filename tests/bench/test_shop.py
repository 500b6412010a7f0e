"""Many profiles and a rack of blades: screening, full fits by one process, by two and by a cluster, memory, and whether
the first blades of the screening hold the best one.

Speed is of the processor, with that of all processes that were started and have ended.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from drawers import RACK, at_once, chance_lines

from sweep.plan.fit import Range, fit_blade, settle
from sweep.shape.tool import Tool
from sweep.shop.answer import Task
from sweep.shop.nearest import Index
from sweep.shop.screen import screened, shapes_of
from sweep.shop.work import Opened, pool_of, worked_out

Write = Callable[[str, Sequence[str], Sequence[str]], None]
TOOLS = tuple(RACK.values())
MANY, TASKS, DRAWN = 10_000, 200, 500


def processor() -> float:
    """Seconds of the processor that this process has taken, and those it started that have ended."""
    each = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in each)


def test_screening_ten_thousand_profiles_by_twelve_blades(write_row: Write):
    """Untilted, and on a saw that tilts; the nearest of as many, asked for one after the other."""
    lines = chance_lines(MANY, seed=1)
    heading = ("10,000 profiles x 12 blades", "of the processor")
    for name, tilts in (("screened", (0.0, 0.0)), ("screened on a saw that tilts", (0.0, 0.78))):
        began = processor()
        found = screened(TOOLS, shapes_of(lines, [75.0] * MANY), tilts)
        took = processor() - began
        write_row("Screening", heading, (name, f"{took:.2f} s"))
        assert np.isfinite(found.min(axis=1)).all()
        assert took < 0.5 or tilts[1] > 0
    began = processor()
    index = Index((str(k), line) for k, line in enumerate(lines))
    write_row("Screening", heading, ("index made", f"{processor() - began:.2f} s"))
    began = processor()
    for line in lines[:100]:
        assert index.nearest(line, within=0.25)[0].deviation < 0.05
    each = (processor() - began) / 100
    write_row("Screening", heading, ("asked, each, within 0.25 mm", f"{1e3 * each:.2f} ms"))
    write_row("Screening", heading, ("that is, for each of the profiles", f"{1e6 * each / MANY:.2f} us"))


def tasks(count: int) -> list[Task]:
    """Profiles of one cove each, three blades to fit."""
    blades = [{"name": f"{size}", "teeth": 40, "diameter": f"{size} mm", "kerf": "3 mm"} for size in (216, 254, 300)]
    return [
        Task(
            str(number),
            (
                json.dumps(
                    {
                        "stock": {"length": "600 mm", "width": "120 mm", "thickness": "45 mm"},
                        "blades": blades,
                        "saw": {"speed": "4000 rpm"},
                        "target": {"shape": "points", "points": line.round(4).tolist()},
                    }
                ),
            ),
        )
        for number, line in enumerate(chance_lines(count, seed=3))
    ]


@contextmanager
def cluster_of_two() -> Iterator[tuple[Executor, int]]:
    """Two worker processes of Dask's, begun for this; their scheduler is in this one, and they speak over TCP."""
    from distributed import Client, LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50) as cluster,
        Client(cluster) as client,
    ):
        processes = client.run(os.getpid)
        assert len({*processes.values(), os.getpid()}) == 3 and all(one.startswith("tcp://") for one in processes)
        yield client.get_executor(), 2


def ways() -> dict[str, Opened]:
    """Who may do it."""
    return {"plain loop": at_once, "pool of 1": pool_of(1), "pool of 2": pool_of(2), "Dask, 2 workers": cluster_of_two}


@pytest.mark.filterwarnings("default")
def test_full_fits_by_one_process_by_two_and_by_a_cluster(write_row: Write):
    """Each against the plain loop: the same answers, and what it costs more."""
    loop, expected = 0.0, []
    for name, opened in ways().items():
        began, clock = processor(), time.perf_counter()
        answers = sorted(worked_out(tasks(TASKS), opened), key=lambda answer: int(answer.profile))
        took, lasted = processor() - began, time.perf_counter() - clock
        expected = expected or answers
        loop = loop or took
        write_row(
            f"{TASKS} profiles, three blades fitted, the best planned, cut and judged",
            ("by", "of the processor, each", "a second and core", "against the loop", "by the clock"),
            (
                name,
                f"{took / TASKS:.2f} s",
                f"{TASKS / took:.2f}",
                f"{100 * (took / loop - 1):+.0f} %",
                f"{lasted:.1f} s",
            ),
        )
        assert answers == expected


@pytest.mark.filterwarnings("default")
def test_what_a_thousand_profiles_cost_besides_their_working_out(write_row: Write):
    """Jobs as long as any, but for a shape that is refused at once: what is left is to begin and to hand on."""
    refused = [
        replace(one, jobs=(one.jobs[0].replace('"points", "points"', '"point", "points"'),)) for one in tasks(1000)
    ]
    loop = 0.0
    for name, opened in ways().items():
        began = processor()
        answers = list(worked_out(refused, opened))
        took = processor() - began
        loop = loop or took
        write_row(
            "1,000 profiles, but for their working out",
            ("by", "of the processor", "more than the loop", "of 1,000 that take 0.25 s each"),
            (name, f"{took:.1f} s", f"{took - loop:+.1f} s", f"{100 * (took - loop) / 250:+.1f} %"),
        )
        assert len(answers) == 1000 and all("shape" in answer.best.reason for answer in answers)


MEMORY = """
import itertools, json, sys, threading, time
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
import psutil
from sweep import racked
from sweep.shop.row import Answer, Row

most, ended = {}, threading.Event()

def watch():
    while not ended.wait(0.2):
        held = {}
        for one in [psutil.Process(), *psutil.Process().children(recursive=True)]:
            try:
                held[one.pid] = one.memory_full_info().pss / 1e6
            except psutil.Error:
                continue
        for name, value in (("all", sum(held.values())), ("main", next(iter(held.values())))):
            most[name] = max(most.get(name, 0), value)

threading.Thread(target=watch).start()

class Mostly(Executor):
    def __init__(self, pool):
        self.pool, self.number = pool, itertools.count()

    def submit(self, work, task):
        if next(self.number) % 100 == 0:
            return self.pool.submit(work, task)
        row = Row(task.profile, "10 in", 1, 28.0, 16.0, 0.0, 0.0, 0.1, True, 7, 15.0, "", "")
        line = tuple((40 * k, 30 * k) for k in range(60))
        drawn = {"wanted": line, "cut": line, "stock_mm": (90.0, 30.0), "scene": "x" * 1200}
        future = Future()
        future.set_result(Answer(task.profile, (row,) * 3, **drawn))
        return future

pool_of = racked.pool_of

@contextmanager
def mostly():
    with pool_of(2)() as (pool, width):
        yield Mostly(pool), width

racked.pool_of = lambda workers: mostly
began = time.process_time()
racked.run_shop(Path(sys.argv[1]), Path(sys.argv[2]), racked.ShopOptions())
ended.set()
print(json.dumps([most["all"], most["main"], time.process_time() - began]))
"""


@pytest.mark.parametrize("count", [1_000, MANY])
def test_memory_does_not_grow_with_the_profiles(tmp_path: Path, write_row: Write, count: int):
    """All its processes count, a page that several share once; one in a hundred is worked out, as all would be."""
    folder = tmp_path / "drawer"
    folder.mkdir()
    blades = "".join(
        f'[[blades]]\nname = "{name}"\nteeth = 40\ndiameter = "{2 * tool.radius} mm"\nkerf = "{tool.kerf} mm"\n'
        for name, tool in RACK.items()
    )
    (folder / "shop.toml").write_text('[saw]\nspeed = "4000 rpm"\n' + blades)
    for number, line in enumerate(chance_lines(count, seed=7)):
        (folder / f"{number:05d}.csv").write_text("".join(f"{y:.4f},{z:.4f}\n" for y, z in line))
    command = [sys.executable, "-c", MEMORY, str(folder), str(tmp_path / "out")]
    ended = subprocess.run(command, capture_output=True, text=True, env=os.environ | {"PYTHONPATH": str(Path.cwd())})
    most, main, took = json.loads(ended.stdout.splitlines()[-1])
    sizes = {path.suffix: path.stat().st_size / 1e6 for path in (tmp_path / "out").glob("shop.*")}
    write_row(
        "Many profiles, one in a hundred worked out",
        ("profiles", "most memory", "of it not its 2 workers'", "of the processor", "csv", "parquet", "html"),
        (
            f"{count:,}",
            f"{most:.0f} MB",
            f"{main:.0f} MB",
            f"{took:.1f} s",
            *(f"{sizes[kind]:.1f} MB" for kind in (".csv", ".parquet", ".html")),
        ),
    )

    assert most < 500


AS_CLOSE = 0.001
"""mm. Blades whose best curves differ by less are alike: a settled fit's own figure is right within 0.0004 mm."""


@pytest.mark.parametrize("tilts", [(0.0, 0.0), (0.0, 0.785)], ids=["upright", "tilting"])
def test_the_first_blades_of_the_screening_hold_the_best(write_row: Write, tilts: tuple[float, float]):
    """All twelve fitted for random profiles and settled: how often the first few hold the best, or one as close."""
    count, wanted = (DRAWN, 0.99) if tilts[1] == 0 else (DRAWN // 8, 0.95)
    lines = chance_lines(count, seed=19)
    order = np.argsort(screened(TOOLS, shapes_of(lines, [75.0] * count), tilts), axis=1, kind="stable")
    lost = []
    for line, row in zip(lines, order, strict=True):
        fits = np.array([_closest(tool, line, tilts) for tool in TOOLS])
        lost.append([fits[row[:first]].min() - fits.min() for first in (1, 2, 3, 5)])
    shares = (np.array(lost) <= AS_CLOSE).mean(axis=0)
    title = f"{count} random profiles by twelve blades, tilts up to {np.degrees(tilts[1]):.0f} deg"
    heading = ("the first", "1", "2", "3", "5")
    write_row(title, heading, ("as close as the best, within 0.001 mm", *(f"{100 * share:.1f} %" for share in shares)))
    exact = (np.array(lost) <= 1e-4).mean(axis=0)
    write_row(title, heading, ("hold the closest itself", *(f"{100 * share:.1f} %" for share in exact)))
    write_row(title, heading, ("most that is lost", *(f"{worst:.3f} mm" for worst in np.array(lost).max(axis=0))))

    assert shares[2] >= wanted


def _closest(tool: Tool, line: np.ndarray, tilts: tuple[float, float]) -> float:
    """Return how close a blade comes to a line, to the last digits, mm."""
    allowed = Range((np.radians(0.1), np.pi / 2), (0.1, min(75.0, 0.9 * tool.radius)), tilts)
    fit = fit_blade(tool, line, allowed)
    assert fit is not None
    return settle(tool, line, allowed, fit).deviation
