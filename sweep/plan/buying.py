"""What to buy: the boards that give blanks, spares and set-up blocks, and whether shorter blanks would save wood."""

from __future__ import annotations

from dataclasses import dataclass
from time import perf_counter

from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.boards import MOST_SECONDS, Cutting, Part, TooManyWaysError, cut_from
from sweep.scene.order import Order
from sweep.tolerance import SAME_LENGTH

BLANK, SPARE, SETUP_BLOCK = "blank", "spare", "set-up block"


@dataclass(frozen=True)
class Shorter:
    """Blanks that are a little shorter, for which less length of boards does.

    Parameters
    ----------
    blank_length : float, mm
        The longest for which less does; as many blanks still serve.
    board_lengths : tuple of float, mm
        As they are sold.
    """

    blank_length: float
    board_lengths: tuple[float, ...]


def boards_for(order: Order, blank_length: float, blank_width: float, blanks: int) -> Cutting:
    """Return the boards to buy for so many blanks, the spares and the set-up blocks; none where none are named.

    Raises
    ------
    SceneError
        When no board is long enough for a blank or a set-up block, or wide enough for one strip.
    """
    if not order.boards:
        return Cutting((), least=True)
    usable = _usable(order)
    longest = max(blank_length, order.setup_block_length)
    if max(usable) < longest - SAME_LENGTH:
        raise SceneError(
            "order.boards",
            "none is long enough for {limit} and {trim} off each end",
            "name a longer one",
            limit=length(longest),
            trim=length(order.board_trim),
        )
    strips = strips_of(order, blank_width)
    parts = [Part(blank_length, BLANK)] * blanks + [Part(blank_length, SPARE)] * order.spares
    parts += [Part(order.setup_block_length, SETUP_BLOCK)] * order.setup_blocks
    try:
        return cut_from(parts, [one for one in usable if one > 0], order.saw_kerf, strips)
    except TooManyWaysError as wrong:
        raise SceneError("order.boards", wrong.problem, "name fewer lengths, or narrower boards") from None


def strips_of(order: Order, blank_width: float) -> int:
    """Return how many strips one board's width gives.

    A strip is ripped wider than the blanks by what is planed off both its edges; a board that gives one strip only is
    bought for it and need not be wider than the blanks.
    """
    if order.board_width is None:
        return 1
    if order.board_width < blank_width - SAME_LENGTH:
        raise SceneError(
            "order.board_width",
            "{value} is narrower than the stock, {limit}",
            "write the width of the boards",
            value=length(order.board_width),
            limit=length(blank_width),
        )
    each = blank_width + 2 * order.board_edge + order.saw_kerf
    return max(1, int((order.board_width + order.saw_kerf + SAME_LENGTH) // each))


def sold(order: Order, boards: Cutting) -> tuple[float, ...]:
    """Return the lengths of boards as they are sold, mm: with the ends that are trimmed off."""
    return tuple(board.length + 2 * order.board_trim for board in boards.bars)


def shorter_blanks(
    order: Order, blank_length: float, blank_width: float, blanks: int, shortest: float
) -> Shorter | None:
    """Return the longest shorter blanks for which less length of boards does; None where none are found in the time.

    The least length of boards never grows where blanks get shorter. It can only fall at a length at which blanks,
    set-up blocks and the kerfs between them fill a strip to its end; so those are all the lengths there are to try, and
    the longest that saves is found by halving.

    Parameters
    ----------
    order : Order
    blank_length, blank_width : float, mm
    blanks : int
        As many of the shorter ones as of these.
    shortest : float, mm
        Shorter ones do not serve.

    Raises
    ------
    SceneError
        As `boards_for` for blanks of the given length.
    """
    now, until = boards_for(order, blank_length, blank_width, blanks), perf_counter() + MOST_SECONDS
    if not now.bars:
        return None
    lengths = [one for one in _filling(order, blanks + order.spares) if shortest <= one < blank_length - SAME_LENGTH]
    best: Shorter | None = None
    first, last = 0, len(lengths)
    place = last - 1  # the shortest first: where that saves nothing, none does
    while first < last:  # ends: each turn leaves less between them
        try:
            found = boards_for(order, lengths[place], blank_width, blanks)
        except SceneError:  # of shorter blanks there may be too many ways to cut them
            return None
        if not (now.least and found.least) or perf_counter() > until:
            return None
        if sum(sold(order, found)) < sum(sold(order, now)) - SAME_LENGTH:
            best, last = Shorter(lengths[place], sold(order, found)), place
        else:
            first = place + 1
        place = (first + last) // 2
    return best


def _usable(order: Order) -> list[float]:
    return [one - 2 * order.board_trim for one in order.boards]


def _filling(order: Order, blanks: int) -> list[float]:
    """Return the lengths of which some blanks fill a strip to its end, mm, the longest first.

    Beside them in the strip lie any number of the set-up blocks, each with the cut before it.
    """
    kerf, block = order.saw_kerf, order.setup_block_length + order.saw_kerf
    rooms = {one + kerf - block * beside for one in _usable(order) for beside in range(order.setup_blocks + 1)}
    lengths = {room / count - kerf for room in rooms for count in range(1, blanks + 1)}
    return sorted((one for one in lengths if one > 0), reverse=True)
