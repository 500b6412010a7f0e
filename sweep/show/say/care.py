"""How exactly the saw must be set: what a usual error of each setting does, and how often all together spoil it."""

from __future__ import annotations

from sweep.plan.accuracy import ANGLES, Care, Effect
from sweep.scene.limits import Accuracy
from sweep.show.say.table import Column, Table
from sweep.shown import Shown
from sweep.units import MM_PER_INCH, Units, degrees

HEADINGS = ("width", "depth", "place", "shape")


def care_table(care: Care, units: Units) -> Table:
    """Return what the usual error of each setting changes, one row a setting, the worst for the shape first."""
    rows = (
        (
            f"{effect.setting} {error_of(effect, units)}",
            *(_change(mm, units) for mm in (effect.width, effect.depth, effect.place, effect.shape)),
        )
        for effect in care.effects
    )
    return Table((Column("a setting larger by", left=True), *map(Column, HEADINGS)), tuple(rows))


def error_of(effect: Effect, units: Units) -> Shown:
    """Return by how much a setting is usually wrong."""
    return Shown(f"{degrees(effect.error):.2g}", "deg") if effect.setting in ANGLES else _about(effect.error, units)


def care_sentences(care: Care, accuracy: Accuracy, units: Units) -> list[str]:
    """Return what the table means, how often a set-up comes within tolerance, and which setting wants most care."""
    apart, taped = care.errors.apart, ""
    if apart is not None:
        taped = (
            f"; the angle's is {_about(accuracy.tape, units)} of tape at each of two marks {units.tape(apart)} apart"
        )
    return [
        "Shape: how much further off the target, whichever way the setting errs; place: how far the cove moves to "
        "the right. The offset moves it and leaves its shape.",
        f"{_share(care)} of {care.set_ups} chance set-ups come within tolerance in shape, each setting wrong by its "
        f"error in the table (one standard deviation{taped}; seed {care.seed}). The cove lies within "
        f"{units.tape(care.place)} of its place in 95 of 100.",
        *_beside(care, units),
        *_beyond(care, units),
        most_care_of(care),
    ]


def most_care_of(care: Care) -> str:
    """Return which setting wants most care, or that care does not help."""
    if care.beyond:
        return "More care with the settings does not mend the shape."
    if care.most_care is None:
        return "None comes within tolerance: set it far more exactly, or widen the tolerance."
    return f"Take most care with the {care.most_care}."


def _beside(care: Care, units: Units) -> list[str]:
    """Return how far from its place the cove is meant to lie, where that alone would be out of tolerance."""
    if abs(care.beside) <= care.tolerance:
        return []
    side = "right" if care.beside > 0 else "left"
    return [
        f"As it is set, the cove lies {units.nearest(abs(care.beside))} to the {side} of where it fits the target "
        "best: that is its place, and wants another offset."
    ]


def _beyond(care: Care, units: Units) -> list[str]:
    """Return how far off the shape lies however exactly it is set, where that is out of tolerance."""
    if not care.beyond:
        return []
    return [
        f"However exactly it is set, the shape lies {_about(care.exact, units)} off the target, and "
        f"{_about(care.tolerance, units)} is allowed."
    ]


def _share(care: Care) -> str:
    """Return the share within tolerance; neither none nor all where it is only nearly so."""
    if 0 < care.within < 0.005:
        return "Fewer than 1 %"
    if 0.995 < care.within < 1:
        return "More than 99 %"
    return f"{100 * care.within:.0f} %"


def _about(mm: float, units: Units) -> Shown:
    """Return a length that is known roughly, to two figures."""
    if units.metric:
        return Shown(f"{mm:.2g}", "mm")
    fraction = units.bound(mm)
    return fraction if fraction.unit == "in" else Shown(f"{mm / MM_PER_INCH:.2g}", "in")


def _change(mm: float, units: Units) -> Shown:
    """Return a small change with its sign: 0.01 mm, or thousandths of an inch."""
    shown = Shown(f"{abs(mm):.2f}", "mm") if units.metric else Shown(f"{abs(mm) / MM_PER_INCH:.3f}", "in")
    return shown if float(shown.figure) == 0 else shown.signed("-" if mm < 0 else "+")
