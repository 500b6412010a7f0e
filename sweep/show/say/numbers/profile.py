"""The finished profile in numbers: how it lies to the target, and what the teeth leave on it."""

from __future__ import annotations

from sweep.check.profile import ProfileCheck
from sweep.cut.surface import Surface
from sweep.show.say.numbers.model import Numbers


class WorstNumbers(Numbers):
    """Where the deviation is the largest, and how large it is there."""

    y_mm: float
    z_mm: float
    deviation_mm: float
    """Positive where wood is left."""


class CheckNumbers(Numbers):
    """How the profile lies to the target; null where the scene names none."""

    max_deviation_mm: float | None
    """The largest either way."""
    rms_deviation_mm: float | None
    tolerance_mm: float | None
    within_tolerance: bool | None
    worst: WorstNumbers | None
    station_mm: float | None
    """Behind the leading end, where they were compared."""


class SurfaceNumbers(Numbers):
    """The tooth marks that the last pass leaves."""

    ridge_height_mm: float
    spacing_mm: float
    sanding_depth_mm: float
    ridge_per_feed_per_tooth: float


def check_numbers(profile: ProfileCheck | None) -> CheckNumbers:
    """Return how the profile lies to the target."""
    if profile is None:
        return CheckNumbers(**dict.fromkeys(CheckNumbers.model_fields))
    y, z, deviation = profile.worst
    return CheckNumbers(
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
