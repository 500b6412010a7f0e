"""Mesh files written by a process of their own: loading the mesh library takes half as long as the rest of a run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path

from sweep.apart import end_with_program
from sweep.shape.mesh import Mesh


class MeshWriter:
    """A process that has the mesh library, or is about to."""

    def __init__(self, apart: ProcessPoolExecutor) -> None:
        self._apart = apart

    @contextmanager
    def writing(self, folder: Path, files: Mapping[str, Sequence[Mesh]]) -> Iterator[None]:
        """Write mesh files by their names while the block goes on; all are there after it.

        Raises
        ------
        OSError
            What writing them raised, or that the process was ended from outside.
        """
        try:
            written = self._apart.submit(_write, folder, files)
            try:
                yield
            finally:
                wait([written])  # whoever clears the folder after a failure must find it at rest
            written.result()
            self._apart.shutdown(wait=False)  # it has nothing else to do, and takes a while to end
        except BrokenProcessPool:
            raise OSError("the process that writes the meshes was ended from outside") from None


@contextmanager
def mesh_writer() -> Iterator[MeshWriter]:
    """Give a process that loads the mesh library while this one goes on; it ends with the block."""
    # a fresh process, not a copy of this one: a copy would also hold whatever locks other threads hold
    with ProcessPoolExecutor(1, get_context("spawn"), end_with_program) as apart:
        apart.submit(_load)
        yield MeshWriter(apart)


def _load() -> None:
    import sweep.show.files.meshes  # noqa: F401, to be there when meshes come


def _write(folder: Path, files: Mapping[str, Sequence[Mesh]]) -> None:
    from sweep.show.files.meshes import write_meshes

    write_meshes(folder, files)
