"""The program as a terminal runs it: in a process of its own, or in this one, which spares a second of imports."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest
from demos import SCENES

from sweep import apart, run_folder, run_setups
from sweep.cli import main
from sweep.show.files.folder import write_numbers
from sweep.show.say.report import Report


def sweep(*words: str | Path, folder: Path, **environment: str) -> subprocess.CompletedProcess:
    """Run `sweep` with these words in a folder, some environment variables changed."""
    return subprocess.run(
        [sys.executable, "-m", "sweep", *map(str, words)],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(SCENES.parent)} | environment,
        capture_output=True,
        timeout=120,
    )


class _Here:
    """What `apart` gives, without a process of its own."""

    @staticmethod
    @contextmanager
    def doing(work: Callable[..., None], *given: Any) -> Iterator[None]:
        work(*given)
        yield

    @staticmethod
    def end() -> None:
        pass


def sweep_here(*words: str | Path, folder: Path, **environment: str) -> subprocess.CompletedProcess:
    """Run the same in this process, warnings being errors; not for what the system or the interpreter is to refuse.

    Meshes and the sheet are written here too: this process loads their libraries once, a run's own process once a run.
    """
    out, err = (
        io.TextIOWrapper(io.BytesIO(), encoding=environment.get("PYTHONIOENCODING", "utf-8"), write_through=True)
        for _ in range(2)
    )
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.chdir(folder)
        patch.setattr(apart, "apart", lambda load: nullcontext(_Here))
        patch.setattr(run_setups, "apart", apart.apart)
        for name, value in environment.items():
            patch.setenv(name, value)
        with pytest.raises(SystemExit) as ended:
            main([*map(str, words)])
    return subprocess.CompletedProcess(words, ended.value.code, out.buffer.getvalue(), err.buffer.getvalue())


def told_here(*words: str | Path, folder: Path, **environment: str) -> subprocess.CompletedProcess:
    """Run a scene of one set-up likewise, for what is printed and the numbers: meshes, sheet and page are left out."""

    def numbers_alone(folder: Path, report: Report, *_: Any) -> str:
        folder.mkdir(parents=True)
        write_numbers(folder, report)
        return ""

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run_folder, "write_run", numbers_alone)
        return sweep_here("run", *words, "--no-pictures", folder=folder, **environment)
