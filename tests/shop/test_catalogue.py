"""A folder answered: rows are those of `sweep solve`, kept as they come, and the same whoever works them out."""

from __future__ import annotations

import csv
import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryFile

import numpy as np
import pyarrow.parquet
import pytest
from drawers import SHOP, at_once, drawer
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer
from terminal import sweep_here

from sweep import racked
from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.read import read_scene
from sweep.shop import journal
from sweep.shop.journal import Journal
from sweep.shop.row import COLUMNS, without_figures

SAWS = """[[saws]]
name = "low"
speed = "4000 rpm"
max_height = "12 mm"
[[saws]]
name = "fast"
speed = "12000 rpm"
[[saws]]
name = "cabinet"
speed = "4000 rpm"
motor = "3 kW"
[[saws]]
name = "like it"
speed = "4000 rpm"
motor = "3 kW"
"""

RESULTS = ("shop.csv", "shop.parquet", "alike.csv", "answers.jsonl")


@pytest.fixture
def here(monkeypatch):
    """Work everything out in this process."""
    monkeypatch.setattr(racked, "pool_of", lambda workers: at_once)


def rows_of(folder: Path) -> list[dict[str, str]]:
    """Return the rows of a folder of results."""
    with (folder / "shop.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_a_folder_of_all_kinds_is_answered_as_solve_does(tmp_path, here):
    """Coves, points in inches, a copy, a set-up of the drawer, a name that a spreadsheet would run, broken files."""
    folder = drawer(tmp_path / "drawer", 2)
    y = np.linspace(-0.6, 0.6, 25)
    points = "y in,z in\n" + "".join(f"{a:.4f},{0.2 * (1 - (a / 0.6) ** 2):.4f}\n" for a in y)
    (folder / "=arc.csv").write_text(points)
    (folder / "made.toml").write_text(
        (folder / "cove-0.toml").read_text() + '[blade]\nname = "old"\nteeth = 24\ndiameter = "250 mm"\nkerf = "3 mm"\n'
        '[setup]\nfence_angle = "28.67 deg"\nblade_height = "2 mm"\n'
    )
    (folder / "broken.dxf").write_text("nonsense")
    (folder / "whole.csv").write_text("0,0\n20,0\n20,5\n40,5\n")
    (folder / os.fsdecode(b"\xff.csv")).write_bytes(b"\xff")

    ended = sweep_here("shop", folder, "--out", "out", "--scenes", "--json", folder=tmp_path)

    assert ended.returncode == 1, ended.stderr
    rows = rows_of(tmp_path / "out")
    assert tuple(rows[0]) == COLUMNS
    assert [row["profile"] for row in rows if row["rank"] in ("", "1")] == [
        "./=arc.csv", "broken.dxf", "cove-0.toml", "cove-1.toml", "made.toml", "whole.csv", "\\udcff.csv"
    ]  # fmt: skip
    told = {(row["profile"], row["rank"]): row for row in rows}
    assert "cannot be read as DXF" in told["broken.dxf", ""]["reason"]
    assert "--full" in told["whole.csv", ""]["reason"]
    best = complete(read_scene(folder / "cove-1.toml"))
    found = told["cove-1.toml", "1"]
    assert float(found["fence_angle_deg"]) == pytest.approx(np.degrees(best.scene.setup.fence_angle), abs=1e-4)
    assert found["flags"].split() == [flag.code for flag in judge(simulate(best.scene)).flags]
    assert found["blade"] == best.scene.setup.blade and int(found["passes"]) == len(best.scene.passes.heights)
    scene = read_scene(tmp_path / "out" / "scene-cove-1.toml")
    assert scene.passes.heights == pytest.approx(best.scene.passes.heights, abs=1e-4)
    assert read_scene(tmp_path / "out" / "scene-arc.toml").stock.in_inches
    answer = json.loads(ended.stdout)
    assert len(answer["rows"]) == len(rows)
    assert {(one["profile"], one["other"], one["how"]) for one in answer["alike"]} == {
        ("cove-0.toml", "made.toml", "same"), ("cove-0.toml", "made.toml", "set-up")
    }  # fmt: skip
    table = pyarrow.parquet.read_table(tmp_path / "out" / "shop.parquet")
    assert table.column_names == list(COLUMNS)
    assert [row["reason"] for row in table.to_pylist()] == [row["reason"] for row in rows]
    assert table["rank"].to_pylist() == [int(row["rank"]) if row["rank"] else None for row in rows]


def test_a_later_run_works_out_only_what_is_new(tmp_path, here, monkeypatch):
    """A profile that came is added, one that went is gone, and an answer that cannot be read is worked out again."""
    folder = drawer(tmp_path / "drawer", 2)
    assert sweep_here("shop", folder, "--out", "out", folder=tmp_path).returncode == 0
    first = rows_of(tmp_path / "out")
    worked = []
    whole = racked.catalogue_of
    monkeypatch.setattr(racked, "catalogue_of", lambda *given: worked.append(whole(*given)) or worked[-1])
    (folder / "cove-0.toml").unlink()
    (folder / "cove-2.toml").write_text((folder / "cove-1.toml").read_text().replace("25 mm", "31 mm"))

    again = sweep_here("shop", folder, "--out", "out", folder=tmp_path)

    assert again.returncode == 0 and b"Known from an earlier run: 1; worked out now: 1." in again.stdout
    assert worked[0].fresh == 1
    rows = rows_of(tmp_path / "out")
    assert [row for row in rows if row["profile"] == "cove-1.toml"] == [
        row for row in first if row["profile"] == "cove-1.toml"
    ]
    assert {row["profile"] for row in rows} == {"cove-1.toml", "cove-2.toml"}
    assert not list(tmp_path.glob(".sweep-*"))


def test_two_runs_do_not_work_on_the_same_results(tmp_path, here):
    """The second is refused at once and leaves everything as it was."""
    folder = drawer(tmp_path / "drawer", 1)
    with journal.kept_beside(tmp_path / "out"):
        ended = sweep_here("shop", folder, "--out", "out", folder=tmp_path)

    assert ended.returncode == 2
    assert b"another run works on out" in ended.stderr
    assert sorted(tmp_path.iterdir()) == [folder]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[blade]\nteeth = 40\ndiameter = '10 in'\nkerf = '1/8 in'\n", "shop.toml, saw: it is missing"),
        ("[saw]\nspeed = '9'\n[blade]\nteeth = 40\ndiameter = '10 in'\nkerf = '1/8 in'\n", "shop.toml, saw.speed: "),
        ("[saw]\nspeed = '99 rpm'\n[blade]\nteeth = 40\ndiameter = '99 in'\nkerf = '1/8 in'\n", "39 in"),
        ("[finish]\n", "shop.toml, finish: a shop has no such table"),
        ("[[saws]]\nspeed = '4000 rpm'\n[[saws]]\nspeed = '3450 rpm'\n", "shop.toml, saws.name, number 1: "),
        (SAWS.replace("12000 rpm", "9") + SHOP[SHOP.index("[[blades]]") :], "shop.toml, saws.speed, number 2: "),
        ("[saw]\nspeed = '4000 rpm'\n" + SAWS, "shop.toml, saws: there is [saw] too"),
    ],
)
def test_a_shop_that_cannot_be_used_is_refused_before_any_profile_is_read(tmp_path, here, text, says):
    """In one sentence that names its file, in its own notation; nothing is left behind."""
    folder = drawer(tmp_path / "drawer", 1)
    (folder / "shop.toml").write_text(text)

    ended = sweep_here("shop", folder, "--out", "out", folder=tmp_path)

    assert ended.returncode == 2
    assert says in ended.stderr.decode()
    assert sorted(tmp_path.iterdir()) == [folder]


def test_of_several_saws_the_answer_names_the_one_with_the_fewest_flags(tmp_path, here):
    """One that turns too fast is flagged, a low one is out of tolerance, and of two alike the first is taken; a profile
    whose scene names its saw is cut on that.
    """
    folder = drawer(tmp_path / "drawer", 1)
    (folder / "shop.toml").write_text(SAWS + SHOP[SHOP.index("[[blades]]") :])
    arc = "".join(f"{y},{13.5 * (1 - (y / 30) ** 2):.4f}\n" for y in range(-30, 31, 3))
    (folder / "arc.csv").write_text(arc)
    cove = (folder / "cove-0.toml").read_text()
    (folder / "own.toml").write_text(cove + '[saw]\nname = "fast"\n')
    blade = '[blade]\nteeth = 40\ndiameter = "10 in"\nkerf = "1/8 in"\n'
    (folder / "set.toml").write_text(cove + blade + '[setup]\nfence_angle = "30 deg"\nblade_height = "13 mm"\n')

    ended = sweep_here("shop", folder, "--scenes", "--out", "out", folder=tmp_path)

    rows = {row["profile"]: row for row in rows_of(tmp_path / "out") if row["rank"] == "1"}
    assert (rows["arc.csv"]["saw"], rows["own.toml"]["saw"]) == ("cabinet", "fast"), ended.stderr
    assert rows["own.toml"]["flags"] and not rows["arc.csv"]["flags"]
    assert float(rows["arc.csv"]["blade_height_mm"]) > 12
    assert rows["cove-0.toml"]["saw"] == rows["set.toml"]["saw"] == "low"  # though that was set too high for it
    assert b"10 in, on cabinet" in ended.stdout or b"thin, on cabinet" in ended.stdout
    scene = read_scene(tmp_path / "out" / "scene-arc.toml")
    assert (scene.saw.name, scene.saw.motor) == ("cabinet", 3e3)


def test_a_whole_moulding_is_worked_out_where_it_is_asked_for(tmp_path, here):
    """A step by one rip or two: all of the waste goes, and the scene that is left runs as it stands."""
    folder = drawer(tmp_path / "drawer", 0)
    (folder / "step.csv").write_text("0,0\n6,0\n6,4\n60,4\n60,15\n0,15\n0,0\n")
    like = tmp_path / "like.toml"
    like.write_text(
        "[stock]\nlength = '300 mm'\nspecies = 'oak'\n[plan]\nmost_setups = 1\n[target]\ntolerance = '0.1 mm'\n"
    )

    ended = sweep_here("shop", folder, "--full", "--scenes", "--like", like, "--out", "out", folder=tmp_path)

    (row,) = rows_of(tmp_path / "out")
    assert (ended.returncode, row["profile"], row["within_tolerance"]) == (0, "step.csv", "true"), ended.stderr
    assert float(row["deviation_mm"]) == 0.0 and row["reason"].startswith("1 set-ups take")
    scene = read_scene(tmp_path / "out" / "scene-step.toml")
    assert (scene.stock.species, scene.target.tolerance, len(scene.setups)) == ("oak", 0.1, 1)


def test_a_worker_and_a_run_that_are_killed_lose_nothing(tmp_path):
    """Kill -9 of the process that works, then of the run, each at a random moment: a second start goes on, and its
    bytes are those of a run that nobody disturbed.
    """
    folder = drawer(tmp_path / "drawer", 5)
    waits = [random.uniform(0, 0.1) for _ in range(2)]
    command = [sys.executable, "-m", "sweep", "shop", folder, "--workers", "1", "--out", "out"]
    kept = tmp_path / ".sweep-shop-out" / "answers.jsonl"
    with subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) as run:
        _until(lambda: _lines(kept) >= 1)
        time.sleep(waits[0])
        for worker in _children(run.pid):
            os.kill(worker, signal.SIGKILL)
        _until(lambda: _lines(kept) >= 2 or run.poll() is not None)
        time.sleep(waits[1])
        run.kill()
    assert _lines(kept) >= 2 or (tmp_path / "out").exists(), waits

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(racked, "pool_of", lambda workers: at_once)
        assert sweep_here("shop", folder, "--out", "out", folder=tmp_path).returncode == 0
        assert sweep_here("shop", folder, "--out", "undisturbed", folder=tmp_path).returncode == 0

    for name in RESULTS:
        assert (tmp_path / "out" / name).read_bytes() == (tmp_path / "undisturbed" / name).read_bytes(), (name, waits)
    assert not kept.parent.exists()


@fewer(1 / 4)
@given(st.integers(0, 4000), st.integers(0, 3))
def test_whatever_a_run_wrote_before_it_was_killed_its_whole_lines_are_known(cut, more):
    """Cut off at any byte, as a write that was not finished leaves it; what is added then is known too."""
    answers = {f"{number:064x}": without_figures(f"cove-{number}.csv", "x" * 40 * number) for number in range(4)}
    with TemporaryFile("a+b") as file:
        for digest, answer in answers.items():
            Journal(file, []).add(digest, answer)
        file.truncate(min(cut, file.tell()))
        file.seek(0)
        whole = {line[:64].decode() for line in file if line.endswith(b"\n")}
        journal = Journal(file, [])
        assert {digest for digest in answers if digest in journal} == whole
        for digest in list(answers)[:more]:
            journal.add(digest, answers[digest])
        again = Journal(file, [])
        assert all(again.answer(digest) == answers[digest] for digest in {*whole, *list(answers)[:more]})


@pytest.mark.filterwarnings("default")  # the engine's own
def test_a_cluster_gives_the_same_bytes(tmp_path, here):
    """A real scheduler and a worker, a process of its own, that speak over TCP; both begun by this test."""
    from dask import config
    from distributed import LocalCluster

    folder = drawer(tmp_path / "drawer", 2)
    quiet = {"dashboard_address": ":0", "silence_logs": 50}
    with (
        config.set({"distributed.worker.multiprocessing-method": "fork"}),  # it has loaded what this one has
        LocalCluster(n_workers=1, threads_per_worker=1, host="127.0.0.1", **quiet) as cluster,
    ):
        (worker,) = cluster.workers.values()
        address = cluster.scheduler_address
        ended = sweep_here("shop", folder, "--cluster", address, "--out", "there", folder=tmp_path)
        assert worker.pid != os.getpid() and worker.address.startswith("tcp://127.0.0.1:")
    assert (address.partition("//")[0], ended.returncode) == ("tcp:", 0), ended.stderr
    assert sweep_here("shop", folder, "--out", "here", folder=tmp_path).returncode == 0

    for name in RESULTS:
        assert (tmp_path / "there" / name).read_bytes() == (tmp_path / "here" / name).read_bytes()


def _lines(path: Path) -> int:
    return path.read_bytes().count(b"\n") if path.exists() else 0


def _children(pid: int) -> list[int]:
    found = subprocess.run(["ps", "-o", "pid=,args=", "--ppid", str(pid)], capture_output=True, text=True).stdout
    return [int(line.split()[0]) for line in found.splitlines() if "spawn_main" in line]


def _until(done) -> None:
    ends_by = time.monotonic() + 90
    while not done():
        assert time.monotonic() < ends_by
        time.sleep(0.02)
