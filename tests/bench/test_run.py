"""Whole commands as a terminal starts them: how long, how much of the processor, how much memory.

Medians of five runs, after one by which the program's modules are compiled, as those of an installed one are. Memory is
the most that all processes of a command hold at once, in five more runs, for looking takes time: every 20 ms, what
several share counted once (`Pss`, proc(5)), which is less where others on the machine share it too. It is read from
`/proc`, so on Linux only.
"""

from __future__ import annotations

import os
import re
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median

import pytest
from terminal import SCENES

TITLE = "whole commands, medians of 5"
HEADING = ("command", "time", "of the processor", "memory")
RUNS, EVERY = 5, 0.02
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
CORNICE = SCENES / "corner-cupboard-cornice.toml"


def timed(words: Sequence[str | Path], folder: Path) -> tuple[int, float, float]:
    """Return what a command ends with: its status, seconds, seconds of the processor."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    begin = time.perf_counter()
    with begun(words, folder) as process:
        status = process.wait()
    took = time.perf_counter() - begin
    now = resource.getrusage(resource.RUSAGE_CHILDREN)
    return status, took, now.ru_utime + now.ru_stime - used.ru_utime - used.ru_stime


def looked_at(words: Sequence[str | Path], folder: Path) -> float:
    """Return the most MB that a command holds at once."""
    most = 0
    with begun(words, folder) as process:
        while process.poll() is None:
            most = max(most, sum(map(held, family(process.pid))))
            time.sleep(EVERY)
    return most / 1e6


def begun(words: Sequence[str | Path], folder: Path) -> subprocess.Popen[bytes]:
    """Begin a command."""
    return subprocess.Popen(
        [sys.executable, "-m", "sweep", *map(str, words)],
        cwd=folder,
        env=ENVIRONMENT | {"PYTHONPATH": str(SCENES.parent), "PYTHONPYCACHEPREFIX": str(folder / "compiled")},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def family(process: int) -> list[int]:
    """Return a process and all that come from it; those that have just ended are left out."""
    try:
        lists = [path.read_text() for path in Path(f"/proc/{process}/task").glob("*/children")]
    except OSError:
        return [process]
    return [process, *(one for child in " ".join(lists).split() for one in family(int(child)))]


def held(process: int) -> int:
    """Return the bytes of memory that a process holds, its share of what it shares; 0 once it has ended."""
    try:
        held = re.search(r"^Pss: +(\d+) kB", Path(f"/proc/{process}/smaps_rollup").read_text(), re.MULTILINE)
    except OSError:
        return 0
    return 1024 * int(held[1]) if held else 0


@pytest.mark.parametrize(
    ("name", "words", "status"),
    [
        ("--help", ["--help"], 0),
        ("run, wrong scene", ["run", "wrong.toml"], 2),
        ("run --no-pictures", ["run", CORNICE, "--no-pictures"], 0),
        ("run", ["run", CORNICE], 0),
    ],
)
def test_a_whole_command(tmp_path: Path, write_row: Callable[..., None], name: str, words: list, status: int):
    """On the cornice, or on it with a slip in one key."""
    (tmp_path / "wrong.toml").write_text(CORNICE.read_text(encoding="utf-8").replace("length =", "lenght ="))
    _, *runs = [timed(words, tmp_path) for _ in range(1 + RUNS)]
    most = median(looked_at(words, tmp_path) for _ in range(RUNS))

    assert {one[0] for one in runs} == {status}
    took, used = (median(one[k] for one in runs) for k in (1, 2))
    write_row(TITLE, HEADING, (name, f"{took:.2f} s", f"{used:.2f} s", f"{most:,.0f} MB"))
