"""The cut list and the panel, in numbers."""

from __future__ import annotations

from sweep.check.panel import PanelCheck
from sweep.plan.boards import Bar
from sweep.plan.cutlist import CutList, leftover
from sweep.show.say.numbers.model import Numbers


class PieceNumbers(Numbers):
    """One piece of moulding that is wanted."""

    name: str
    length_mm: float
    """Where it is longest: a mitred piece between its long points."""
    inner_length_mm: float
    mitred_ends: int
    rough_length_mm: float
    """To cut off the blank, with the allowance at both ends."""


class StripNumbers(Numbers):
    """What is cut from one strip of a bar."""

    parts: tuple[str, ...]
    left_over_mm: float


class BarNumbers(Numbers):
    """A blank, strip by strip."""

    strips: tuple[StripNumbers, ...]


class BoardNumbers(BarNumbers):
    """A board as it is sold, strip by strip."""

    length_mm: float


class CutListNumbers(Numbers):
    """Everything to cut, from the piece on the wall back to the board."""

    pieces: tuple[PieceNumbers, ...]
    blanks: tuple[BarNumbers, ...]
    blanks_are_fewest: bool
    """Or the best found in the time that is allowed."""
    blank_length_mm: float
    least_length_mm: float
    """The shortest stock that may pass over the blade."""
    spares: int
    passed: int
    """Blanks that go over the blade in every pass, spares among them."""
    setup_blocks: int
    setup_block_length_mm: float
    boards: tuple[BoardNumbers, ...]
    boards_length_mm: float
    boards_are_least: bool
    shorter_blanks_mm: float | None
    """The longest blanks for which less length of boards does; null where none are found."""
    shorter_blanks_boards_mm: tuple[float, ...]
    """The boards that those take."""
    time_at_saw_s: float


class PanelNumbers(Numbers):
    """What a panel does between the driest and the dampest time of the year."""

    wood: str
    change_when_dry_mm: float
    """How much wider than when fitted; negative when narrower."""
    change_when_damp_mm: float
    edge_when_dry_mm: float
    """How far each moving edge has gone outwards."""
    edge_when_damp_mm: float
    gap_needed_mm: float
    lip_needed_mm: float
    gap_left_mm: float | None
    lap_left_mm: float | None


def cut_list_numbers(cut: CutList) -> CutListNumbers:
    """Return every figure of the cut list."""
    kerf = cut.order.saw_kerf
    return CutListNumbers(
        pieces=tuple(
            PieceNumbers(
                name=piece.name,
                length_mm=piece.length,
                inner_length_mm=piece.inner_length,
                mitred_ends=piece.mitres,
                rough_length_mm=piece.rough,
            )
            for piece in cut.pieces
        ),
        blanks=tuple(BarNumbers(strips=_strips(bar, kerf)) for bar in cut.blanks),
        blanks_are_fewest=cut.blanks_least,
        blank_length_mm=cut.blank_length,
        least_length_mm=cut.least_length,
        spares=cut.spares,
        passed=cut.passed,
        setup_blocks=cut.setup_blocks,
        setup_block_length_mm=cut.setup_block_length,
        boards=tuple(
            BoardNumbers(length_mm=length, strips=_strips(bar, kerf))
            for length, bar in zip(cut.board_lengths, cut.boards, strict=True)
        ),
        boards_length_mm=sum(cut.board_lengths),
        boards_are_least=cut.boards_least,
        shorter_blanks_mm=None if cut.shorter is None else cut.shorter.blank_length,
        shorter_blanks_boards_mm=() if cut.shorter is None else cut.shorter.board_lengths,
        time_at_saw_s=cut.seconds,
    )


def panel_numbers(found: PanelCheck | None) -> PanelNumbers | None:
    """Return every figure of the panel, or None when there is none."""
    return (
        None
        if found is None
        else PanelNumbers(
            wood=found.wood,
            change_when_dry_mm=found.dry,
            change_when_damp_mm=found.damp,
            edge_when_dry_mm=found.edge_dry,
            edge_when_damp_mm=found.edge_damp,
            gap_needed_mm=found.gap_needed,
            lip_needed_mm=found.lip_needed,
            gap_left_mm=found.gap_left,
            lap_left_mm=found.lap_left,
        )
    )


def _strips(bar: Bar, kerf: float) -> tuple[StripNumbers, ...]:
    return tuple(
        StripNumbers(parts=tuple(part.name for part in strip), left_over_mm=leftover(bar.length, strip, kerf))
        for strip in bar.strips
    )
