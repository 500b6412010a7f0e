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

import math
from typing import Annotated, Literal

from pydantic import Field

from sweep.scene.fields import FenceAngle, Place, Size, Tilt, quantity
from sweep.scene.keys import Section
from sweep.units import ANGLE

Edge = Literal["table left", "table right", "top left", "top right", "cove left", "cove right"]
SquareEdge = Literal["table left", "table right", "top left", "top right"]
Spring = quantity(ANGLE, least=math.radians(5), most=math.radians(85))


class Operation(Section):
    """What all operations share: on which piece, counted from the left as they are by then; all unless given."""

    piece: Annotated[int, Field(ge=1, le=100)] | None = None


class Rip(Operation):
    """A cut along the whole length; `at` is the middle of the kerf on the face that rode on the table.

    A positive tilt leans the top of the blade to the right. Both parts are kept as pieces, or one of them.
    """

    do: Literal["rip"]
    at: Place
    tilt: Tilt = 0.0
    kerf: Size | None = None
    keep: Literal["both", "left", "right"] = "both"


class RoundOver(Operation):
    """A quarter round, or less, that runs smoothly into the faces on either side of a corner."""

    do: Literal["round over"]
    edge: Edge
    radius: Size


class Chamfer(Operation):
    """A flat across a corner, set back equally far along the faces on either side."""

    do: Literal["chamfer"]
    edge: Edge
    size: Size


class Bevel(Operation):
    """Two flats along the back, square to each other, on which the moulding sits between wall and ceiling.

    The back makes the angle `spring` with the wall. The flats are as wide as they are written when they are cut; the
    one for the wall is on the side `wall`.
    """

    do: Literal["bevel"]
    spring: Spring
    wall_flat: Size
    ceiling_flat: Size | None = None
    wall: Literal["left", "right"] = "left"


class Rabbet(Operation):
    """A step along a corner, square to the faces of the stock: so wide across it, so deep into it."""

    do: Literal["rabbet"]
    edge: SquareEdge
    width: Size
    depth: Size


class SecondCove(Operation):
    """A cove in the other face, cut by the scene's blade with the stock turned over; its passes are not planned.

    Settings are those of the saw, for the stock as it then lies. Turned about its length the stock keeps the same end
    leading and its left side comes to the right; turned end for end it keeps its left side and the other end leads.
    """

    do: Literal["cove"]
    fence_angle: FenceAngle
    blade_height: Size
    blade_tilt: Tilt = 0.0
    offset: Place = 0.0
    turn: Literal["about its length", "end for end"] = "about its length"


Finish = Annotated[Rip | RoundOver | Chamfer | Bevel | Rabbet | SecondCove, Field(discriminator="do")]
