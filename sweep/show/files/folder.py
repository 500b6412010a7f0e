"""The folder that a run leaves: written aside, then swapped in whole."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sweep.check.judge import Outcome
from sweep.cut.mitre import wrapped
from sweep.errors import SceneError
from sweep.shape.mesh import joined
from sweep.show.files.meshes import write_3mf, write_glb, write_stl
from sweep.show.say.numbers import passes_csv, result_json
from sweep.units import Units

MARK = "result.json"
"""Every folder of ours holds it: a folder without it is somebody else's, and is left alone."""


@contextmanager
def swapped_in(folder: Path) -> Iterator[Path]:
    """Give a temporary folder to write into, and put it in place of `folder` once all went well.

    An interrupted run leaves the previous result whole, and nothing half-written.

    Raises
    ------
    SceneError
        When `folder` cannot be written, or holds something that no run left there.
    """
    if folder.exists() and not folder.is_dir():
        raise SceneError("--out", f"{folder} is a file", "give a folder")
    if folder.exists() and any(folder.iterdir()) and not (folder / MARK).exists():
        raise SceneError("--out", f"{folder} holds files that are not a run's", "give an empty or a new folder")
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        aside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    except OSError as wrong:
        raise SceneError("--out", f"{folder} cannot be written ({wrong.strerror})", "give another folder") from None
    try:
        aside.chmod(0o755)
        yield aside
        old = aside.with_name(aside.name + "-old")
        if folder.exists():
            folder.rename(old)
        aside.rename(folder)
        shutil.rmtree(old, ignore_errors=True)
    finally:
        shutil.rmtree(aside, ignore_errors=True)


def write_numbers(folder: Path, outcome: Outcome, units: Units) -> None:
    """Write `result.json`, its flags worded in `units`, and `passes.csv`."""
    (folder / MARK).write_text(result_json(outcome, units), encoding="utf-8")
    (folder / "passes.csv").write_text(passes_csv(outcome), encoding="utf-8")


def write_meshes(folder: Path, outcome: Outcome) -> None:
    """Write the finished moulding in three formats, its pieces, the ordered rectangle, the stock after each pass."""
    pieces = [piece.mesh for piece in outcome.job.pieces]
    write_stl(folder / "finished.stl", joined(pieces))
    write_3mf(folder / "finished.3mf", pieces)
    write_glb(folder / "finished.glb", pieces)
    if len(pieces) > 1:
        for number, piece in enumerate(pieces, start=1):
            write_stl(folder / f"piece-{number}.stl", piece)
    sides = wrapped(outcome.job.scene, outcome.job.pieces)
    if sides:
        write_stl(folder / "mitred.stl", joined(sides))
    for stage in outcome.job.stages[1:]:
        write_stl(folder / f"pass-{stage.number:02d}.stl", stage.mesh)
