"""Swaps of a folder of results that are killed: a child process is ended at the n-th thing it does.

Run by itself, it kills the swap at `POINTS` points, spread over all there are, and at `MOMENTS` chance moments; it
prints as JSON what it found broken, and how often it killed. A process of its own, because it forks.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from sweep.disk import aside, exchange, file, folder
from sweep.disk.file import replace_file
from sweep.disk.folder import swapped_in
from sweep.disk.mark import MARK

POINTS, MOMENTS = (int(text) for text in os.environ.get("SWAPS", "200,20").split(","))
"""In the suite; `SWAPS=100000,5000 python tests/swaps.py` kills at every point."""

MEMORY = "/dev/shm" if Path("/dev/shm").is_dir() else None
"""Where nothing waits for a disk."""

WATCHED = {module.__file__ for module in (aside, exchange, file, folder)}
"""Their lines are points, and so is everything anybody asks the system to change."""

CHANGES = {"os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.chmod", "os.chown", "open"}

OLD = {"result.json": b"old" * 40, "pass-01.stl": b"old pass", "pass-09.stl": b"only old"}
NEW = {"result.json": b"new" * 5000, "pass-01.stl": b"new pass", "pass-02.stl": b"only new"}
USERS = {"notes.txt": b"mine", "scene.toml": b"mine too", ".hidden": b""}


def contents(where: Path) -> dict[str, bytes] | None:
    """What is in a folder, the mark left out; None where there is none."""
    return {one.name: one.read_bytes() for one in where.iterdir() if one.name != MARK} if where.is_dir() else None


def swap(where: Path, files: dict[str, bytes]) -> None:
    """Leave these files as a run would."""
    with swapped_in(where) as fresh:
        for name, content in files.items():
            (fresh / name).write_bytes(content)


def killed_at(number: int, work: Callable[[], None]) -> int | None:
    """Do the work in a child that ends, as by kill -9, at the n-th point; 0 for none.

    Returns how many points there were, if the work was done.
    """
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        passed = 0

        def step() -> None:
            nonlocal passed
            passed += 1
            if passed == number:
                os.kill(os.getpid(), signal.SIGKILL)

        def traced(frame, event, _):
            if frame.f_code.co_filename not in WATCHED:
                return None
            if event == "line":
                step()
            return traced

        sys.addaudithook(lambda event, _: step() if event in CHANGES else None)
        sys.settrace(traced)
        work()
        sys.settrace(None)
        os.write(writer, str(passed).encode())
        os._exit(0)
    os.close(writer)
    os.waitpid(child, 0)
    with os.fdopen(reader) as told:
        return int(told.read() or 0) or None


def killed_after(seconds: float, work: Callable[[], None]) -> None:
    """Do the work in a child that is killed after a while."""
    child = os.fork()
    if child == 0:
        work()
        os._exit(0)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


def broken_by(kill: Callable[[Callable[[], None]], object], before: str, can_exchange: bool) -> list[str]:
    """Kill one swap, and say what is not as it must be: right after, and after the next run."""
    top = Path(tempfile.mkdtemp(dir=MEMORY))
    where, wrong = top / "job", []
    try:
        whole = [NEW, None]
        if before == "empty":
            where.mkdir()
            whole = [NEW, {}]
        elif before != "nothing":
            swap(where, OLD)
            mine = USERS if before == "results and the user's" else {}
            for name, content in mine.items():
                (where / name).write_bytes(content)
            whole = [OLD | mine, NEW | mine]
        kill(lambda: swap(where, NEW))
        after = contents(where)
        if after not in (whole if can_exchange else [*whole, None]):
            wrong.append(f"under the name: {after}")
        swap(where, NEW)
        if contents(where) != NEW | (USERS if before == "results and the user's" else {}):
            wrong.append(f"after the next run: {contents(where)}")
        if [one.name for one in top.iterdir()] != ["job"]:
            wrong.append(f"left behind: {sorted(one.name for one in top.iterdir())}")
    finally:
        shutil.rmtree(top)
    return wrong


def broken_file_by(kill: Callable[[Callable[[], None]], object]) -> list[str]:
    """The same for one file that is written back through a link."""
    top = Path(tempfile.mkdtemp(dir=MEMORY))
    try:
        real, link, wrong = top / "real.toml", top / "link.toml", []
        real.write_bytes(b"old")
        link.symlink_to(real)
        kill(lambda: replace_file(link, b"new" * 1000, "save"))
        if real.read_bytes() not in (b"old", b"new" * 1000) or not link.is_symlink():
            wrong.append("the file is neither the old nor the new")
        replace_file(link, b"newer", "save")
        if real.read_bytes() != b"newer" or len(list(top.iterdir())) != 2:
            wrong.append(f"left behind: {sorted(one.name for one in top.iterdir())}")
    finally:
        shutil.rmtree(top)
    return wrong


def spread(most: int, points: int) -> list[int]:
    """So many points from 1 to the most, evenly; all of them if there are fewer."""
    return sorted({1 + k * most // points for k in range(points)} if points < most else range(1, most + 1))


def main() -> None:
    """Kill, and print what was found."""
    chance, broken, killed = random.Random(1), [], 0
    cases = [
        ("results and the user's", True, 1.0),
        ("results", True, 0.1),
        ("nothing", True, 0.1),
        ("empty", True, 0.1),
        ("results and the user's", False, 0.2),
    ]
    for before, can_exchange, share in cases:
        if not can_exchange:
            folder.exchanged = lambda one, other: False
        told: list[int | None] = []
        broken_by(lambda work, told=told: told.append(killed_at(0, work)), before, can_exchange)
        for number in spread(told[0], round(POINTS * share)):
            wrong = broken_by(lambda work, number=number: killed_at(number, work), before, can_exchange)
            broken += [f"{before}, point {number} of {told[0]}: {one}" for one in wrong]
            killed += 1
        for _ in range(round(MOMENTS * share)):
            seconds = chance.uniform(0, 0.008)
            wrong = broken_by(lambda work, seconds=seconds: killed_after(seconds, work), before, can_exchange)
            broken += [f"{before}, after {seconds} s: {one}" for one in wrong]
            killed += 1
    told = []
    broken_file_by(lambda work: told.append(killed_at(0, work)))
    for number in spread(told[0], POINTS // 5):
        broken += broken_file_by(lambda work, number=number: killed_at(number, work))
        killed += 1
    print(json.dumps({"broken": broken, "killed": killed}))  # noqa: T201


if __name__ == "__main__":
    main()
