"""The program as a terminal runs it: in a process of its own, or in this one, which spares a second of imports."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, nullcontext, redirect_stderr, redirect_stdout
from pathlib import Path

import pytest
from demos import SCENES

from sweep.cli import main
from sweep.shape.mesh import Mesh
from sweep.show.files import meshes_apart
from sweep.show.files.meshes import write_meshes


def sweep(*words: str | Path, folder: Path, **environment: str) -> subprocess.CompletedProcess:
    """Run `sweep` with these words in a folder, some environment variables changed."""
    return subprocess.run(
        [sys.executable, "-m", "sweep", *map(str, words)],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(SCENES.parent)} | environment,
        capture_output=True,
        timeout=120,
    )


class _MeshWriterHere:
    """What `mesh_writer` gives, without a process of its own."""

    @staticmethod
    @contextmanager
    def writing(folder: Path, files: Mapping[str, Sequence[Mesh]]) -> Iterator[None]:
        write_meshes(folder, files)
        yield


def sweep_here(*words: str | Path, folder: Path, **environment: str) -> subprocess.CompletedProcess:
    """Run the same in this process, warnings being errors; not for what the system or the interpreter is to refuse.

    Meshes are written here too: this process loads the mesh library once, a run's own process once a run.
    """
    out, err = (
        io.TextIOWrapper(io.BytesIO(), encoding=environment.get("PYTHONIOENCODING", "utf-8"), write_through=True)
        for _ in range(2)
    )
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.chdir(folder)
        patch.setattr(meshes_apart, "mesh_writer", lambda: nullcontext(_MeshWriterHere))
        for name, value in environment.items():
            patch.setenv(name, value)
        with pytest.raises(SystemExit) as ended:
            main([*map(str, words)])
    return subprocess.CompletedProcess(words, ended.value.code, out.buffer.getvalue(), err.buffer.getvalue())
