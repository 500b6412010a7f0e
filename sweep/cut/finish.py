"""The finishing operations in their order: from the stock with its cove to the pieces of finished moulding.

All of them run lengthwise, so each takes a plane figure from the section, drawn out beyond both ends of the stock.
The section is kept beside the solid, exact but for the chords that both share, and the two check each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sweep.cut.figures import Left, Outline, Taking, taking_of
from sweep.cut.passes import passes_of
from sweep.cut.stages import Stage, mesh_of, solids_of
from sweep.errors import SceneError, UnusableError
from sweep.figure import count
from sweep.phrase import phrase
from sweep.scene.finish import Bevel, Finish
from sweep.scene.model import SetUpScene, WholeScene
from sweep.shape import section, solid
from sweep.shape.edges import Line
from sweep.shape.mesh import Mesh
from sweep.tolerance import BESIDE_FACE, CLEAR_OF_END


@dataclass(frozen=True, eq=False)
class Piece:
    """One piece of finished moulding, lying where it lay in the stock.

    Parameters
    ----------
    number : int
        Counted from the left.
    outline : Outline
        Its section where every pass has cut in full.
    body : Solid
    mesh : Mesh
        `cut_by` counts on after the passes: what the first operation cut has the number after that of the last pass.
    """

    number: int
    outline: Outline
    body: solid.Solid
    mesh: Mesh

    @property
    def volume(self) -> float:
        """mm3."""
        return solid.volume(self.body)


@dataclass(frozen=True, eq=False)
class Change:
    """What an operation did to the section of one piece.

    Parameters
    ----------
    before, taken, after : Figure
        What the section was, what was taken, and what is left of it.
    piece : int or None
        Which piece it was, counted from the left as they were by then; None where there was but one.
    """

    before: section.Figure
    taken: section.Figure
    after: section.Figure
    piece: int | None = None


@dataclass(frozen=True, eq=False)
class Finishing:
    """What one operation did.

    Parameters
    ----------
    number : int
        Its place in the list, from 1.
    operation : Finish
    changes : tuple of Change
        One for each piece that came of it, offcuts left out; none when a rip touched no wood.
    volume : float, mm3
        What is gone from the pieces: shavings, dust and offcuts.
    offcuts : float, mm3
        The part of it that came off whole.
    kerf : float, mm
        Of the blade for it: its own, or that of the scene.
    """

    number: int
    operation: Finish
    changes: tuple[Change, ...]
    volume: float
    offcuts: float
    kerf: float


@dataclass(frozen=True, eq=False)
class SoFar:
    """A piece under way: its section, its solid, and what cut it, from the kernel's marks to passes and operations."""

    outline: Outline
    body: solid.Solid
    marks: dict[int, int]


@dataclass(frozen=True, eq=False)
class Unfinished:
    """The moulding as the set-ups left it, lying as it was planed.

    Parameters
    ----------
    pieces : tuple of SoFar
        From left to right: one, and what was sawn off and is kept; marks go to pass numbers, counted on through all
        set-ups.
    meshes : tuple of Mesh
        Theirs.
    passes : int
        How many there are.
    is_whole : bool
        Whether every pass goes right through.
    chord : float, mm
    """

    pieces: tuple[SoFar, ...]
    meshes: tuple[Mesh, ...]
    passes: int
    is_whole: bool
    chord: float


def finish(scene: WholeScene, last: Stage) -> tuple[tuple[Piece, ...], tuple[Finishing, ...]]:
    """Do every operation of a scene of one set-up in turn, from its last stage on; see `finish_from`."""
    return finish_from(scene, as_cut(scene, last))


def as_cut(scene: WholeScene, last: Stage) -> Unfinished:
    """Return the moulding as the passes of its one set-up left it."""
    stock = scene.stock
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.passes.heights[-1], last.chord)
    planed = section.stock_section(stock.width, stock.thickness)
    piece = SoFar(Outline(section.minus(planed, cut), cut, *sides_of(planed)), last.body, last.marks)
    return Unfinished((piece,), (last.mesh,), len(passes_of(scene)), not scene.passes.stop_short, last.chord)


def sides_of(figure: section.Figure) -> tuple[Line, Line]:
    """Return the upright lines on which a figure's outermost sides lie, left and right."""
    left, right = (Line((y, 0.0), (0.0, 1.0)) for y in section.sides_of(figure))
    return left, right


def finish_from(scene: SetUpScene, begun: Unfinished) -> tuple[tuple[Piece, ...], tuple[Finishing, ...]]:
    """Do every operation of a scene in turn.

    Parameters
    ----------
    scene : SetUpScene
        Its stock as it was planed.
    begun : Unfinished

    Returns
    -------
    pieces : tuple of Piece
        From left to right; without operations those with which it began.
    done : tuple of Finishing
        One for each operation.

    Raises
    ------
    SceneError
        Naming the operation that cannot be done.
    """
    if not scene.finish:
        return _numbered(begun.pieces, begun.meshes), ()
    states, done = zip(*steps(scene, begun), strict=True)
    return _numbered(states[-1], [mesh_of(blank.body, blank.marks, scene.stock) for blank in states[-1]]), tuple(done)


def _numbered(pieces: Sequence[SoFar], meshes: Sequence[Mesh]) -> tuple[Piece, ...]:
    """Return pieces numbered from the left, with their meshes."""
    made = zip(pieces, meshes, strict=True)
    return tuple(Piece(number, one.outline, one.body, mesh) for number, (one, mesh) in enumerate(made, start=1))


def steps(scene: SetUpScene, begun: Unfinished) -> Iterator[tuple[list[SoFar], Finishing]]:
    """Yield the pieces after each operation of a scene, and what it did; raises as `finish_from` does."""
    blanks = list(begun.pieces)
    if any(len(section.parts(one.outline.figure)) > 1 for one in blanks):
        raise SceneError("finish", "the passes cut the stock apart", "move the cove, or leave the operations out")
    for number, operation in enumerate(scene.finish, start=1):
        try:
            blanks, one = _do(scene, number, operation, blanks, begun)
        except UnusableError as wrong:
            raise SceneError(f"finish, number {number}", wrong.problem, wrong.remedy) from None
        yield blanks, one


def _do(
    scene: SetUpScene, number: int, operation: Finish, blanks: list[SoFar], begun: Unfinished
) -> tuple[list[SoFar], Finishing]:
    """Return the pieces after an operation, and what it did."""
    if operation.piece is not None and operation.piece > len(blanks):
        asked, most = count(operation.piece), count(len(blanks))
        raise UnusableError("there is no piece {value} by then", "write at most {limit}", value=asked, limit=most)
    _require_whole_cove(begun, operation)
    left, changes, offcuts = [], [], 0.0
    for place, blank in enumerate(blanks, start=1):
        if operation.piece not in (None, place):
            left.append(blank)
            continue
        try:
            taking = taking_of(operation, blank.outline, scene, begun.chord)
        except UnusableError as wrong:
            if len(blanks) == 1:
                raise
            on_piece = phrase("on piece {place} {problem}", place=count(place), problem=wrong.problem)
            raise UnusableError(on_piece, wrong.remedy) from None
        if not taking.left:
            left.append(blank)
        for one, after in zip(taking.left, _after(scene, begun.passes + number, operation, blank, taking), strict=True):
            if one.kept:
                left.append(after)
                which = place if len(blanks) > 1 else None
                changes.append(Change(blank.outline.figure, _gone(taking, one), one.figure, which))
            else:
                offcuts += solid.volume(after.body)
    before, now = (sum(solid.volume(blank.body) for blank in some) for some in (blanks, left))
    kerf = getattr(operation, "kerf", None) or scene.tool.kerf
    return left, Finishing(number, operation, tuple(changes), before - now, offcuts, kerf)


def _after(scene: SetUpScene, number: int, operation: Finish, blank: SoFar, taking: Taking) -> list[SoFar]:
    """Return what is left of a piece; its new faces are of the cut with this number."""
    if not taking.left:
        return []
    cutter, mark = solid.marked(solid.prism(section.rings(taking.figure), scene.stock.length, CLEAR_OF_END))
    bodies = solids_of(solid.subtract(blank.body, [cutter]), [one.figure for one in taking.left], scene.stock)
    bevel = operation if isinstance(operation, Bevel) else blank.outline.bevel
    outlines = [
        replace(blank.outline, figure=one.figure, left=one.left, right=one.right, bevel=bevel) for one in taking.left
    ]
    return [SoFar(one, body, blank.marks | {mark: number}) for one, body in zip(outlines, bodies, strict=True)]


def _gone(taking: Taking, stays: Left) -> section.Figure:
    """Return all that is gone from one of the pieces, a little beyond the wood: what is taken, and the other pieces."""
    gone = taking.figure
    for one in taking.left:
        if one is not stays:
            gone = section.both(gone, section.grown(one.figure, BESIDE_FACE))
    return section.minus(gone, stays.figure)


def _require_whole_cove(begun: Unfinished, operation: Finish) -> None:
    """Refuse the edges of a cove that stops part-way: they turn inwards there, and no straight cut follows them."""
    edge = getattr(operation, "edge", "")
    if edge.startswith("cove") and not begun.is_whole:
        raise UnusableError("the edge of a cove that stops part-way is not straight", "name another edge")
