"""The finished moulding in sentences and in `result.json`: what each operation took, its pieces, how it is mitred."""

from __future__ import annotations

from typing import Any

from sweep.cut.job import Job
from sweep.cut.mitre import mitre_angles, seated, wrapped, wrapped_piece
from sweep.shape import section
from sweep.shape.mesh import joined
from sweep.units import Units, degrees


def finishing_sentences(job: Job, units: Units) -> list[str]:
    """Return what was done after the cove and how the moulding is mitred; nothing where nothing was."""
    said = []
    if job.finishing:
        done = [f"{one.operation.do} {units.volume(one.volume)}" for one in job.finishing]
        count, left = len(job.pieces), units.volume(sum(piece.volume for piece in job.pieces))
        pieces = "1 piece is left" if count == 1 else f"{count} pieces are left"
        said.append(f"Finishing takes {', '.join(done)}; {pieces}, {left}.")
    mitre = mitre_result(job)
    if mitre is not None:
        said.append(
            f"On the wall the moulding{_which(job, mitre['piece'])} stands out {units.length(mitre['projection_mm'])} "
            f"and comes down {units.length(mitre['drop_mm'])}; to mitre a square corner with the moulding on its back, "
            f"set the saw's mitre to {mitre['mitre_deg']:.2f} deg and its bevel to {mitre['bevel_deg']:.2f} deg."
        )
    return said


def _which(job: Job, number: int) -> str:
    return f" (piece {number})" if len(job.pieces) > 1 else ""


def finished_result(job: Job) -> dict[str, Any]:
    """Return the finished moulding, all of it and piece by piece."""
    return {
        "volume_mm3": sum(piece.volume for piece in job.pieces),
        "watertight": all(piece.mesh.is_closed() for piece in job.pieces),
        "triangles": sum(len(piece.mesh.triangles) for piece in job.pieces),
        "pieces": [
            {
                "number": piece.number,
                "volume_mm3": piece.volume,
                "section_mm2": section.area(piece.outline.figure),
                "watertight": piece.mesh.is_closed(),
                "triangles": len(piece.mesh.triangles),
            }
            for piece in job.pieces
        ],
    }


def finish_result(job: Job) -> list[dict[str, Any]]:
    """Return what each finishing operation took."""
    return [
        {
            "number": one.number,
            "do": one.operation.do,
            "volume_mm3": one.volume,
            "offcuts_mm3": one.offcuts,
            "pieces_cut": len(one.changes),
        }
        for one in job.finishing
    ]


def mitre_result(job: Job) -> dict[str, Any] | None:
    """Return how the moulding sits and how a square corner of it is mitred; None where it is flat and not wrapped."""
    sides, piece = wrapped(job.scene, job.pieces), wrapped_piece(job.pieces)
    if not sides and piece.outline.bevel is None:
        return None
    moulding = seated(piece)
    mitre, bevel = mitre_angles(moulding.spring)
    return {
        "piece": piece.number,
        "spring_deg": degrees(moulding.spring),
        "mitre_deg": degrees(mitre),
        "bevel_deg": degrees(bevel),
        "projection_mm": moulding.projection,
        "drop_mm": moulding.drop,
        "volume_mm3": joined(sides).volume if sides else None,
    }
