"""No process that works beside a run outlives it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sweep.apart import apart
from sweep.show.files import meshes_apart

MESHES = """
from sweep.apart import apart
from sweep.show.files import meshes_apart
begun = lambda: apart(meshes_apart.load)
pool = lambda beside: beside._pool
"""

SOLIDS = """
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from sweep.show.pictures.apart import stand_apart
begun = lambda: ProcessPoolExecutor(1, get_context("spawn"), stand_apart)
pool = lambda executor: executor
"""

BEGIN = """
import os, time
if __name__ == "__main__":
    with begun() as one:
        print(pool(one).submit(os.getpid).result(), flush=True)
        time.sleep(60)
"""


@pytest.mark.parametrize("what", [MESHES, SOLIDS], ids=["meshes", "solids"])
def test_a_process_apart_ends_with_a_program_that_is_killed(what: str, tmp_path: Path) -> None:
    """Killed at a stroke, a program tells nobody; what worked beside it is gone all the same, and soon."""
    script = tmp_path / "begun.py"
    script.write_text(what + BEGIN)
    with subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        beside = int(program.stdout.readline())
        assert _runs(beside)
        os.kill(program.pid, signal.SIGKILL)
    ends_by = time.monotonic() + 20
    while _runs(beside) and time.monotonic() < ends_by:
        time.sleep(0.05)
    assert not _runs(beside)


def test_what_the_mesh_library_does_without_is_not_loaded_and_is_there_for_the_sheet() -> None:
    """The library of the sheet's pages wants PIL, in the lowest version that is declared."""
    seen = "import sys; assert not {'scipy', 'PIL'} & set(sys.modules); import PIL.Image"
    with apart(meshes_apart.load) as beside, beside.doing(exec, seen):
        pass


def _runs(pid: int) -> bool:
    """Whether a process is there and has not ended; one that nobody has buried yet has."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False
