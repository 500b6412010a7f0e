"""The order: which pieces of moulding are wanted, and what they are to be cut from."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.scene.fields import Seconds, Size, SpareLength, StockLength, TrimLength
from sweep.scene.keys import Section

ACROSS_A_MITRE = math.sqrt(2)
"""How much further a kerf reaches along the piece at a square corner's mitre, whatever the moulding's slope: the
plane of the cut stands at 45 deg to the length."""


class Order(Section):
    """Pieces of moulding: lengths, or a rectangle to be wrapped with mitres at its corners.

    The moulding's back lies on the rectangle. Outside, round a cupboard, that is its inner edge, and pieces are longer
    than the sides of the rectangle by the mitres; inside, in a room or a frame, its outer edge, and they are as long.
    """

    lengths: Annotated[tuple[StockLength, ...], Field(max_length=500)] = ()
    rectangle: tuple[StockLength, StockLength] | None = None
    wrap: Literal["outside", "inside"] = "outside"
    sides: Literal[3, 4] = 4
    copies: Annotated[int, Field(ge=1, le=100)] = 1
    spares: Annotated[int, Field(ge=0, le=100)] = 1
    setup_blocks: Annotated[int, Field(ge=0, le=100)] = 2
    setup_block_length: SpareLength = 150.0
    allowance: TrimLength = 10.0
    saw_kerf: TrimLength = 3.2
    boards: Annotated[tuple[StockLength, ...], Field(max_length=20)] = ()
    board_width: Size | None = None
    board_trim: TrimLength = 20.0
    handling: Seconds = 20.0
    reset: Seconds = 90.0

    @model_validator(mode="after")
    def _whole(self) -> Order:
        if bool(self.lengths) == (self.rectangle is not None):
            raise SceneError(
                "order",
                "both lengths and a rectangle are ordered" if self.lengths else "nothing is ordered",
                'write either lengths = ["1200 mm"] or rectangle = ["600 mm", "320 mm"]',
            )
        if self.spares < 1:
            raise SceneError(
                "order.spares", "there is none", "write at least 1: the set-up cannot be repeated once it is broken"
            )
        if self.setup_blocks < 2:
            raise SceneError("order.setup_blocks", f"{self.setup_blocks} is too few", "write at least 2")
        taken = self.saw_kerf * (1.0 if self.rectangle is None else ACROSS_A_MITRE)
        if self.allowance < taken:
            raise SceneError(
                "order.allowance",
                f"{self.allowance:.4g} mm leaves no room for the last cut at each end, which takes {taken:.4g} mm",
                "write at least that",
            )
        if self.board_width is not None and not self.boards:
            raise SceneError("order.boards", "they are missing", 'write the lengths sold, for example ["2.4 m", "3 m"]')
        return self
