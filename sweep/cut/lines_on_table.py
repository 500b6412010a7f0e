"""Straight lines along the feed on the saw table, measured where a tape measure can be hooked: at the table's edges.

Machine frame: x to the right of the blade's mid-plane as it passes the table, y away from the operator, the
blade's centre at 0. A line along the feed is known by how far it runs across from there, to the right
looking along the feed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.scene.model import SetUpScene
from sweep.shape.feed import StraightFeed

BESIDE = 250.0
"""mm. Where the scene has no table: how far from the blade's centre, either way, a line is measured."""

Box = tuple[float, float, float, float]
"""Left and right, x, then front and rear, y, of a rectangle on the table, mm."""


@dataclass(frozen=True)
class TapeMark:
    """A point where a line along the feed crosses an edge of the table.

    Parameters
    ----------
    edge : str
        ``"front"``, ``"rear"``, ``"left"`` or ``"right"``.
    x, y : float, mm
        To the right of the blade's plane, and beyond its centre.
    from_slots : tuple of float, mm
        To the right of the nearest edge of each mitre slot; empty at the left and right edges.
    """

    edge: str
    x: float
    y: float
    from_slots: tuple[float, ...]

    @property
    def along_edge(self) -> float:
        """Which of x and y changes along its edge, mm: at the front and rear x, at the sides y."""
        return self.x if self.edge in ("front", "rear") else self.y


@dataclass(frozen=True)
class FeedLine:
    """A straight line along the feed.

    Parameters
    ----------
    across : float, mm
        From the blade's centre.
    marks : tuple of TapeMark
        Where it comes onto the table and where it leaves it; none when it misses the table.
    turn : float or None, rad/mm
        How far it turns when one of the marks is set 1 mm wrong along its edge; None without marks.
    """

    across: float
    marks: tuple[TapeMark, ...]
    turn: float | None

    @property
    def difference(self) -> float | None:
        """How much further the second mark lies along its edge, mm; None where the edges are not parallel."""
        if [mark.edge for mark in self.marks] not in (["front", "rear"], ["left", "right"]):
            return None
        return self.marks[1].along_edge - self.marks[0].along_edge


def measured_between(scene: SetUpScene, beside: float) -> Box:
    """Return the edges at which lines are measured: the table's, or lines either side of the blade's centre.

    Without a table, lines across the saw up to 45 deg, and beyond that lines along it: the nearer ones.
    """
    if scene.saw.edges is not None:
        return scene.saw.edges
    if scene.feed.fence_angle <= math.pi / 4:
        return -math.inf, math.inf, -beside, beside
    return -beside, beside, -math.inf, math.inf


def along_box(box: Box, feed: StraightFeed, across: float) -> tuple[float, float] | None:
    """Return where a line along the feed comes onto a rectangle and where it leaves it, or None where it misses it.

    Returns
    -------
    (float, float), mm
        Along the feed, from abreast of the blade's centre.
    """
    first, last = -math.inf, math.inf
    for least, most, foot, rate in zip(box[::2], box[1::2], across * feed.across, feed.direction, strict=False):
        if rate > 0:
            first, last = max(first, (least - foot) / rate), min(last, (most - foot) / rate)
        elif not least <= foot <= most:
            return None
    return (float(first), float(last)) if first < last else None


def line_on_table(scene: SetUpScene, across: float, beside: float = BESIDE) -> FeedLine:
    """Return a line with its marks.

    Parameters
    ----------
    scene : SetUpScene
    across : float, mm
    beside : float, mm
        Where the scene has no table: how far from the blade's centre to measure.
    """
    feed, box = scene.feed, measured_between(scene, beside)
    ends = along_box(box, feed, across)
    if ends is None:
        return FeedLine(across, (), None)
    marks = []
    for end, x_edge, y_edge, names in zip(ends, box[:2], box[2:], (("left", "front"), ("right", "rear")), strict=True):
        x, y, _ = (across * feed.across + end * feed.direction).tolist()
        if abs(x - x_edge) < abs(y - y_edge):
            marks.append(TapeMark(names[0], x_edge, y, ()))
        else:
            marks.append(TapeMark(names[1], x, y_edge, tuple(x - slot for slot in scene.saw.slots)))
    # a mark moved along its edge moves the line across by the cosine or the sine of the angle
    share = max(abs(feed.across[0 if mark.edge in ("front", "rear") else 1]) for mark in marks)
    return FeedLine(across, tuple(marks), float(share / (ends[1] - ends[0])))
