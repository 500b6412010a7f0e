"""How the fence is set, in numbers; x is to the right of the blade's plane, y beyond its centre."""

from __future__ import annotations

from sweep.cut.fence import Strips, Touch, fence_on_table, pull_on_fence
from sweep.cut.job import Job
from sweep.cut.lines_on_table import FeedLine, TapeMark
from sweep.cut.room_on_saw import room_on_table, throat_needed
from sweep.show.say.numbers.model import Numbers
from sweep.units import degrees


class PlaceNumbers(Numbers):
    """A place on the table."""

    x_mm: float
    y_mm: float


class MarkNumbers(PlaceNumbers):
    """A point where a line crosses an edge of the table, or a line beside the blade where the scene has no table."""

    edge: str
    from_front_edge_mm: float | None
    from_slots_mm: tuple[float, ...]
    """From the nearest edge of each mitre slot, to the right."""


class LineNumbers(Numbers):
    """A line along the feed."""

    across_mm: float
    """From the blade's centre, square to the feed, to the right."""
    marks: tuple[MarkNumbers, ...]
    difference_mm: float | None
    """Between what the two marks measure; null where they are not on opposite edges."""
    turn_deg_per_mm: float | None
    """How far 1 mm wrong at one mark turns the line."""


class StripsNumbers(Numbers):
    """Two parallel strips along the feed that both touch the rim."""

    gap_mm: float
    left: PlaceNumbers
    right: PlaceNumbers
    turn_deg_per_mm: float | None


class TouchNumbers(PlaceNumbers):
    """The place where the rim just touches the end of a set-up block."""

    where: str
    travel_mm: float
    """How far the block's end has gone past the blade's centre."""
    from_fence_mm: float
    height_mm: float


class FenceNumbers(Numbers):
    """How the fence is set and what that takes of the saw."""

    angle_deg: float
    side: str
    measured_at_table_edges: bool
    face: LineNumbers
    other_edge: LineNumbers
    """The stock's other edge: a second fence, or featherboards."""
    clear_of_blade_mm: float
    """Negative where the blade cuts into the fence."""
    other_edge_clear_of_blade_mm: float
    strips: StripsNumbers | None
    touches: tuple[TouchNumbers, ...]
    into_fence_least_n: float | None
    """Over the passes, usual values; negative is off the fence."""
    into_fence_most_n: float | None
    into_fence_low_n: float | None
    """The band of the estimate."""
    into_fence_high_n: float | None
    throat_length_needed_mm: float
    throat_width_needed_mm: float
    fence_length_needed_mm: float | None
    fence_off_table_mm: float | None
    support_before_needed_mm: float | None
    support_after_needed_mm: float | None


def fence_numbers(job: Job) -> FenceNumbers:
    """Return every figure of the fence."""
    scene = job.scene
    layout, room, pull = fence_on_table(scene), room_on_table(scene), pull_on_fence(job.loads)
    long, wide = throat_needed(scene)
    front = scene.saw.front_to_blade
    return FenceNumbers(
        angle_deg=degrees(layout.angle),
        side=layout.side,
        measured_at_table_edges=layout.on_table,
        face=_line(layout.face, front),
        other_edge=_line(layout.opposite, front),
        clear_of_blade_mm=layout.clear,
        other_edge_clear_of_blade_mm=layout.clear_opposite,
        strips=None if layout.strips is None else _strips(layout.strips),
        touches=tuple(map(_touch, layout.touches)),
        into_fence_least_n=None if pull is None else pull.least,
        into_fence_most_n=None if pull is None else pull.most,
        into_fence_low_n=None if pull is None else pull.low,
        into_fence_high_n=None if pull is None else pull.high,
        throat_length_needed_mm=long,
        throat_width_needed_mm=wide,
        fence_length_needed_mm=None if room is None else room.fence_length,
        fence_off_table_mm=None if room is None else room.fence_missing,
        support_before_needed_mm=None if room is None else max(0.0, room.before),
        support_after_needed_mm=None if room is None else max(0.0, room.after),
    )


def _line(line: FeedLine, front: float | None) -> LineNumbers:
    return LineNumbers(
        across_mm=line.across,
        marks=tuple(_mark(mark, front) for mark in line.marks),
        difference_mm=line.difference,
        turn_deg_per_mm=None if line.turn is None else degrees(line.turn),
    )


def _mark(mark: TapeMark, front: float | None) -> MarkNumbers:
    return MarkNumbers(
        edge=mark.edge,
        x_mm=mark.x,
        y_mm=mark.y,
        from_front_edge_mm=None if front is None else mark.y + front,
        from_slots_mm=tuple(mark.from_slots),
    )


def _strips(strips: Strips) -> StripsNumbers:
    return StripsNumbers(
        gap_mm=strips.gap,
        left=PlaceNumbers(x_mm=strips.left[0], y_mm=strips.left[1]),
        right=PlaceNumbers(x_mm=strips.right[0], y_mm=strips.right[1]),
        turn_deg_per_mm=None if strips.turn is None else degrees(strips.turn),
    )


def _touch(touch: Touch) -> TouchNumbers:
    return TouchNumbers(
        where=touch.where,
        travel_mm=touch.travel,
        from_fence_mm=touch.from_fence,
        height_mm=touch.height,
        x_mm=touch.at[0],
        y_mm=touch.at[1],
    )
