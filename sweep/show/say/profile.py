"""How the finished profile lies to the one wanted, and what the teeth leave on it to sand."""

from __future__ import annotations

from sweep.check.judge import Outcome
from sweep.check.setups import Verdict
from sweep.check.whole import LeftAbove, WholeCheck
from sweep.cut.surface import Surface
from sweep.units import Units


def verdict_of(outcome: Outcome | Verdict, units: Units) -> str:
    """Return how the profile lies to the target, in one sentence; to a whole moulding, in a few."""
    if outcome.whole is not None:
        return _whole_verdict(outcome.whole, units)
    profile = outcome.profile
    if profile is None:
        return "No target in the scene: the profile was not compared."
    y, _, deviation = profile.worst
    side = "wood left" if deviation > 0 else "cut too deep"
    verdict = "Profile within" if profile.within_tolerance else "Profile OUT OF"
    return (
        f"{verdict} tolerance: at most {units.fine(profile.max_deviation)} from the target "
        f"({side}, {units.nearest(abs(y))} {'right' if y > 0 else 'left'} of the centreline), "
        f"RMS {units.fine(profile.rms_deviation)}, tolerance {units.bound(profile.tolerance)}."
    )


def _whole_verdict(whole: WholeCheck, units: Units) -> str:
    """Return what is cut into the moulding, what share of the waste is gone, and what is left for which tool."""
    sentences = ["Nothing is cut into the profile."]
    if whole.deepest_cut > 0:
        within = "within" if whole.is_whole else "MORE THAN"
        sentences = [
            f"The deepest cut into the profile is {units.fine(whole.deepest_cut)}, "
            f"{_place(whole.deepest_at, units)}, {within} the tolerance of {units.fine(whole.tolerance)}."
        ]
    sentences.append(
        f"Of the waste {100 * whole.waste_share:.1f} % is gone (all but {units.fine(whole.leave)} above the profile is "
        f"waste). The thickest wood left is {units.length(whole.thickest_left)}, {_place(whole.thickest_at, units)}."
    )
    if whole.left:
        sentences.append(f"Still to take: {' and '.join(_work(left, units) for left in whole.left)}.")
    return " ".join(sentences)


def _work(left: LeftAbove, units: Units) -> str:
    tools = {"plane": "with a plane on flats and rounds", "scraper": "with a scraper in hollows and inner corners"}
    return f"{units.area(left.area)} {tools[left.tool]} (at most {units.length(left.thickest)} thick)"


def _place(where: tuple[float, float], units: Units) -> str:
    y, z = where
    return f"{units.length(abs(y))} {'right' if y > 0 else 'left'} of the centreline and {units.length(z)} up"


def marks_of(surface: Surface, units: Units) -> str:
    """Return what the last pass leaves to sand, in one sentence; nothing where it leaves nothing."""
    if surface.largest <= 0:
        return ""
    highest = units.fine(surface.largest)
    band = f"at most {highest}"
    if surface.largest > surface.equal:
        band = f"{units.fine(surface.equal)} (teeth that run true) to {highest} (with run-out and wobble)"
    where = "walls" if surface.of_rip else "flanks"
    turn = ", one each turn" if surface.spacing > 2.5 * surface.feed_per_tooth else ""
    return (
        f"Tooth marks of the last pass: ridges of {band}, every {units.minute(surface.spacing)}{turn}, highest on the "
        f"{where}. Sand {highest} deep, from {_grit(surface.largest)} grit on (common practice); tear-out is not in it."
    )


def _grit(ridge: float) -> int:
    """Return the grit to start from for ridges of some height, mm: common practice."""
    return next((grit for above, grit in ((0.1, 80), (0.05, 100), (0.02, 120)) if ridge > above), 150)
