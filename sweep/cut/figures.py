"""What each finishing operation takes from the section of a piece, as plane figures."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from sweep.cut.taken import require_height, taken_by
from sweep.errors import UnusableError
from sweep.figure import length
from sweep.scene.finish import Bevel, Chamfer, Finish, Rabbet, Rip, RoundOver, SecondCove
from sweep.scene.keys import Setup
from sweep.scene.model import SetUpScene
from sweep.shape import edges, rounds, section
from sweep.shape.edges import Line
from sweep.shape.lying import face_down
from sweep.tolerance import SAME_POINT


@dataclass(frozen=True, eq=False)
class Outline:
    """The section of a piece and the lines in it that operations go by.

    Parameters
    ----------
    figure : Figure
    cove : Figure
        What the cove took, below the table too.
    left, right : Line
        On which its two sides lie.
    bevel : Bevel or None
        The last bevelling of its back.
    """

    figure: section.Figure
    cove: section.Figure
    left: Line
    right: Line
    bevel: Bevel | None = None


@dataclass(frozen=True, eq=False)
class Taking:
    """What an operation takes from a piece to leave another.

    Parameters
    ----------
    figure : Figure
    left, right : Line
        The sides of what is left.
    kept : bool
        Whether what is left is kept as a piece; if not it is an offcut.
    """

    figure: section.Figure
    left: Line
    right: Line
    kept: bool = True


def takings_of(operation: Finish, outline: Outline, scene: SetUpScene, chord: float) -> list[Taking]:
    """Return what an operation takes from a piece, once for each piece that comes of it; nothing where it misses it.

    Parameters
    ----------
    operation : Finish
    outline : Outline
    scene : SetUpScene
    chord : float, mm
        Of rounds and of the second cove.

    Raises
    ------
    UnusableError
        When the operation cannot be done on this piece: what is wrong and, after a semicolon, what to do.
    """
    match operation:
        case Rip():
            return _ripped(operation, outline, scene)
        case RoundOver():
            took = section.together(rounds.round_over(_corner(operation.edge, outline), operation.radius, chord))
        case Chamfer():
            took = section.together(edges.chamfer(_corner(operation.edge, outline), operation.size))
        case Rabbet():
            point = _place(operation.edge, outline)
            left, table = operation.edge.endswith("left"), operation.edge.startswith("table")
            took = section.together(edges.rabbet(point, operation.width, operation.depth, left, table))
        case Bevel():
            took = section.together(*map(edges.beyond, flats(operation, outline, scene.stock.thickness)))
        case SecondCove():
            took = _second_cove(operation, scene, chord)
        case other:
            assert_never(other)
    return [Taking(section.within(took, _room(scene)), outline.left, outline.right)]


def flats(bevel: Bevel, outline: Outline, thickness: float) -> tuple[Line, Line]:
    r"""Return the lines of the two flats of a bevelled back, the one for the wall first; the wood is on their left.

        wall flat   ______________________   ceiling flat
                   /  back, top of stock  \
        spring ---/                        \--- 90 deg - spring
                 |                          |
                 +---------.      .---------+
                            ------               (wall on the left)

    The triangle that is left open between back, wall and ceiling has the angle `spring` at the wall, the rest of a
    right angle at the ceiling, and so a right angle in the corner of the room.
    """
    widths = bevel.wall_flat, bevel.wall_flat if bevel.ceiling_flat is None else bevel.ceiling_flat
    slopes = bevel.spring, math.pi / 2 - bevel.spring
    sides = ("left", "right") if bevel.wall == "left" else ("right", "left")
    found, used = [], 0.0
    for side, slope, width in zip(sides, slopes, widths, strict=True):
        corner = _corner(f"top {side}", outline)
        if abs(corner.point[1] - thickness) > SAME_POINT:
            raise UnusableError(f"the back no longer reaches the {side} side", "bevel it before other cuts there")
        back, down = (corner.onward, corner.backward) if side == "right" else (corner.backward, corner.onward)
        line = edges.flat_across(corner, back, down, slope, width)
        used += abs(line.point[0] - corner.point[0])
        if used >= np.ptp(back[:, 0]):
            need = length(used)
            raise UnusableError(
                "the two flats need {value} of the back between them", "write narrower flats", value=need
            )
        found.append(line)
    return found[0], found[1]


def _ripped(rip: Rip, outline: Outline, scene: SetUpScene) -> list[Taking]:
    kerf = scene.tool.kerf if rip.kerf is None else rip.kerf
    up, right = (math.sin(rip.tilt), math.cos(rip.tilt)), (math.cos(rip.tilt), -math.sin(rip.tilt))
    faces = [(rip.at + side * kerf / 2 * right[0], side * kerf / 2 * right[1]) for side in (-1, 1)]
    of_left, of_right = Line(faces[0], up), Line(faces[1], (-up[0], -up[1]))
    right_of, left_of = section.together(edges.beyond(of_left)), section.together(edges.beyond(of_right))
    strip = section.within(right_of, left_of)
    if not section.parts(section.within(outline.figure, strip)):
        return []
    takings = [
        Taking(section.within(right_of, _room(scene)), outline.left, of_left, rip.keep != "right"),
        Taking(section.within(left_of, _room(scene)), of_right, outline.right, rip.keep != "left"),
    ]
    takings = [one for one in takings if section.parts(section.minus(outline.figure, one.figure))]
    if not any(one.kept for one in takings):
        raise UnusableError("nothing of the piece is kept", "move it, or keep the other part")
    return takings


def _second_cove(cove: SecondCove, scene: SetUpScene, chord: float) -> section.Figure:
    """Return what a second cove takes: a set-up of its own, the stock top down, as it lies turned back."""
    setup = Setup.model_construct(
        fence_angle=cove.fence_angle,
        blade_height=cove.blade_height,
        blade_tilt=cove.blade_tilt,
        offset=cove.offset,
    )
    require_height(setup, scene.tool, scene.saw)
    lying = face_down("top", cove.turn == "end for end", scene.stock.length).moved(0.0, scene.stock.thickness)
    return taken_by(setup, scene.tool, lying, chord)


def _corner(edge: str, outline: Outline) -> edges.Corner:
    return edges.corner_at(_ring(outline), _place(edge, outline))


def _place(edge: str, outline: Outline) -> NDArray[np.float64]:
    """Return where a corner lies that is named as in `scene/finish.py`, (2,) mm."""
    ring = _ring(outline)
    face, side = edge.split()
    if face == "cove":
        on = section.on_outline(ring, outline.cove)
        if on.sum() < 2:
            raise UnusableError("there is no cove here", "name another edge, or another piece")
        away = int(np.argmin(on))  # the outline runs from left to right along the cove
        walk = np.roll(ring, -away, axis=0)[np.roll(on, -away)]
        end: NDArray[np.float64] = walk[0] if side == "left" else walk[-1]
        return end
    line = outline.left if side == "left" else outline.right
    there = ring[np.abs(line.distances(ring)) < SAME_POINT]
    if len(there) < 2:
        raise UnusableError(f"nothing is left of the {side} side", "do this before what took it away")
    corner: NDArray[np.float64] = there[np.argmin(there[:, 1]) if face == "table" else np.argmax(there[:, 1])]
    return corner


def _ring(outline: Outline) -> NDArray[np.float64]:
    return edges.clean(section.rings(outline.figure)[0])


def _room(scene: SetUpScene) -> section.Figure:
    return section.room_around(scene.stock.width, scene.stock.thickness)
