"""The order: which pieces of moulding are wanted, and what they are to be cut from."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.figure import count, length
from sweep.phrase import Example
from sweep.scene.fields import BoardLength, SawSize, Seconds, SpareLength, StockLength, TrimLength
from sweep.scene.keys import Section
from sweep.scene.written import key

ACROSS_A_MITRE = math.sqrt(2)
"""How much further a kerf reaches along the piece at a square corner's mitre, whatever the moulding's slope: the
plane of the cut stands at 45 deg to the length."""


class Order(Section):
    """Pieces of moulding: lengths, or a rectangle to be wrapped with mitres at its corners.

    The moulding's back lies on the rectangle. Outside, round a cupboard, that is its inner edge, and pieces are longer
    than the sides of the rectangle by the mitres; inside, in a room or a frame, its outer edge, and they are as long.
    """

    lengths: Annotated[tuple[StockLength, ...], Field(max_length=500)] = key(
        "the pieces of moulding wanted; or a rectangle", ()
    )
    rectangle: tuple[StockLength, StockLength] | None = key(
        "front and side, to be wrapped with mitres at its corners", None
    )
    wrap: Literal["outside", "inside"] = key(
        "outside, the moulding's back lies on the rectangle and it stands out from it (a cupboard, a table top); "
        "inside, into it (a room, a frame)",
        "outside",
    )
    sides: Literal[3, 4] = key("3 are a front and two returns, their other ends square", 4)
    copies: Annotated[int, Field(strict=True, ge=1, le=100)] = key("how often the whole order is wanted", 1)
    spares: Annotated[int, Field(strict=True, ge=0, le=100)] = key(
        "blanks beside those needed, at least 1: the set-up cannot be repeated once it is broken",
        1,
        why="common practice",
    )
    setup_blocks: Annotated[int, Field(strict=True, ge=0, le=100)] = key(
        "how many blocks of the same section to set up by, at least 2", 2, why="common practice"
    )
    setup_block_length: SpareLength = key("length of each of them", "150 mm", inches="6 in", why="common practice")
    allowance: TrimLength = key(
        "for trimming each end of a piece, the last cut's kerf in it", "10 mm", inches="3/8 in", why="our choice"
    )
    saw_kerf: TrimLength = key(
        "kerf of the saw that cuts to length and rips boards", "3.2 mm", inches="1/8 in", why="common practice"
    )
    boards: Annotated[tuple[BoardLength, ...], Field(max_length=20)] = key(
        "lengths that are sold; leave out and no boards are counted", ()
    )
    board_width: SawSize | None = key(
        "how wide they are; what that gives is ripped to `stock.width`", None, unless_given="one strip a board"
    )
    board_edge: TrimLength = key(
        "planed off each edge of a strip that is ripped from a wider board, the board's first edge jointed among them",
        "1.5 mm",
        inches="1/16 in",
        why="a sawn edge is planed, and a board's own is seldom straight; our choice",
    )
    board_trim: TrimLength = key("what is lost at each end of a board", "20 mm", inches="3/4 in", why="our choice")
    handling: Seconds = key("time for each blank in each pass", "20 s", why="our choice")
    reset: Seconds = key("time for raising the blade between passes", "90 s", why="our choice")

    @model_validator(mode="after")
    def _whole(self) -> Order:
        if bool(self.lengths) == (self.rectangle is not None):
            raise not_one_order("both lengths and a rectangle are ordered" if self.lengths else "nothing is ordered")
        if self.spares < 1:
            raise SceneError(
                "order.spares", "there is none", "write at least 1: the set-up cannot be repeated once it is broken"
            )
        if self.setup_blocks < 2:
            raise SceneError(
                "order.setup_blocks", "{value} is too few", "write at least 2", value=count(self.setup_blocks)
            )
        taken = self.saw_kerf * (1.0 if self.rectangle is None else ACROSS_A_MITRE)
        if self.allowance < taken:
            raise SceneError(
                "order.allowance",
                "{value} leaves no room for the last cut at each end, which takes {limit:up}",
                "write at least that",
                value=length(self.allowance),
                limit=length(taken),
            )
        if self.board_width is not None and not self.boards:
            raise SceneError(
                "order.boards",
                "they are missing",
                "write the lengths sold, for example [{sold}]",
                sold=Example('"2.4 m", "3 m"', '"8 ft", "10 ft"'),
            )
        return self


def not_one_order(problem: str) -> SceneError:
    """Return the refusal of an order of nothing, or of both lengths and a rectangle."""
    return SceneError(
        "order",
        problem,
        'write either lengths = ["{long}"] or rectangle = ["{front}", "{side}"]',
        long=Example("1200 mm", "48 in"),
        front=Example("600 mm", "24 in"),
        side=Example("320 mm", "13 in"),
    )
