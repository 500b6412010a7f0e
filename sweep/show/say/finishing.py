"""The finished moulding in sentences: what each operation took, its pieces, how it is mitred."""

from __future__ import annotations

from sweep.cut.job import Job
from sweep.cut.mitre import mitre_angles, seated, wrapped_piece
from sweep.units import Units, degrees


def finishing_sentences(job: Job, units: Units) -> list[str]:
    """Return what was done after the cove and how the moulding is mitred; nothing where nothing was."""
    return [said for said in (taken_sentence(job, units), mitre_sentence(job, units)) if said]


def taken_sentence(job: Job, units: Units) -> str:
    """Return what the finishing operations take and what they leave."""
    if not job.finishing:
        return ""
    done = [f"{one.operation.do} {units.volume(one.volume)}" for one in job.finishing]
    count, left = len(job.pieces), units.volume(sum(piece.volume for piece in job.pieces))
    pieces = "1 piece is left" if count == 1 else f"{count} pieces are left"
    return f"Finishing takes {', '.join(done)}; {pieces}, {left}."


def mitre_sentence(job: Job, units: Units) -> str:
    """Return how the moulding sits on the wall and is mitred; nothing where it is flat and not wrapped."""
    piece = wrapped_piece(job.pieces)
    wraps = job.scene.order is not None and job.scene.order.rectangle is not None
    if not wraps and piece.outline.bevel is None:
        return ""
    moulding = seated(piece)
    mitre, bevel = mitre_angles(moulding.spring)
    which = f" (piece {piece.number})" if len(job.pieces) > 1 else ""
    return (
        f"On the wall the moulding{which} stands out {units.length(moulding.projection)} and comes down "
        f"{units.length(moulding.drop)}; to mitre a square corner with the moulding on its back, set the saw's mitre "
        f"to {degrees(mitre):.2f} deg and its bevel to {degrees(bevel):.2f} deg."
    )
