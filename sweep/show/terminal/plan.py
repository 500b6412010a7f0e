"""What was worked out, for a terminal: the candidates, the pass plan, and the care that the set-up needs."""

from __future__ import annotations

from rich import box
from rich.console import Console
from rich.table import Table

from sweep.plan.accuracy import Care
from sweep.plan.dense import DenseCheck
from sweep.plan.heights import PassPlan
from sweep.plan.setup import Candidate
from sweep.scene.model import Scene
from sweep.show.say.passes import print_whole
from sweep.units import Units, degrees


def print_candidates(console: Console, scene: Scene, candidates: tuple[Candidate, ...], units: Units) -> None:
    """Print every blade at its best, the closest first, and what the first one is held by."""
    unit = "mm" if units.metric else "in"
    table = _table(
        "", "blade", "fence\ndeg", f"height\n{unit}", "tilt\ndeg", f"offset\n{unit}", f"deviation\n{unit}", ""
    )
    for place, one in enumerate(candidates, start=1):
        fit = one.fit
        table.add_row(
            f"{place}",
            one.blade.name or "the blade",
            f"{degrees(fit.fence_angle):.3f}",
            units.length(fit.blade_height).removesuffix(f" {unit}"),
            f"{degrees(fit.blade_tilt) + 0.0:.3f}",
            units.length(fit.offset + 0.0).removesuffix(f" {unit}"),
            units.fine(fit.deviation).removesuffix(f" {unit}"),
            "within tolerance" if one.stopped_by is None else f"! {one.stopped_by.said(not units.metric)}",
        )
    print_whole(console, table)
    best = candidates[0].fit
    if best.tight:
        held = ", ".join(f"{units.length(y)} ({units.fine(gap)})" for y, gap in best.tight)
        console.print(f"The first is held at y = {held}; positive where wood is left.", highlight=False)
    else:
        console.print("Exact: the curve goes through both edges and the depth.", highlight=False)


def print_dense_check(console: Console, check: DenseCheck, best: Candidate, units: Units) -> None:
    """Print what a look at a fine grid of set-ups found, beside the best fit."""
    if check.looked_at == 0:
        text = "Dense check: depth and edges rule out every other set-up of a fine grid."
    elif check.closest < best.fit.deviation:
        text = (
            f"! Dense check: one of {check.looked_at} set-ups of a fine grid comes closer, {units.fine(check.closest)}."
        )
    else:
        text = (
            f"Dense check: of {check.looked_at} set-ups of a fine grid whose depth and edges do not rule them out, "
            f"none comes closer than {units.fine(check.closest)} (a check, not a proof)."
        )
    console.print(text, highlight=False)


def print_plan(console: Console, plan: PassPlan, units: Units) -> None:
    """Print the planned passes with the limit that governs each, and as many even rises beside them."""
    unit = "mm" if units.metric else "in"
    table = _table(
        "pass", f"height\n{unit}", f"rise\n{unit}", "burden\n%", "governed by", f"even rise\n{unit}", "burden\n%", "by"
    )
    for number, (one, even) in enumerate(zip(plan.planned, plan.even, strict=True), start=1):
        table.add_row(
            str(number),
            units.length(one.height).removesuffix(f" {unit}"),
            units.length(one.rise).removesuffix(f" {unit}"),
            f"{100 * one.burden:.0f}",
            one.governed_by,
            units.length(even.rise).removesuffix(f" {unit}"),
            f"{100 * even.burden:.0f}{' !' if even.burden > 1 else ''}",
            even.governed_by,
        )
    print_whole(console, table)
    passes = plan.passes
    console.print(
        f"Fewest passes within the limits, the burden (largest share of a limit) evened out. Feed "
        f"{units.feed(passes.feed_speed)}, the last pass at {units.feed(passes.last_feed_speed)}"
        + (": changed to keep shavings neither too thick nor too thin." if plan.feed_limited else "."),
        highlight=False,
    )


def print_care(console: Console, care: Care, scene: Scene, units: Units) -> None:
    """Print what a small error of each setting does, and how often the set-up comes within tolerance."""
    table = _table("a setting larger by", "width", "depth", "deviation")
    for effect in care.effects:
        table.add_row(
            f"{effect.setting} {effect.step}",
            *(_change(v, units) for v in (effect.width, effect.depth, effect.deviation)),
        )
    print_whole(console, table)
    errors = scene.accuracy
    set_to = (
        f"{degrees(errors.fence_angle):.2g} deg of fence, {units.fine(errors.blade_height)} of height, "
        f"{degrees(errors.blade_tilt):.2g} deg of tilt, {units.fine(errors.kerf)} of kerf and "
        f"{units.fine(errors.offset)} of offset"
    )
    console.print(
        f"Set to within {set_to} (one standard deviation each), {100 * care.within:.0f} % of {care.set_ups} set-ups "
        f"come within tolerance (seed {care.seed}); take most care with the {care.most_care}.",
        highlight=False,
    )


def _change(mm: float, units: Units) -> str:
    shown = units.fine(abs(mm))
    return shown if abs(mm) < 5e-6 else f"{'-' if mm < 0 else '+'}{shown}"


def _table(*headings: str) -> Table:
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1), header_style="bold")
    for heading in headings:
        table.add_column(
            heading, justify="left" if heading in ("blade", "", "governed by", "by") else "right", no_wrap=True
        )
    return table
