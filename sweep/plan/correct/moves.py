"""How a fence that stands wrong is put right: how far each of its two marks is moved along its edge of the table."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.cut.fence import fence_on_table
from sweep.cut.lines_on_table import BESIDE, TapeMark
from sweep.scene.model import SetUpScene


@dataclass(frozen=True)
class Move:
    """One mark of the fence.

    Parameters
    ----------
    mark : TapeMark
        Where the fence's face belongs.
    now : float, mm
        Where it crosses that edge now, counted along the edge as `TapeMark.along_edge` is.
    alone : float, mm
        How far the cove comes to lie to the right of where it belongs, seen along the feed, if the fence is turned to
        its angle by moving this mark alone, the other left where it is.
    """

    mark: TapeMark
    now: float
    alone: float

    @property
    def by(self) -> float:
        """How far it is to be moved along its edge, mm: to the right, or away from the operator at a side edge."""
        return self.mark.along_edge - self.now


def moves_of_fence(scene: SetUpScene, fence_angle: float, offset: float, beside: float = BESIDE) -> tuple[Move, ...]:
    """Return the moves that bring a fence from where it stands to where the scene has it.

    Parameters
    ----------
    scene : SetUpScene
        As it was meant.
    fence_angle, offset : float, rad and mm
        As it stands.
    beside : float, mm
        Where the scene has no table: how far from the blade's centre its marks are.

    Returns
    -------
    tuple of Move
        Two; none where the fence misses the table, or does not cross the same edges as it should.
    """
    meant = scene.setup.offset
    face = fence_on_table(scene, beside).face
    across = face.across + offset - meant
    marks = face.marks
    crossed = [_crossing(fence_angle, across, mark) for mark in marks]
    now = [place for place in crossed if place is not None]
    if len(marks) != 2 or len(now) != 2:
        return ()
    stands = [
        (at, mark.y) if mark.edge in ("front", "rear") else (mark.x, at) for mark, at in zip(marks, now, strict=True)
    ]
    right, away = scene.feed.across[:2].tolist()
    # the stock goes to the right with its fence, and the cove comes to lie further to the left on it
    alone = [face.across - (x * right + y * away) for x, y in reversed(stands)]
    return tuple(Move(mark, at, by) for mark, at, by in zip(marks, now, alone, strict=True))


def _crossing(fence_angle: float, across: float, mark: TapeMark) -> float | None:
    """Return where a line along the feed crosses a mark's edge, counted along it, mm; None where it runs along it."""
    sin, cos = math.sin(fence_angle), math.cos(fence_angle)
    if mark.edge in ("front", "rear"):
        return None if cos < 1e-3 else (across + mark.y * sin) / cos
    return None if sin < 1e-3 else (mark.x * cos - across) / sin
