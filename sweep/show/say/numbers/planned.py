"""What was worked out, in numbers: the blades at their best, a second look, the pass plan, and the care needed."""

from __future__ import annotations

from sweep.plan.accuracy import ANGLES, Care
from sweep.plan.dense import DenseCheck
from sweep.plan.heights import PassPlan, PlannedPass
from sweep.plan.setup import Candidate
from sweep.show.say.numbers.model import Numbers
from sweep.units import Units, degrees


class HeldNumbers(Numbers):
    """A place at which the deviation of a fit is the largest."""

    y_mm: float
    deviation_mm: float
    """Positive where wood is left."""


class CandidateNumbers(Numbers):
    """One blade, set as close to the target as it can be."""

    blade: str
    fence_angle_deg: float
    blade_height_mm: float
    blade_tilt_deg: float
    offset_mm: float
    deviation_mm: float
    """The largest either way."""
    held_at: tuple[HeldNumbers, ...]
    at_limit: tuple[str, ...]
    """Settings that would go further if they could."""
    stopped_by: str
    """What keeps it from coming within tolerance, in the maker's units; empty where nothing does."""


class DenseCheckNumbers(Numbers):
    """A look at every set-up of a fine grid that could be closer."""

    looked_at: int
    closest_mm: float | None
    """The least deviation among them; null where there were none."""


class PlannedPassNumbers(Numbers):
    """One pass of a plan."""

    number: int
    height_mm: float
    rise_mm: float
    burden: float
    """The largest of its shares of the limits, 1 at a limit."""
    governed_by: str


class PassPlanNumbers(Numbers):
    """Planned passes, and as many even rises beside them."""

    feed_speed_mm_per_s: float
    last_feed_speed_mm_per_s: float | None
    feed_limited: bool
    """Whether a feed was changed to keep shavings neither too thick nor too thin."""
    passes: tuple[PlannedPassNumbers, ...]
    even: tuple[PlannedPassNumbers, ...]


class EffectNumbers(Numbers):
    """What one setting does when it alone is wrong by its error, one standard deviation."""

    setting: str
    error_deg: float | None
    error_mm: float | None
    width_mm: float
    depth_mm: float
    place_mm: float
    """How far the cove moves to the right."""
    shape_mm: float
    """How much further the cove lies off the target, its place apart, whichever way the setting errs."""


class CareNumbers(Numbers):
    """How exactly the saw must be set: shape and place of the cove apart."""

    effects: tuple[EffectNumbers, ...]
    """The setting that spoils the shape most first."""
    beside_mm: float
    """How far to the right of where it comes closest to the target the cove lies where nothing errs."""
    exact_shape_mm: float
    """How far the cove lies off the target, its place apart, where nothing errs."""
    within_in_shape: float
    """Share of the chance set-ups that come within tolerance in shape."""
    place_mm: float
    """How near to its place the cove lies, either way, in 95 of 100 of them."""
    set_ups: int
    seed: int
    most_care: str | None
    """Null where nothing comes within tolerance."""


def candidate_numbers(candidates: tuple[Candidate, ...], units: Units) -> tuple[CandidateNumbers, ...]:
    """Return every blade at its best, the closest first."""
    return tuple(
        CandidateNumbers(
            blade=one.blade.name,
            fence_angle_deg=degrees(one.fit.fence_angle),
            blade_height_mm=one.fit.blade_height,
            blade_tilt_deg=degrees(one.fit.blade_tilt),
            offset_mm=one.fit.offset,
            deviation_mm=one.fit.deviation,
            held_at=tuple(HeldNumbers(y_mm=y, deviation_mm=gap) for y, gap in one.fit.tight),
            at_limit=tuple(one.fit.at_limit),
            stopped_by="" if one.stopped_by is None else one.stopped_by.said(not units.metric),
        )
        for one in candidates
    )


def dense_check_numbers(check: DenseCheck | None) -> DenseCheckNumbers | None:
    """Return the second look; None where there was none."""
    return (
        None
        if check is None
        else DenseCheckNumbers(looked_at=check.looked_at, closest_mm=check.closest if check.looked_at else None)
    )


def pass_plan_numbers(plan: PassPlan | None) -> PassPlanNumbers | None:
    """Return the pass plan; None where the scene has its passes."""
    return (
        None
        if plan is None
        else PassPlanNumbers(
            feed_speed_mm_per_s=plan.passes.feed_speed,
            last_feed_speed_mm_per_s=plan.passes.last_feed_speed,
            feed_limited=plan.feed_limited,
            passes=_planned(plan.planned),
            even=_planned(plan.even),
        )
    )


def care_numbers(care: Care | None) -> CareNumbers | None:
    """Return the care needed; None without a target."""
    return (
        None
        if care is None
        else CareNumbers(
            effects=tuple(
                EffectNumbers(
                    setting=effect.setting,
                    error_deg=degrees(effect.error) if effect.setting in ANGLES else None,
                    error_mm=None if effect.setting in ANGLES else effect.error,
                    width_mm=effect.width,
                    depth_mm=effect.depth,
                    place_mm=effect.place,
                    shape_mm=effect.shape,
                )
                for effect in care.effects
            ),
            beside_mm=care.beside,
            exact_shape_mm=care.exact,
            within_in_shape=care.within,
            place_mm=care.place,
            set_ups=care.set_ups,
            seed=care.seed,
            most_care=care.most_care,
        )
    )


def _planned(passes: tuple[PlannedPass, ...]) -> tuple[PlannedPassNumbers, ...]:
    return tuple(
        PlannedPassNumbers(
            number=number, height_mm=one.height, rise_mm=one.rise, burden=one.burden, governed_by=one.governed_by
        )
        for number, one in enumerate(passes, start=1)
    )
