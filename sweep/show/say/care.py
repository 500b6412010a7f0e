"""How exactly the saw must be set: what a small error of each setting does, and how often all together spoil it."""

from __future__ import annotations

from sweep.plan.accuracy import STEPS, Care, Effect
from sweep.scene.limits import Accuracy
from sweep.show.say.table import Column, Table
from sweep.units import MM_PER_INCH, Shown, Units, degrees

HEADINGS = ("width", "depth", "deviation")


def care_table(care: Care, units: Units) -> Table:
    """Return what a step of each setting changes, one row a setting."""
    rows = (
        (
            f"{effect.setting} {step_of(effect, units)}",
            *(_change(mm, units) for mm in (effect.width, effect.depth, effect.deviation)),
        )
        for effect in care.effects
    )
    return Table((Column("a setting larger by", left=True), *map(Column, HEADINGS)), tuple(rows))


def step_of(effect: Effect, units: Units) -> str:
    """Return by how much a setting is moved; a tenth of a mm is 4 thousandths of an inch to within 2 %."""
    if units.metric or not effect.step.endswith(" mm"):
        return effect.step
    return f"{STEPS[effect.setting][1] / MM_PER_INCH:.3f} in"


def chances_of(care: Care, accuracy: Accuracy, units: Units) -> str:
    """Return how often a set-up comes within tolerance, with the errors that it is set with."""
    height, kerf, offset = (_small(mm, units) for mm in (accuracy.blade_height, accuracy.kerf, accuracy.offset))
    return (
        f"{100 * care.within:.0f} % of {care.set_ups} chance set-ups come within tolerance (seed {care.seed}), set to "
        f"within {degrees(accuracy.fence_angle):.2g} deg of fence angle, {height} of height, "
        f"{degrees(accuracy.blade_tilt):.2g} deg of tilt, {kerf} of kerf and {offset} of offset (one standard "
        "deviation each)."
    )


def most_care_of(care: Care) -> str:
    """Return which setting wants most care."""
    return f"Take most care with the {care.most_care}."


def _small(mm: float, units: Units) -> Shown:
    """Return a small length: 0.001 mm or a tenth of a thousandth of an inch."""
    return Shown(f"{mm:.3f}", "mm") if units.metric else Shown(f"{mm / MM_PER_INCH:.4f}", "in")


def _change(mm: float, units: Units) -> Shown:
    shown = _small(abs(mm), units)
    return shown if float(shown.figure) == 0 else shown.signed("-" if mm < 0 else "+")
