"""The cut list: pieces, blanks and boards as tables, the rest in sentences."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from sweep.plan.boards import Bar
from sweep.plan.buying import Shorter
from sweep.plan.cutlist import CutList, leftover
from sweep.scene.model import Scene
from sweep.show.say.table import Column, Table
from sweep.shown import Shown
from sweep.tolerance import SAME_LENGTH
from sweep.units import MM_PER_INCH, Units, minutes


def pieces_table(cut: CutList, units: Units) -> Table:
    """Return the pieces wanted, like ones together."""
    mitred = any(piece.mitres for piece in cut.pieces)
    lengths = ("longest", "shortest", "mitred ends") if mitred else ("length",)
    rows = []
    for piece, count in Counter(cut.pieces).items():
        row = [str(count), piece.name, units.tape(piece.length)]
        if mitred:
            row += [units.tape(piece.inner_length), ("none", "one", "both")[piece.mitres]]
        rows.append((*row, units.tape(piece.rough)))
    return _table(("", "piece", *lengths, "cut off at"), rows)


def blanks_table(cut: CutList, units: Units) -> Table:
    """Return the blanks and what each is cut into, like ones together."""
    length = units.tape(cut.blank_length)
    rows = [
        (str(count), length, *_strips(bar, cut.order.saw_kerf, units)) for bar, count in Counter(cut.blanks).items()
    ]
    rows.append((str(cut.spares), length, "spare", ""))
    return _table(("", "blank", "cut into", "left over"), rows)


def boards_table(cut: CutList, units: Units) -> Table:
    """Return the boards and what each is cut into, like ones together; the trimmed ends are not left over."""
    rows = [
        (str(count), sold(length, units), *_strips(bar, cut.order.saw_kerf, units))
        for (length, bar), count in Counter(zip(cut.board_lengths, cut.boards, strict=True)).items()
    ]
    return _table(("", "board", "cut into", "left over"), rows)


def order_tables(cut: CutList, units: Units) -> list[Table]:
    """Return every table there is of an order: pieces, blanks and, where boards are named, boards."""
    tables = [pieces_table(cut, units), blanks_table(cut, units)]
    return [*tables, boards_table(cut, units)] if cut.boards else tables


def _strips(bar: Bar, kerf: float, units: Units) -> tuple[str, str]:
    """Return what the strips of a bar are cut into and what is left of each, a line for each."""
    lines = []
    for strip in bar.strips:
        names = Counter(part.name for part in strip)
        lines.append(" + ".join(f"{count} x {name}" if count > 1 else name for name, count in names.items()))
    left = [units.tape(leftover(bar.length, strip, kerf)) for strip in bar.strips]
    return "\n".join(lines), "\n".join(left)


def blanks_sentences(cut: CutList, units: Units) -> list[str]:
    """Return how many pass over the blade, what may not, and whether shorter blanks would do."""
    said = [
        f"{cut.passed} blanks pass over the blade, {cut.spares} of them spare: a broken set-up cannot be "
        f"repeated. Nothing shorter than {units.tape(cut.least_length)} may pass: pieces are cut off later."
    ]
    if not cut.blanks_least:
        said.append(f"{len(cut.blanks)} is the best found in the time that is allowed; fewer may do.")
    kerf = cut.order.saw_kerf
    spared = min(
        leftover(cut.blank_length, strip, 0.0) - kerf * (len(strip) - 1) for b in cut.blanks for strip in b.strips
    )
    serves = max(cut.least_length, cut.blank_length - spared)
    if serves < cut.blank_length - kerf:
        said.append(f"Blanks need not be longer than {_up(serves, units)} for the same pieces.")
    block = units.tape(cut.setup_block_length)
    short = ", and are too short to pass over the blade" if cut.setup_block_length < cut.least_length else ""
    said.append(
        f"{cut.setup_blocks} set-up blocks of {block}, of the blanks' section, are for setting fence and height with "
        f"the saw unplugged{short}. Keep one with the finished cove off the spare, to find the set-up again."
    )
    return said


def boards_sentences(scene: Scene, cut: CutList, units: Units) -> list[str]:
    """Return what to buy, what the sum leaves out, and whether shorter blanks would save a board."""
    stock, order = scene.stock, cut.order
    section = f"{units.tape(stock.width)} by {units.tape(stock.thickness)}"
    if not cut.boards:
        blocks = cut.setup_blocks * cut.setup_block_length
        return [
            f"Wood planed to {section}: {units.tape(cut.passed * cut.blank_length + blocks)} in all, without kerfs; "
            "name the lengths that are sold in order.boards to have boards counted."
        ]
    serves = "the least that serves" if cut.boards_least else "the best found in the time allowed, less may do"
    width = "wide enough for one strip" if order.board_width is None else f"{units.tape(order.board_width)} wide"
    said = [
        f"Buy {_bought(cut.board_lengths, units)}, {width}, to be planed to {section}: together "
        f"{sold(sum(cut.board_lengths), units)}, {serves}; nothing is allowed for knots and checks."
    ]
    if max(len(board.strips) for board in cut.boards) > 1:
        said.append(
            f"Joint the board's first edge. Strips are ripped {units.tape(stock.width + 2 * order.board_edge)} wide: "
            f"{units.as_read(order.board_edge)} is planed off each edge."
        )
    if cut.shorter is not None:
        said.append(
            f"Blanks of {_down(cut.shorter.blank_length, units)}, as many for the same pieces, would come out of "
            f"{_bought(cut.shorter.board_lengths, units)}: {_saved(cut, cut.shorter, units)}."
        )
    return said


def sold(mm: float, units: Units) -> Shown:
    """Return a length of board as it is sold: in metres or feet where it is whole tenths or feet."""
    unit, name = (100.0, "m") if units.metric else (12 * MM_PER_INCH, "ft")
    count = round(mm / unit)
    if count == 0 or abs(mm - count * unit) > SAME_LENGTH:
        return units.tape(mm)
    return Shown(f"{count / 10:g}" if units.metric else str(count), name)


def _saved(cut: CutList, shorter: Shorter, units: Units) -> str:
    """Return what shorter blanks save: boards, where they are fewer, and their length."""
    fewer = len(cut.board_lengths) - len(shorter.board_lengths)
    less = f"{sold(sum(cut.board_lengths) - sum(shorter.board_lengths), units)} less to buy"
    return f"{fewer} board{'s' * (fewer > 1)} fewer, {less}" if fewer > 0 else less


def _bought(lengths: Sequence[float], units: Units) -> str:
    return " and ".join(f"{count} x {sold(length, units)}" for length, count in Counter(lengths).items())


def _up(mm: float, units: Units) -> Shown:
    """Return a length to cut at least, rounded up to what a tape tells."""
    step = 0.1 if units.metric else MM_PER_INCH / 64
    return units.tape(math.ceil(mm / step - 1e-6) * step)


def _down(mm: float, units: Units) -> Shown:
    """Return a length to cut at most, rounded down to what a tape tells."""
    step = 0.1 if units.metric else MM_PER_INCH / 64
    return units.tape(math.floor(mm / step + 1e-6) * step)


def time_sentence(cut: CutList) -> str:
    """Return how long the passes take, and what is not in it."""
    order = cut.order
    return (
        f"About {minutes(cut.seconds)} at the saw: {cut.passes} passes of {cut.passed} blanks, "
        f"{order.handling:.0f} s to handle each and {order.reset:.0f} s to raise the blade. Not in "
        "it: setting up, crosscuts, mitres, planing, sanding, rests."
    )


def _table(headings: Sequence[str], rows: Sequence[tuple[str, ...]]) -> Table:
    words = ("piece", "cut into", "mitred ends")
    return Table(tuple(Column(heading, left=heading in words) for heading in headings), tuple(rows))
