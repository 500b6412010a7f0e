"""The finished moulding seated and wrapped round a rectangle, mitred at the corners, and how to set the saw for that.

A sprung moulding (one with a bevelled back) sits with one flat on the wall and the other under the ceiling. Any other
stands with its back, the face that was on top for the cove, flat on the wall and its left side down: a spring of 0.

    wall        ceiling
        +------------------------ p     p  out from the wall
        |           .-------|           q  up, so that all of the moulding lies below q = 0
        |         .'       .'
        | spring.'  back .'             The rectangle's line is p = 0: the flat for the wall lies on it, or the back.
        |     .'       .'               Outside (round a cupboard) the moulding stands out of the rectangle, inside
        |   .'       .'                 (in a room, or a frame) into it.
        |_________.-'
        q
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.finish import Piece
from sweep.errors import SceneError, UnusableError
from sweep.figure import length
from sweep.scene.model import Scene
from sweep.shape import edges, section, solid
from sweep.shape.mesh import Mesh

Array = NDArray[np.float64]

SQUARE = math.pi / 2
"""rad. A square corner."""

JOINT = 0.02
"""mm. How far mitres stand open in a file: a reader that joins like points would else run the sides into one."""


@dataclass(frozen=True, eq=False)
class Seated:
    """The section of a moulding as it sits on the wall.

    Parameters
    ----------
    spring : float, rad
        Between its back and the wall.
    rings : tuple of (n, 2) float, mm
        Its outlines in (p, q): out from the wall, and up.
    """

    spring: float
    rings: tuple[Array, ...]

    @property
    def projection(self) -> float:
        """How far it stands out from the wall, mm."""
        return float(max(ring[:, 0].max() for ring in self.rings))

    @property
    def drop(self) -> float:
        """How far it comes down the wall, mm."""
        return float(-min(ring[:, 1].min() for ring in self.rings))


def seated(piece: Piece) -> Seated:
    """Return the section of a piece as it sits on the wall, by the last bevelling of its back."""
    bevel = piece.outline.bevel
    spring, hand = (bevel.spring, 1 if bevel.wall == "left" else -1) if bevel else (0.0, 1)
    # from the wall's side of the back to the other it goes out and up, and square to that into the corner
    along = np.array([math.sin(spring), math.cos(spring)]) * hand
    behind = np.array([-math.cos(spring), math.sin(spring)])
    rings = [edges.apart(ring) for ring in section.rings(piece.outline.figure)]
    rings = [ring[:, :1] * along + ring[:, 1:] * behind for ring in rings]
    points = np.vstack(rings)
    corner = np.array([points[:, 0].min(), points[:, 1].max()])
    return Seated(spring, tuple(ring - corner for ring in rings))


def mitre_angles(spring: float, corner: float = SQUARE) -> tuple[float, float]:
    """Return how to set a saw for a moulding that lies on its back: the mitre on the table, and the bevel of the blade.

    Parameters
    ----------
    spring : float, rad
        Between the moulding's back and the wall.
    corner : float, rad
        Between the walls.

    Returns
    -------
    mitre, bevel : float, rad
        From square.

    Notes
    -----
    The plane of the mitre stands upright and halves the corner c, so its normal is sin(c / 2) along the wall and
    cos(c / 2) out from it. Of a moulding with the spring s that lies on its back, "out" is sin(s) across the back and
    cos(s) square to it: tan(mitre) = sin(s) / tan(c / 2) and sin(bevel) = cos(s) cos(c / 2). For a square corner
    WOODWEB's *Finding Compound Angles for Crown Moulding* (2007) has 31.6 and 33.9 deg for a spring of 38 deg, and 35.3
    and 30.0 deg for one of 45 deg.

    Examples
    --------
    >>> [round(math.degrees(angle), 2) for angle in mitre_angles(math.radians(38))]
    [31.62, 33.86]
    """
    return math.atan(math.sin(spring) / math.tan(corner / 2)), math.asin(math.cos(spring) * math.cos(corner / 2))


def mitred(
    moulding: Seated, rectangle: Sequence[float], wrap: str, sides: int = 4, joint: float = 0.0
) -> tuple[Mesh, ...]:
    """Return the moulding round a rectangle: one closed mesh a side, from the front to the right, back and left.

    Parameters
    ----------
    moulding : Seated
    rectangle : (float, float), mm
        Front and side, measured on the line on which the moulding is wrapped.
    wrap : "outside" or "inside"
    sides : int
        4; or 3, without the back: the returns end square.
    joint : float, mm
        How far the mitres stand open, along the length.

    Returns
    -------
    tuple of Mesh
        x along the front to the right, y away from it, z up; the middle of the rectangle at x = y = 0, the moulding's
        upper edge at z = 0. No face is marked as cut.

    Raises
    ------
    UnusableError
        When the moulding fills the rectangle.
    """
    out = 1.0 if wrap == "outside" else -1.0
    if out < 0 and min(rectangle) <= 2 * moulding.projection:
        least = length(2 * moulding.projection)
        raise UnusableError("inside, a side must be longer than {limit:up}", "write more", limit=least)
    drawn = solid.to_mesh(solid.prism(moulding.rings, 1.0), {})
    begins = drawn.vertices[:, 0] < 0.5
    p, q = drawn.vertices[:, 1], drawn.vertices[:, 2]
    meshes = []
    for quarter in (0, 1, 2, 3) if sides == 4 else (0, 1, 3):
        along_wall, away = rectangle[quarter % 2], rectangle[1 - quarter % 2] / 2
        mitred_end, square_end = along_wall / 2 + out * p - joint / 2, np.full_like(p, along_wall / 2)
        right = square_end if sides == 3 and quarter == 1 else mitred_end
        left = square_end if sides == 3 and quarter == 3 else mitred_end
        # seen from above the sides run round to the left; outside, the outline of the prism is walked the other way
        along = np.where(begins == (out < 0), -left, right)
        turn = _quarter_turns(quarter)
        points = np.column_stack([along, -(away + out * p)]) @ turn.T
        meshes.append(Mesh(np.column_stack([points, q]), drawn.triangles, drawn.cut_by))
    return tuple(meshes)


def wrapped_piece(pieces: Sequence[Piece]) -> Piece:
    """Return the piece that is wrapped round a rectangle: the one of the largest section, of equals the leftmost."""
    return max(pieces, key=lambda piece: round(section.area(piece.outline.figure), 6))


def wrapped(scene: Scene, pieces: Sequence[Piece]) -> tuple[Mesh, ...]:
    """Return the finished moulding round the rectangle that is ordered, one mesh a side; none where none is ordered.

    Raises
    ------
    SceneError
        When the moulding fills the rectangle.
    """
    order = scene.order
    if order is None or order.rectangle is None:
        return ()
    try:
        return mitred(seated(wrapped_piece(pieces)), order.rectangle, order.wrap, order.sides, JOINT)
    except UnusableError as wrong:
        raise SceneError("order.rectangle", wrong.problem, wrong.remedy) from None


def _quarter_turns(count: int) -> Array:
    """Return the turn to the left by so many right angles, exact, (2, 2)."""
    return np.linalg.matrix_power(np.array([[0.0, -1.0], [1.0, 0.0]]), count)
