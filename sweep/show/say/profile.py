"""How the finished profile lies to the one wanted, and what the teeth leave on it to sand."""

from __future__ import annotations

from sweep.check.profile import ProfileCheck
from sweep.cut.surface import Surface
from sweep.units import Units


def verdict_of(profile: ProfileCheck | None, units: Units) -> str:
    """Return how the profile lies to the target, in one sentence."""
    if profile is None:
        return "No target in the scene: the profile was not compared."
    y, _, deviation = profile.worst
    side = "wood left" if deviation > 0 else "cut too deep"
    verdict = "Profile within" if profile.within_tolerance else "Profile OUT OF"
    return (
        f"{verdict} tolerance: at most {units.fine(profile.max_deviation)} from the target "
        f"({side}, {units.length(abs(y))} {'right' if y > 0 else 'left'} of the centreline), "
        f"RMS {units.fine(profile.rms_deviation)}, tolerance {units.fine(profile.tolerance)}."
    )


def marks_of(surface: Surface, units: Units) -> str:
    """Return what the last pass leaves to sand, in one sentence; nothing where it leaves nothing."""
    if surface.largest <= 0:
        return ""
    return (
        f"Tooth marks of the last pass: ridges of at most {units.written(surface.largest)} every "
        f"{units.written(surface.spacing)}, highest on the flanks, to sand away; they grow with the feed "
        "(run-out only as given, tear-out not in it)."
    )
