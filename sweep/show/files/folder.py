"""What a run writes into its folder: the numbers, and which mesh files."""

from __future__ import annotations

from pathlib import Path

from sweep.cut.mitre import wrapped
from sweep.cut.moulding import Made
from sweep.cut.sanding import sanding_block
from sweep.shape.mesh import Mesh
from sweep.show.say.numbers.model import written
from sweep.show.say.numbers.passes import passes_csv, setups_csv
from sweep.show.say.numbers.result import result_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


def write_numbers(folder: Path, report: Report | SetupsReport) -> None:
    """Write `result.json` and `passes.csv`."""
    result = result_of(report)
    (folder / "result.json").write_text(written(result), encoding="utf-8")
    rows = passes_csv(result.passes) if isinstance(report, Report) else setups_csv(one.passes for one in result.setups)
    (folder / "passes.csv").write_text(rows, encoding="utf-8")


def mesh_files(report: Report | SetupsReport, chord: float) -> dict[str, tuple[Mesh, ...]]:
    """Return what each mesh file of a run holds, by its name.

    They are the finished moulding in three formats, its pieces, the ordered rectangle, the stock after each pass as it
    lies for its set-up, and the sanding block, meshed within `chord`, mm. Of several set-ups there is no such block,
    and what is finished lies as the stock was planed.
    """
    if isinstance(report, SetupsReport):
        found = _finished(report.moulding)
        for place, job in enumerate(report.moulding.jobs, start=1):
            found |= {f"setup-{place}-pass-{stage.number:02d}.stl": (stage.mesh,) for stage in tuple(job.stages)[1:]}
        return found
    found = _finished(report.job)
    found |= {f"pass-{stage.number:02d}.stl": (stage.mesh,) for stage in tuple(report.job.stages)[1:]}
    block = sanding_block(report.scene, chord)
    return found if block is None else found | {"sanding-block.stl": (block,)}


def _finished(made: Made) -> dict[str, tuple[Mesh, ...]]:
    pieces = tuple(piece.mesh for piece in made.pieces)
    found = {f"finished.{kind}": pieces for kind in ("stl", "3mf", "glb")}
    if len(pieces) > 1:
        found |= {f"piece-{number}.stl": (piece,) for number, piece in enumerate(pieces, start=1)}
    sides = wrapped(made.scene, made.pieces)
    if sides:
        found["mitred.stl"] = tuple(sides)
    return found
