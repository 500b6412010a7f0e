r"""What is done to the moulding after the cove, in order: one table of `[[finish]]` for each operation.

All of them run lengthwise, and all are written in the stock frame, as the stock lay for the cove, looking along the
feed; also those for which the maker turns it over. Corners are named so:

    top left   +-----------------------------+   top right          the back of the moulding
               |                             |
               |           _______           |                      z
               |         /         \         |                      |
    table left +--------+           +--------+   table right        +--- y
                    cove left   cove right                          the face that rode on the table

"left" and "right" are the ends of the sides as they are by then: of a piece that was ripped, the sides are the ripped
faces, and below a rabbet the side ends where the rabbet begins.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from sweep.scene.fields import Detail, FenceAngle, Height, Place, Spring, Thickness, Tilt
from sweep.scene.keys import Section
from sweep.scene.written import key

Edge = Literal["table left", "table right", "top left", "top right", "cove left", "cove right"]
SquareEdge = Literal["table left", "table right", "top left", "top right"]
_DO = "what is done; `[[finish]]`, one table for each operation after the cove, in order; see [finishing](#finishing)"


class Operation(Section):
    """What all operations share: on which piece, counted from the left as they are by then; all unless given."""

    piece: Annotated[int, Field(strict=True, ge=1, le=100)] | None = key(
        "on which piece, counted from the left as they are by then", None, unless_given="all"
    )


class Rip(Operation):
    """A cut along the whole length; `at` is the middle of the kerf on the face that rode on the table.

    A positive tilt leans the top of the blade to the right. Both parts are kept as pieces, or one of them.
    """

    do: Literal["rip"] = key(_DO)
    at: Place = key("the middle of the kerf on the face that rode on the table, from the centreline to the right")
    tilt: Tilt = key("a positive one leans the blade's top to the right", "0 deg")
    kerf: Thickness | None = key("width of this cut", None, unless_given="the blade's")
    keep: Literal["both", "left", "right"] = key("the part that is not kept is an offcut", "both")


class RoundOver(Operation):
    """A quarter round, or less, that runs smoothly into the faces on either side of a corner."""

    do: Literal["round over"] = key(_DO)
    edge: Edge = key("the corner that is taken off")
    radius: Detail = key("radius of the quarter round")


class Chamfer(Operation):
    """A flat across a corner, set back equally far along the faces on either side."""

    do: Literal["chamfer"] = key(_DO)
    edge: Edge = key("the corner that is taken off")
    size: Detail = key("how far it is set back along both faces")


class Bevel(Operation):
    """Two flats along the back, square to each other, on which the moulding sits between wall and ceiling.

    The back makes the angle `spring` with the wall. The flats are as wide as they are written when they are cut; the
    one for the wall is on the side `wall`.
    """

    do: Literal["bevel"] = key(_DO)
    spring: Spring = key("angle between the moulding's back and the wall")
    wall_flat: Detail = key("how wide the flat for the wall is cut")
    ceiling_flat: Detail | None = key("how wide the flat for the ceiling is cut", None, unless_given="the same")
    wall: Literal["left", "right"] = key("the side with the flat for the wall", "left")


class Rabbet(Operation):
    """A step along a corner, square to the faces of the stock: so wide across it, so deep into it."""

    do: Literal["rabbet"] = key(_DO)
    edge: SquareEdge = key("the corner that is taken off")
    width: Detail = key("how wide it is across the stock")
    depth: Detail = key("how deep it is, square to the stock's faces")


class SecondCove(Operation):
    """A cove in the other face, cut by the scene's blade with the stock turned over; its passes are not planned.

    Settings are those of the saw, for the stock as it then lies. Turned about its length the stock keeps the same end
    leading and its left side comes to the right; turned end for end it keeps its left side and the other end leads.
    """

    do: Literal["cove"] = key(_DO)
    fence_angle: FenceAngle = key("fence angle, set as for the first cove, the stock turned over")
    blade_height: Height = key("blade height, set as for the first")
    blade_tilt: Tilt = key("blade tilt, set as for the first", "0 deg")
    offset: Place = key("offset, set as for the first", "0 mm", inches="0 in")
    turn: Literal["about its length", "end for end"] = key("how the stock was turned over", "about its length")


Finish = Annotated[Rip | RoundOver | Chamfer | Bevel | Rabbet | SecondCove, Field(discriminator="do")]
