"""The finished profile in numbers: how it lies to the target, and what the teeth leave on it."""

from __future__ import annotations

from typing import Any

from sweep.check.judge import Outcome
from sweep.check.profile import ProfileCheck
from sweep.check.setups import Verdict
from sweep.check.whole import WholeCheck
from sweep.cut.surface import Surface
from sweep.show.say.numbers.model import Numbers


class WorstNumbers(Numbers):
    """Where the deviation is the largest, and how large it is there."""

    y_mm: float
    z_mm: float
    deviation_mm: float
    """Positive where wood is left."""


class PointNumbers(Numbers):
    """A place in the section."""

    y_mm: float
    z_mm: float


class LeftNumbers(Numbers):
    """The wood left above a whole moulding that one kind of tool takes."""

    tool: str
    """`plane` above flats and rounds, `scraper` in hollows and inner corners."""
    area_mm2: float
    thickest_mm: float
    thickest_at: PointNumbers


class CheckNumbers(Numbers):
    """How the profile lies to the target; null where the scene names none.

    Of a target that is one cove the first six are told, of a whole moulding `tolerance_mm`, `within_tolerance` and the
    others.
    """

    max_deviation_mm: float | None
    """The largest either way."""
    rms_deviation_mm: float | None
    tolerance_mm: float | None
    within_tolerance: bool | None
    worst: WorstNumbers | None
    station_mm: float | None
    """Behind the leading end, where they were compared."""
    deepest_cut_mm: float | None
    """The deepest cut into a whole moulding; 0 where there is none."""
    deepest_cut_at: PointNumbers | None
    """Null where there is none."""
    thickest_left_mm: float | None
    """The most that stands above it."""
    thickest_left_at: PointNumbers | None
    waste_area_mm2: float | None
    """The stock's section without the moulding and what is to be left above it (`plan.leave`)."""
    waste_share: float | None
    """How much of that is gone."""
    left: tuple[LeftNumbers, ...] | None


class SurfaceNumbers(Numbers):
    """The tooth marks that the last pass leaves."""

    ridge_height_mm: float
    spacing_mm: float
    sanding_depth_mm: float
    ridge_per_feed_per_tooth: float


def check_numbers(outcome: Outcome | Verdict) -> CheckNumbers:
    """Return how the profile lies to the target."""
    told: dict[str, Any] = dict.fromkeys(CheckNumbers.model_fields)
    if outcome.profile is not None:
        told |= _of_a_cove(outcome.profile)
    if outcome.whole is not None:
        told |= _of_a_moulding(outcome.whole)
    return CheckNumbers(**told)


def _of_a_moulding(whole: WholeCheck) -> dict[str, Any]:
    return {
        "tolerance_mm": whole.tolerance,
        "within_tolerance": whole.is_whole,
        "deepest_cut_mm": whole.deepest_cut,
        "deepest_cut_at": _place(whole.deepest_at) if whole.deepest_cut > 0 else None,
        "thickest_left_mm": whole.thickest_left,
        "thickest_left_at": _place(whole.thickest_at),
        "waste_area_mm2": whole.waste_area,
        "waste_share": whole.waste_share,
        "left": tuple(
            LeftNumbers(tool=left.tool, area_mm2=left.area, thickest_mm=left.thickest, thickest_at=_place(left.where))
            for left in whole.left
        ),
    }


def _place(where: tuple[float, float]) -> PointNumbers:
    return PointNumbers(y_mm=where[0], z_mm=where[1])


def _of_a_cove(profile: ProfileCheck) -> dict[str, Any]:
    y, z, deviation = profile.worst
    return dict(
        max_deviation_mm=profile.max_deviation,
        rms_deviation_mm=profile.rms_deviation,
        tolerance_mm=profile.tolerance,
        within_tolerance=profile.within_tolerance,
        worst=WorstNumbers(y_mm=y, z_mm=z, deviation_mm=deviation),
        station_mm=profile.station,
    )


def surface_numbers(surface: Surface) -> SurfaceNumbers:
    """Return the tooth marks."""
    return SurfaceNumbers(
        ridge_height_mm=surface.largest,
        spacing_mm=surface.spacing,
        sanding_depth_mm=surface.sanding_depth,
        ridge_per_feed_per_tooth=surface.ridge_per_feed,
    )
