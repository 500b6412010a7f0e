"""The cut list: which pieces, how many blanks over the blade, which boards to buy, and how long it takes at the saw.

A blank is what passes over the blade; pieces are cut from it afterwards, never the other way round, so that nothing
short comes near the blade. Spares and set-up blocks are of the blanks' section and come from the same boards.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sweep.cut.mitre import seated, wrapped_piece
from sweep.cut.moulding import Made
from sweep.cut.passes import passes_of
from sweep.cut.stages import travel_range
from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.boards import Bar, Part, TooManyWaysError, cut_from
from sweep.plan.buying import Shorter, boards_for, shorter_blanks, sold
from sweep.scene.model import Scene, WholeScene
from sweep.scene.order import Order
from sweep.shape import section
from sweep.tolerance import SAME_LENGTH

ALIKE = 1e-3
"""Share by which the sections of two pieces of one moulding may differ in area."""


@dataclass(frozen=True)
class PieceWanted:
    """One piece of moulding that is wanted.

    Parameters
    ----------
    name : str
    length : float, mm
        From end to end where it is longest: a mitred piece between its long points.
    inner_length : float, mm
        Where it is shortest.
    mitres : int
        How many of its ends are mitred.
    rough : float, mm
        Length to cut off the blank: with the allowance at both ends.
    """

    name: str
    length: float
    inner_length: float
    mitres: int
    rough: float


@dataclass(frozen=True)
class CutList:
    """Everything to cut, from the piece on the wall back to the board.

    Parameters
    ----------
    order : Order
    pieces : tuple of PieceWanted
    blanks : tuple of Bar
        Each with its pieces at their rough lengths.
    blank_length, least_length : float, mm
        Of every blank and spare, and the shortest stock that may pass over the blade.
    spares, setup_blocks : int
    setup_block_length : float, mm
    boards : tuple of Bar
        With blanks, spares and set-up blocks; the length of a bar is that of the board less its trimmed ends. None
        where no boards are named.
    board_lengths : tuple of float, mm
        Of the same boards, as they are sold.
    shorter : Shorter or None
        The longest blanks for which less length of boards does; None where none are found.
    seconds : float
        At the saw.
    passes : int
        Of every blank, over all set-ups.
    blanks_least, boards_least : bool
        Whether fewer blanks, or less length of boards, cannot do: False where the time for looking ran out, and they
        are the best found.
    """

    order: Order
    pieces: tuple[PieceWanted, ...]
    blanks: tuple[Bar, ...]
    blank_length: float
    least_length: float
    spares: int
    setup_blocks: int
    setup_block_length: float
    boards: tuple[Bar, ...]
    board_lengths: tuple[float, ...]
    shorter: Shorter | None
    seconds: float
    passes: int
    blanks_least: bool
    boards_least: bool

    @property
    def passed(self) -> int:
        """How many blanks go over the blade in every pass, spares among them."""
        return len(self.blanks) + self.spares


def cut_list(made: Made) -> CutList | None:
    """Return the cut list of what was made, or None when nothing is ordered.

    Raises
    ------
    SceneError
        When a piece is longer than a blank, a blank longer than every board, or the passes stop part-way.
    """
    scene, order = made.scene, made.scene.order
    if order is None:
        return None
    if any(one.passes.stop_short for one in made.scenes):
        raise SceneError(
            "order",
            "the passes stop part-way, and pieces are cut from coves that go through",
            "leave the order out, or let every pass go through",
        )
    pieces = pieces_of(order, seated(wrapped_piece(made.pieces)).projection)
    longest = max(pieces, key=lambda piece: piece.rough)
    if longest.rough > scene.stock.length + SAME_LENGTH:
        raise SceneError(
            "stock.length",
            "{value} is too short a blank for {piece}, which is cut off at {limit:up}",
            "write at least that, or order shorter pieces",
            value=length(scene.stock.length),
            piece=longest.name,
            limit=length(longest.rough),
        )
    try:
        parts = [Part(piece.rough, piece.name) for piece in pieces]
        mouldings = mouldings_of(made)
        blanks = cut_from(parts, [scene.stock.length], order.saw_kerf, mouldings)
    except TooManyWaysError as wrong:
        raise SceneError("order.lengths", wrong.problem, "order in two parts, or make like lengths the same") from None
    boards = boards_for(order, scene.stock.length, scene.stock.width, len(blanks.bars))
    return CutList(
        order=order,
        pieces=pieces,
        blanks=blanks.bars,
        blank_length=scene.stock.length,
        least_length=scene.limits.stock_length,
        spares=order.spares,
        setup_blocks=order.setup_blocks,
        setup_block_length=order.setup_block_length,
        boards=boards.bars,
        board_lengths=sold(order, boards),
        shorter=_shorter(scene, parts, len(blanks.bars), mouldings),
        seconds=time_at_saw(made.scenes, order, len(blanks.bars) + order.spares),
        passes=sum(len(one.passes.heights) for one in made.scenes),
        blanks_least=blanks.least,
        boards_least=boards.least,
    )


def _shorter(scene: Scene, parts: Sequence[Part], blanks: int, mouldings: int) -> Shorter | None:
    """Return blanks for which less length of boards does; None where fewer pieces would come out of as many of them."""
    if scene.order is None:
        return None
    stock, shortest = scene.stock, max(scene.limits.stock_length, max(part.length for part in parts))
    found = shorter_blanks(scene.order, stock.length, stock.width, blanks, shortest)
    if found is None:
        return None
    same = cut_from(parts, [found.blank_length], scene.order.saw_kerf, mouldings)
    return found if len(same.bars) <= blanks else None


def mouldings_of(made: Made) -> int:
    """Return how many mouldings one blank gives.

    Pieces ripped from it count when their section is that of the one that is fitted: halves of a cove that are mirror
    images are one moulding, turned end for end.
    """
    fitted = wrapped_piece(made.pieces).outline.figure
    return sum(section.alike(fitted, piece.outline.figure, ALIKE) for piece in made.pieces)


def pieces_of(order: Order, projection: float) -> tuple[PieceWanted, ...]:
    """Return the pieces that are wanted, those of a rectangle mitred at its corners.

    Parameters
    ----------
    order : Order
    projection : float, mm
        How far the moulding stands out from its back, which lies on the rectangle, seen from above: a mitre at a square
        corner makes one edge of the piece longer than the other by that much.
    """
    if order.rectangle is None:
        numbers = {length: number for number, length in enumerate(dict.fromkeys(order.lengths), start=1)}
        wanted = [(f"piece {numbers[length]}", length, 0) for length in order.lengths]
    else:
        front, side = order.rectangle
        wanted = [("front", front, 2), ("left side", side, 2), ("back", front, 2), ("right side", side, 2)]
        if order.sides == 3:
            wanted = [("front", front, 2), ("left return", side, 1), ("right return", side, 1)]
    pieces = []
    for name, line, mitres in wanted * order.copies:
        grows = mitres * projection if order.wrap == "outside" else 0.0
        outer, inner = line + grows, line + grows - mitres * projection
        if inner <= 0:
            raise SceneError(
                "order.rectangle",
                "a side of {value} is too short for a moulding that stands {limit} in",
                "write a larger rectangle",
                value=length(line),
                limit=length(projection),
            )
        pieces.append(PieceWanted(name, outer, inner, mitres, outer + 2 * order.allowance))
    return tuple(pieces)


def time_at_saw(scenes: Sequence[WholeScene], order: Order, blanks: int) -> float:
    """Return how long the passes take, s: for each, the blade raised once and every blank fed over it and handled.

    The first setting-up, crosscuts, mitres, planing, sanding and rests are not in it.
    """
    total = 0.0
    for scene in scenes:
        for one in passes_of(scene):
            start, end = travel_range(scene, one.number)
            total += order.reset + blanks * ((end - start) / one.feed_speed + order.handling)
    return total


def leftover(length: float, strip: Sequence[Part], kerf: float) -> float:
    """Return what is left of a strip behind its last part and the cut there, mm; never negative."""
    return max(0.0, length - sum(part.length + kerf for part in strip))
