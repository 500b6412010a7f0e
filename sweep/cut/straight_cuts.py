r"""How the straight cuts of a finishing operation are set on a table saw, its rip fence parallel to the blade again.

What stays lies between fence and blade, and a tilted blade leans away from the fence: then nothing is wedged under the
blade (common practice). Which face that puts on the table follows from the cut:

        |            \   <- blade
        |  what stays \__________
        | fence        \  falls  |
        |_______________\_off____|____  table
        |<- distance -->|
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal, assert_never

import numpy as np
from numpy.typing import NDArray

from sweep.cut.finish import Change, Finishing
from sweep.scene.finish import Bevel, Chamfer, Rabbet, Rip, RoundOver, SecondCove
from sweep.shape import edges, section
from sweep.tolerance import SAME_POINT

Array = NDArray[np.float64]

MOST_TILT = math.radians(45.0) + 1e-9
"""rad. As far as table saws tilt; common practice."""

LEAST_FACE = 0.01
"""mm. A cut face narrower than this is rounding."""

NOTHING = 1e-3
"""mm2. Two sections that differ by no more are one."""


@dataclass(frozen=True)
class StraightCut:
    """One plane face, as a saw is set to cut it.

    Parameters
    ----------
    down : "table" or "top"
        The face that lies on the saw's table; "table" as for the cove, "top" the moulding's back.
    edge : "left" or "right"
        The edge at the rip fence, named as for the cove.
    distance : float, mm
        From the fence to the blade, at the saw's table.
    tilt : float, rad
        Of the blade from upright, away from the fence.
    height : float, mm
        Of the wood that the blade goes through, from the table up.
    face : float, mm
        How wide the cut face is.
    is_steady : bool
        Whether the piece rests on the table on both sides of its middle, before the cut and after it.
    is_clear : bool
        Whether a blade that comes up along the face from the table takes what is to go, and nothing that stays.
    """

    down: Literal["table", "top"]
    edge: Literal["left", "right"]
    distance: float
    tilt: float
    height: float
    face: float
    is_steady: bool
    is_clear: bool

    @property
    def can_be_sawn(self) -> bool:
        """Whether a table saw can cut it with the piece lying on that face."""
        return self.tilt <= MOST_TILT and self.is_clear


def saw_cuts(one: Finishing) -> list[StraightCut]:
    """Return the cuts of an operation that a table saw can make, piece by piece."""
    match one.operation:
        case Rip():
            pieces = groupby(one.changes, key=lambda change: change.piece)
            found = [cut for _, of_one in pieces for cut in straight_cuts(held(list(of_one)), one.kerf)]
        case Bevel() | Chamfer():
            found = [cut for change in one.changes for cut in straight_cuts(change, one.kerf)]
        case RoundOver() | Rabbet() | SecondCove():
            found = []
        case other:
            assert_never(other)
    return [cut for cut in found if cut.can_be_sawn]


def held(changes: Sequence[Change]) -> Change:
    """Return the part of a ripped piece that lies between fence and blade: of two that are kept the larger one."""
    return max(changes, key=lambda change: section.area(change.after))


def straight_cuts(change: Change, kerf: float) -> tuple[StraightCut, ...]:
    """Return the cuts of a blade that make a change whose new faces are all plane, in the order in which they are made.

    Parameters
    ----------
    change : Change
    kerf : float, mm
    """
    before, cuts = change.before, []
    faces = _new_faces(change)
    beyond = [section.together(edges.beyond(line)) for line in faces]
    gone = before
    for figure in beyond:
        gone = section.minus(gone, figure)
    is_clear = abs(section.area(gone) - section.area(change.after)) < NOTHING
    for line, figure in zip(faces, beyond, strict=True):
        after = section.minus(before, figure)
        cuts.append(_cut(line, before, after, _in_kerf(line, kerf, before), is_clear))
        before = after
    return tuple(cuts)


def _new_faces(change: Change) -> list[edges.Line]:
    """Return the lines of the new faces, what stays on their left; each once, however many pieces of it there are."""
    ring = edges.clean(section.rings(change.after)[0])
    ends = np.roll(ring, -1, axis=0)
    along = ends - ring
    new = ~section.on_outline((ring + ends) / 2, change.before) & (np.hypot(*along.T) > LEAST_FACE)
    lines: list[edges.Line] = []
    for start, end in zip(ring[new], ends[new], strict=True):
        if not any(np.abs(line.distances([start, end])).max() < 10 * SAME_POINT for line in lines):
            y, z = ((end - start) / np.hypot(*(end - start))).tolist()
            lines.append(edges.Line((float(start[0]), float(start[1])), (y, z)))
    return lines


def _in_kerf(line: edges.Line, kerf: float, before: section.Figure) -> NDArray[np.float64]:
    """Return the corners of the wood that the blade goes through, (n, 2) mm; what stays is on the line's left."""
    (y, z), (along, up) = line.point, line.direction
    other = edges.Line((y + kerf * up, z - kerf * along), line.direction)
    strip = section.minus(section.together(edges.beyond(line)), section.together(edges.beyond(other)))
    return np.vstack(section.rings(section.within(before, strip)))


def _cut(
    line: edges.Line, before: section.Figure, after: section.Figure, kerf: NDArray[np.float64], is_clear: bool
) -> StraightCut:
    """Return how a face is cut, the section before and after it, and the corners of what the blade goes through."""
    across, up = line.direction
    stays_left = up > 0
    leans = across if up > 0 else -across  # to the right, as the piece lay for the cove
    upright = abs(across) < SAME_POINT
    away = upright or (leans > 0) == stays_left
    top_down = _is_steady(before, after, True) if upright else not away
    hand = -1.0 if top_down else 1.0  # turned about its length, left and right change sides
    ring = hand * edges.clean(section.rings(before)[0])
    table = ring[:, 1].min()
    face = edges.clean(section.rings(after)[0])
    face = hand * face[np.abs(line.distances(face)) < 10 * SAME_POINT] - (0.0, table)
    at, slope = hand * np.array(line.point) - (0.0, table), across / up if abs(up) > SAME_POINT else math.inf
    foot = float(at[0] - at[1] * slope) if math.isfinite(slope) else math.inf
    stays_at_left = stays_left != top_down
    fence = float(ring[:, 0].min() if stays_at_left else ring[:, 0].max())
    low, high = face[np.argmin(face[:, 1])], face[np.argmax(face[:, 1])]
    return StraightCut(
        down="top" if top_down else "table",
        edge="left" if stays_left else "right",
        distance=abs(foot - fence),
        tilt=math.atan2(abs(across), abs(up)),
        height=float((hand * kerf[:, 1]).max() - table),
        face=float(np.hypot(*(high - low))),
        is_steady=_is_steady(before, after, top_down),
        is_clear=is_clear,
    )


def _is_steady(before: section.Figure, after: section.Figure, top_down: bool) -> bool:
    for figure in (before, after):
        ring = section.rings(figure)[0]
        height = -ring[:, 1] if top_down else ring[:, 1]
        rests = ring[height < height.min() + LEAST_FACE, 0]
        if not rests.min() < section.middle_of(figure) < rests.max():
            return False
    return True
