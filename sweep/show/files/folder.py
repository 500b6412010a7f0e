"""What a run writes into its folder: the numbers and the meshes."""

from __future__ import annotations

from pathlib import Path

from sweep.check.judge import Outcome
from sweep.cut.mitre import wrapped
from sweep.shape.mesh import joined
from sweep.show.files.meshes import write_3mf, write_glb, write_stl
from sweep.show.say.numbers.model import written
from sweep.show.say.numbers.passes import passes_csv
from sweep.show.say.numbers.result import result_of
from sweep.show.say.report import Report


def write_numbers(folder: Path, report: Report) -> None:
    """Write `result.json` and `passes.csv`."""
    result = result_of(report)
    (folder / "result.json").write_text(written(result), encoding="utf-8")
    (folder / "passes.csv").write_text(passes_csv(result.passes), encoding="utf-8")


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
