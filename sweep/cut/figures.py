"""What each finishing operation takes from the section of a piece, as plane figures."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from sweep.cut import rips
from sweep.cut.taken import require_height, taken_by
from sweep.errors import UnusableError
from sweep.figure import length
from sweep.scene.finish import Bevel, Chamfer, Finish, Rabbet, Rip, RoundOver, SecondCove
from sweep.scene.keys import Setup
from sweep.scene.model import SetUpScene
from sweep.shape import edges, rounds, section
from sweep.shape.edges import Line
from sweep.shape.lying import Lying, face_down
from sweep.shape.tool import Tool, flat_tips
from sweep.tolerance import FINE_CHORD, SAME_POINT


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
class Left:
    """A piece that an operation leaves of another.

    Parameters
    ----------
    figure : Figure
    left, right : Line
        Its sides.
    kept : bool
        Whether it is kept as a piece; if not it is an offcut.
    """

    figure: section.Figure
    left: Line
    right: Line
    kept: bool = True


@dataclass(frozen=True, eq=False)
class Taking:
    """What an operation takes from a piece, and what it leaves of it, from left to right.

    Parameters
    ----------
    figure : Figure
        All that the tool takes.
    left : tuple of Left
        None where the operation misses the piece.
    """

    figure: section.Figure
    left: tuple[Left, ...]


def taking_of(operation: Finish, outline: Outline, scene: SetUpScene, chord: float) -> Taking:
    """Return what an operation takes from a piece and what it leaves of it.

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
        case Rabbet():
            return _stepped(operation, outline, scene)
        case RoundOver():
            took = section.together(rounds.round_over(_corner(operation.edge, outline), operation.radius, chord))
        case Chamfer():
            took = section.together(edges.chamfer(_corner(operation.edge, outline), operation.size))
        case Bevel():
            took = section.together(*map(edges.beyond, flats(operation, outline, scene.stock.thickness)))
        case SecondCove():
            took = _second_cove(operation, scene, chord)
        case other:
            assert_never(other)
    took = section.within(took, _room(scene))
    left = _only(section.parts(section.minus(outline.figure, took)))
    return Taking(took, (Left(left, outline.left, outline.right),))


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


def _ripped(rip: Rip, outline: Outline, scene: SetUpScene) -> Taking:
    """Return the kerf of a rip right through, and the pieces on both sides of it."""
    tool = _straight(scene, rip.kerf)
    high = rips.height_through(tool, rip.at, rip.tilt, outline.figure, rips.above(scene))
    kerf = _taken(rips.rip(tool, rip.at, high, rip.tilt), tool, _lying("table", scene), scene)
    if not section.parts(section.within(outline.figure, kerf)):
        return Taking(kerf, ())
    up, right = (math.sin(rip.tilt), math.cos(rip.tilt)), (math.cos(rip.tilt), -math.sin(rip.tilt))
    faces = [(rip.at + side * tool.kerf / 2 * right[0], side * tool.kerf / 2 * right[1]) for side in (-1, 1)]
    of_left, of_right = Line(faces[0], up), Line(faces[1], (-up[0], -up[1]))
    beyond = section.together(edges.beyond(of_left))
    parts, found = section.parts(section.minus(outline.figure, kerf)), []
    if there := [part for part in parts if not section.mostly_in(part, beyond)]:
        found.append(Left(_only(there), outline.left, of_left, rip.keep != "right"))
    if there := [part for part in parts if section.mostly_in(part, beyond)]:
        found.append(Left(_only(there), of_right, outline.right, rip.keep != "left"))
    if not any(one.kept for one in found):
        raise UnusableError("nothing of the piece is kept", "move it, or keep the other part")
    return Taking(kerf, tuple(found))


def _stepped(rabbet: Rabbet, outline: Outline, scene: SetUpScene) -> Taking:
    """Return the two kerfs of a rabbet, the piece, and what falls free of it."""
    corner, tool = _place(rabbet.edge, outline), _straight(scene, None)
    face, side = rabbet.edge.split()
    step = section.together(edges.rabbet(corner, rabbet.width, rabbet.depth, side == "left", face == "table"))
    down, on_left = _lying(face, scene), (side == "left") == (face == "table")  # turned over, the sides change places
    on_edge = face_down("left edge" if on_left else "right edge", False, 0.0).after(down)
    kerfs = []
    for lying, left, across, up in (
        (down, on_left, rabbet.width, rabbet.depth),
        (on_edge, not on_left, rabbet.depth, rabbet.width),
    ):
        low = section.bounds_of(section.laid(outline.figure, lying))[1]
        laid = lying.moved(0.0, -low)
        y, z = (np.array(laid.turn, float) @ corner + laid.shift).tolist()
        kerfs.append(_taken(rips.beside_step(tool, (y, z), left, across, up, left), tool, laid, scene))
    took = section.both(*kerfs)
    parts = section.parts(section.minus(outline.figure, took))
    falls = [part for part in parts if section.mostly_in(part, step)]
    stays = _only([part for part in parts if not section.mostly_in(part, step)])
    pieces = [Left(part, outline.left, outline.right, part is stays) for part in (stays, *falls)]
    return Taking(took, tuple(pieces))


def _straight(scene: SetUpScene, kerf: float | None) -> Tool:
    """Return a blade with straight sides, of a kerf of its own or as wide as the scene's."""
    return flat_tips(scene.tool.radius, scene.tool.kerf if kerf is None else kerf)


def _lying(face: str, scene: SetUpScene) -> Lying:
    """Return how stock lies with its table face or its top down, turned about its length."""
    return face_down(face, False, scene.stock.length).moved(0.0, scene.stock.thickness if face == "top" else 0.0)


def _taken(setup: Setup, tool: Tool, lying: Lying, scene: SetUpScene) -> section.Figure:
    """Return what a straight cut takes, in the room about the stock."""
    return section.within(taken_by(setup, tool, lying, FINE_CHORD), _room(scene))


def _only(parts: list[section.Figure]) -> section.Figure:
    """Return the one part that is left of a piece."""
    if not parts:
        raise UnusableError("it takes the whole piece", "write less")
    if len(parts) > 1:
        raise UnusableError("it cuts the piece apart", "write less, and rip where two pieces are wanted")
    return parts[0]


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
