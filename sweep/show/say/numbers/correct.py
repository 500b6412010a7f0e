"""How a job goes on, in numbers: what `sweep correct --json` prints."""

from __future__ import annotations

from sweep.plan.correct.correction import Correction
from sweep.plan.correct.found import FoundSetting
from sweep.show.say.numbers.model import Head, Numbers, head_of
from sweep.units import degrees

Interval = tuple[float, float] | None


class SetNumbers(Numbers):
    """How fence and blade are set."""

    fence_angle_deg: float
    blade_height_mm: float
    """In the pass that was measured last."""
    offset_mm: float


class IntervalNumbers(Numbers):
    """The least and the most of each at 95 %; null where no measurement tells it."""

    fence_angle_deg: Interval
    blade_height_mm: Interval
    offset_mm: Interval


class AsMeantNumbers(Numbers):
    """Whether each may be set as it was meant, as far as was measured."""

    fence_angle: bool
    blade_height: bool
    offset: bool


class MoveNumbers(Numbers):
    """One mark of the fence, to be moved along its edge of the table."""

    edge: str
    now_mm: float
    """To the right of the blade's plane; at a side edge, beyond the blade's centre."""
    meant_mm: float
    by_mm: float
    """To the right, or at a side edge away from the operator."""
    cove_moves_if_alone_mm: float
    """How far right of its place the cove comes to lie, along the feed, if this mark alone sets the angle right."""


class LeftAloneNumbers(Numbers):
    """What the cove will be if nothing is moved."""

    width_mm: float
    depth_mm: float
    max_deviation_mm: float
    within_tolerance: bool


class ReachNumbers(Numbers):
    """What the target can still be."""

    in_reach: bool
    tolerance_mm: float
    beyond_mm: float
    """How far the cove goes beyond the target already."""
    closest_mm: float
    """How near it can still come: its largest deviation, the fence put right."""
    out_of_reach_from_mm: float | None
    """The blade height from which it is out of reach if the fence stays; null where it never is."""
    perhaps_from_mm: float | None
    """The same where fence angle and offset are as far off as their intervals allow."""


class RemainingPassNumbers(Numbers):
    """A pass that remains, the fence put right."""

    number: int
    height_mm: float
    rise_mm: float
    """From where the blade stands before it."""
    turns: float | None
    """Turns of the wheel from there; null where the lift of a turn is not known."""
    feed_speed_mm_per_s: float
    stop_mm: float | None
    """Travel at which it stops; null when it goes through."""
    width_mm: float
    """Width of the cove after it."""


class CorrectAnswer(Head):
    """What `sweep correct` says."""

    after_pass: int
    set: SetNumbers
    """As it was measured; as it was meant where no measurement tells it."""
    meant: SetNumbers
    """As the scene has it."""
    intervals: IntervalNumbers
    as_meant: AsMeantNumbers
    together: bool
    """Whether the measurements go together, as exact as they are."""
    last_pass_alone: bool
    """Whether only the pass that was measured last counts, for others do not go together with it."""
    moves: tuple[MoveNumbers, ...]
    """Two, or none where the fence does not cross its edges of the table."""
    if_left: LeftAloneNumbers
    target: ReachNumbers
    passes: tuple[RemainingPassNumbers, ...]


def correct_answer(found: Correction) -> CorrectAnswer:
    """Return how a job goes on."""
    every, lift = found.found, found.scene.saw.lift_per_turn
    angle, height, offset = every.fence_angle, every.blade_height, every.offset
    return CorrectAnswer(
        **head_of(found.scene.title),
        after_pass=every.number,
        set=SetNumbers(fence_angle_deg=degrees(angle.value), blade_height_mm=height.value, offset_mm=offset.value),
        meant=SetNumbers(fence_angle_deg=degrees(angle.meant), blade_height_mm=height.meant, offset_mm=offset.meant),
        intervals=IntervalNumbers(
            fence_angle_deg=_interval(angle, degrees(1.0)),
            blade_height_mm=_interval(height),
            offset_mm=_interval(offset),
        ),
        as_meant=AsMeantNumbers(fence_angle=angle.as_meant, blade_height=height.as_meant, offset=offset.as_meant),
        together=every.together,
        last_pass_alone=found.slipped,
        moves=tuple(
            MoveNumbers(
                edge=move.mark.edge,
                now_mm=move.now,
                meant_mm=move.mark.along_edge,
                by_mm=move.by,
                cove_moves_if_alone_mm=move.alone,
            )
            for move in found.moves
        ),
        if_left=LeftAloneNumbers(
            width_mm=found.left.width,
            depth_mm=found.left.depth,
            max_deviation_mm=found.left.deviation,
            within_tolerance=found.left.deviation <= found.tolerance,
        ),
        target=ReachNumbers(
            in_reach=found.in_reach,
            tolerance_mm=found.tolerance,
            beyond_mm=found.beyond,
            closest_mm=found.closest,
            out_of_reach_from_mm=found.out_from,
            perhaps_from_mm=found.perhaps_from,
        ),
        passes=tuple(
            RemainingPassNumbers(
                number=number,
                height_mm=one.height,
                rise_mm=one.rise,
                turns=None if lift is None else one.rise / lift,
                feed_speed_mm_per_s=one.feed_speed,
                stop_mm=one.stop,
                width_mm=one.width,
            )
            for number, one in enumerate(found.passes, start=every.number + 1)
        ),
    )


def _interval(one: FoundSetting, unit: float = 1.0) -> Interval:
    return None if one.half is None else (unit * (one.value - one.half), unit * (one.value + one.half))
