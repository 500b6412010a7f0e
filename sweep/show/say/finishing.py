"""The finished moulding in sentences: what each operation took, its pieces, how it is mitred."""

from __future__ import annotations

from sweep.cut.job import Job
from sweep.cut.mitre import mitre_angles, seated, wrapped_piece
from sweep.cut.moulding import Made
from sweep.cut.sanding import filling
from sweep.units import Units, degrees


def finishing_sentences(made: Made, units: Units) -> list[str]:
    """Return what was done after the cove and how the moulding is mitred; nothing where nothing was."""
    return [said for said in (taken_sentence(made, units), mitre_sentence(made, units)) if said]


def taken_sentence(made: Made, units: Units) -> str:
    """Return what the finishing operations take and what they leave."""
    if not made.finishing:
        return ""
    done = [f"{one.operation.do} {units.volume(one.volume)}" for one in made.finishing]
    count, left = len(made.pieces), units.volume(sum(piece.volume for piece in made.pieces))
    pieces = "1 piece is left" if count == 1 else f"{count} pieces are left"
    return f"Finishing takes {', '.join(done)}; {pieces}, {left}."


def mitre_sentence(made: Made, units: Units) -> str:
    """Return how the moulding sits when it is fitted and how it is mitred; nothing where it is flat and not wrapped.

    A wall is named only where there is one: round a cupboard or a top there is none.
    """
    piece, order = wrapped_piece(made.pieces), made.scene.order
    wraps = order is not None and order.rectangle is not None
    if not wraps and piece.outline.bevel is None:
        return ""
    moulding = seated(piece)
    mitre, bevel = mitre_angles(moulding.spring)
    on_wall = piece.outline.bevel is not None and not (wraps and order is not None and order.wrap == "outside")
    where = "On the wall" if on_wall else "Fitted,"
    which = f" (piece {piece.number})" if len(made.pieces) > 1 else ""
    return (
        f"{where} the moulding{which} stands out {units.length(moulding.projection)} and comes down "
        f"{units.length(moulding.drop)}; to mitre a square corner with the moulding on its back, set the saw's mitre "
        f"to {degrees(mitre):.2f} deg and its bevel to {degrees(bevel):.2f} deg."
    )


def sanding_sentence(job: Job, units: Units) -> str:
    """Return what serves to smooth the cove; nothing where there is none to smooth."""
    if filling(job.scene, 0.0, chord=0.1) is None:
        return ""
    return (
        f"sanding-block.stl fits the cove with paper {units.length(job.scene.sanding.paper)} thick on it, scraper.svg "
        "without; both are for the cove as it leaves the saw, so sand before ripping."
    )
