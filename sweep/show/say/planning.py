"""What was worked out for a scene: the blades at their best, a second look at the first, and the pass plan."""

from __future__ import annotations

from sweep.plan.dense import DenseCheck
from sweep.plan.heights import PassPlan
from sweep.plan.setup import Candidate
from sweep.scene.plan import Plan
from sweep.show.say.table import Column, Table
from sweep.units import Shown, Units, degrees

NOTHING_LEFT_OUT = "Nothing is left to work out: the scene has its set-up and its passes. 'sweep run' cuts it."


def candidates_table(candidates: tuple[Candidate, ...], units: Units) -> Table:
    """Return every blade at its best, the closest first."""
    rows = (
        (
            f"{place}",
            name_of(one),
            _angle(one.fit.fence_angle),
            units.length(one.fit.blade_height),
            _angle(one.fit.blade_tilt + 0.0),
            units.length(one.fit.offset + 0.0),
            units.fine(one.fit.deviation),
            "within" if one.stopped_by is None else "! beyond",
        )
        for place, one in enumerate(candidates, start=1)
    )
    headings = ("", "blade", "fence", "height", "tilt", "offset", "deviation", "tolerance")
    words = ("", "blade", "tolerance")
    return Table(tuple(Column(heading, left=heading in words) for heading in headings), tuple(rows))


def name_of(one: Candidate) -> str:
    """Return a blade's name, or words for one that has none."""
    return one.blade.name or "the blade"


def stopped_by(candidates: tuple[Candidate, ...], units: Units) -> list[str]:
    """Return what keeps each blade that is beyond tolerance from coming closer, one sentence a blade."""
    return [
        f"! {name_of(one)} comes no closer: {one.stopped_by.said(not units.metric)}."
        for one in candidates
        if one.stopped_by is not None
    ]


def held_by(best: Candidate, units: Units) -> str:
    """Return where the closest fit is held, in one sentence."""
    if not best.fit.tight:
        return "Exact: the curve goes through both edges and the depth."
    held = ", ".join(f"{units.nearest(y)} ({units.fine(gap)})" for y, gap in best.fit.tight)
    return f"The curve of the first lies furthest off at y = {held}; positive where wood is left."


def dense_check_of(check: DenseCheck, best: Candidate, units: Units) -> str:
    """Return what a look at a fine grid of set-ups found, beside the best fit."""
    if check.looked_at == 0:
        return "Dense check: depth and edges rule out every other set-up of a fine grid."
    if check.closest < best.fit.deviation:
        return (
            f"! Dense check: one of {check.looked_at} set-ups of a fine grid comes closer, {units.fine(check.closest)}."
        )
    return (
        f"Dense check: of {check.looked_at} set-ups of a fine grid whose depth and edges do not rule them out, "
        f"none comes closer than {units.fine(check.closest)} (a check, not a proof)."
    )


def plan_table(plan: PassPlan, units: Units) -> Table:
    """Return the planned passes with the limit that governs each, and as many even rises beside them."""
    rows = (
        (
            str(number),
            units.length(one.height),
            units.as_read(one.rise),
            _burden(one.burden),
            one.governed_by,
            units.as_read(even.rise),
            _burden(even.burden, " !" if even.burden > 1 else ""),
            even.governed_by,
        )
        for number, (one, even) in enumerate(zip(plan.planned, plan.even, strict=True), start=1)
    )
    headings = ("pass", "height", "rise", "burden", "governed by", "even rise", "burden", "by")
    return Table(tuple(Column(heading, left=heading in ("governed by", "by")) for heading in headings), tuple(rows))


def planning_sentence(plan: PassPlan, asked: Plan, units: Units) -> str:
    """Return how the passes were planned, and their feeds, beside those that the scene's `[plan]` asks for."""
    passes = plan.passes
    said = (
        "These are the fewest passes within the limits; their burden (the largest share of a limit) is evened out. The "
        f"feed is {units.feed(passes.feed_speed)}, in the last pass {units.feed(passes.feed_speeds[-1])}"
    )
    if not plan.feed_limited:
        return f"{said}."
    if passes.feed_speed > asked.feed_speed or passes.feed_speeds[-1] > asked.last_feed_speed:
        return f"{said}, faster than [plan] asks so that no edge rubs: with fewer teeth it could be slower."
    return f"{said}, slower than [plan] asks so that shavings are not too thick."


def _angle(radians: float) -> Shown:
    return Shown(f"{degrees(radians):.3f}", "deg")


def _burden(share: float, mark: str = "") -> Shown:
    return Shown(f"{100 * share:.0f}{mark}", "%")
