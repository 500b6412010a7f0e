"""The finished moulding in numbers: what each operation took, its pieces, how it is mitred."""

from __future__ import annotations

from sweep.cut.mitre import mitre_angles, seated, wrapped, wrapped_piece
from sweep.cut.moulding import Made
from sweep.cut.straight_cuts import StraightCut, saw_cuts
from sweep.shape import section
from sweep.shape.mesh import joined
from sweep.show.say.numbers.model import Numbers
from sweep.units import degrees


class SawCutNumbers(Numbers):
    """One plane face as a table saw is set for it, its rip fence parallel to the blade."""

    down: str
    """The face on the saw's table: "table", as for the cove, or "top", the moulding's back."""
    edge: str
    """The edge at the rip fence, named as for the cove."""
    fence_to_blade_mm: float
    """At the saw's table."""
    tilt_deg: float
    """From upright, away from the fence."""
    wood_height_mm: float
    """How much wood the blade goes through."""
    face_mm: float
    """How wide the cut face is."""
    is_steady: bool


class OperationNumbers(Numbers):
    """What one finishing operation took, and how the saw is set for what of it can be sawn."""

    number: int
    do: str
    volume_mm3: float
    offcuts_mm3: float
    pieces_cut: int
    saw_cuts: tuple[SawCutNumbers, ...]
    """Piece by piece; none for what is done with a router or a plane."""


class MitreNumbers(Numbers):
    """How the moulding sits and how a square corner of it is mitred."""

    piece: int
    spring_deg: float
    """Between its back and the wall."""
    mitre_deg: float
    """On the saw, the moulding on its back."""
    bevel_deg: float
    projection_mm: float
    drop_mm: float
    volume_mm3: float | None
    """The wood of the moulding wrapped round the rectangle that is ordered; null where none is."""


class FinishedPieceNumbers(Numbers):
    """One finished piece."""

    number: int
    volume_mm3: float
    section_mm2: float
    watertight: bool
    triangles: int


class FinishedNumbers(Numbers):
    """The finished moulding, all of it and piece by piece."""

    volume_mm3: float
    watertight: bool
    triangles: int
    pieces: tuple[FinishedPieceNumbers, ...]


def finish_numbers(made: Made) -> tuple[OperationNumbers, ...]:
    """Return what each finishing operation took."""
    return tuple(
        OperationNumbers(
            number=one.number,
            do=one.operation.do,
            volume_mm3=one.volume,
            offcuts_mm3=one.offcuts,
            pieces_cut=len(one.changes),
            saw_cuts=tuple(_saw_cut(cut) for cut in saw_cuts(one)),
        )
        for one in made.finishing
    )


def _saw_cut(cut: StraightCut) -> SawCutNumbers:
    return SawCutNumbers(
        down=cut.down,
        edge=cut.edge,
        fence_to_blade_mm=cut.distance,
        tilt_deg=degrees(cut.tilt),
        wood_height_mm=cut.height,
        face_mm=cut.face,
        is_steady=cut.is_steady,
    )


def mitre_numbers(made: Made) -> MitreNumbers | None:
    """Return how the moulding is mitred; None where it is flat and not wrapped."""
    sides, piece = wrapped(made.scene, made.pieces), wrapped_piece(made.pieces)
    if not sides and piece.outline.bevel is None:
        return None
    moulding = seated(piece)
    mitre, bevel = mitre_angles(moulding.spring)
    return MitreNumbers(
        piece=piece.number,
        spring_deg=degrees(moulding.spring),
        mitre_deg=degrees(mitre),
        bevel_deg=degrees(bevel),
        projection_mm=moulding.projection,
        drop_mm=moulding.drop,
        volume_mm3=joined(sides).volume if sides else None,
    )


def finished_numbers(made: Made) -> FinishedNumbers:
    """Return the finished moulding."""
    return FinishedNumbers(
        volume_mm3=sum(piece.volume for piece in made.pieces),
        watertight=all(piece.mesh.is_closed() for piece in made.pieces),
        triangles=sum(len(piece.mesh.triangles) for piece in made.pieces),
        pieces=tuple(
            FinishedPieceNumbers(
                number=piece.number,
                volume_mm3=piece.volume,
                section_mm2=section.area(piece.outline.figure),
                watertight=piece.mesh.is_closed(),
                triangles=len(piece.mesh.triangles),
            )
            for piece in made.pieces
        ),
    )
