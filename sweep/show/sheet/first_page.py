"""What the first page says: what is carried to the saw, every figure in the maker's units."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from sweep.check.flag import Flag
from sweep.check.judge import Outcome
from sweep.cut.fence import fence_on_table
from sweep.cut.passes import Pass
from sweep.plan.accuracy import STEPS, Effect, care_needed
from sweep.scene.model import Scene
from sweep.show.draw.fence_sketch import along_edge
from sweep.show.say.fence import aside, beside, strips_sentence, where_of
from sweep.show.say.flags import sentence_of
from sweep.show.say.passes import pass_rows
from sweep.units import MM_PER_INCH, Units, degrees

ALIKE = 3
"""Passes with the same flag that are still told one by one; more are told together, with the worst in full."""


def set_up_figures(scene: Scene, units: Units) -> list[dict[str, str]]:
    """Return the settings of the saw, each with its unit apart so that the figure can be set large."""
    setup = scene.setup
    side = "operator's" if setup.fence_side == "near" else "far"
    lean = "upright" if setup.blade_tilt == 0 else f"top to the {'right' if setup.blade_tilt > 0 else 'left'}"
    aside = "" if abs(setup.offset) < 0.005 else f", to the {'right' if setup.offset > 0 else 'left'}"
    turns = _turns(setup.blade_height, scene)
    full = "of the last pass" + (f": {turns} turns up from the table" if turns else "")
    return [
        _figure("Fence angle", f"{degrees(setup.fence_angle):.2f}°", f"to the blade; on the {side} side of it"),
        _figure("Blade height", units.length(setup.blade_height), full),
        _figure("Blade tilt", f"{abs(degrees(setup.blade_tilt)):.2f}°", lean),
        _figure("Offset", units.length(abs(setup.offset)), f"stock's middle from the blade's centre{aside}"),
    ]


def _figure(name: str, shown: str, note: str) -> dict[str, str]:
    """Split a figure from its unit, and from thousandths over a fraction of an inch."""
    value, _, unit = shown.rpartition(" ") if " " in shown else (shown, "", "")
    whole, sign, over = value.partition(" +")
    whole, sign, over = (whole, sign, over) if sign else value.partition(" -")
    return {"name": name, "value": whole, "unit": f"{sign.strip()}{over} {unit}".strip(), "note": note}


def fence_by_tape(scene: Scene, units: Units) -> dict[str, Any]:
    """Return where the fence, then the stock's other edge, cross the table's edges, and the gap of parallel strips.

    Each row is of cells, and weighty where it sets the fence.
    """
    away = beside(units)
    layout = fence_on_table(scene, away)
    slots = scene.saw.slots
    rows, differences = [], []

    def row(name: str, where: str, figure: str = "", from_slots: Sequence[str] = (), weighty: bool = False) -> None:
        beyond = [*from_slots, *[""] * (len(slots) - len(from_slots))]
        rows.append({"cells": [name, where, figure, *beyond], "weighty": weighty})

    for name, line in (("face of the fence", layout.face), ("other edge of the stock", layout.opposite)):
        for number, mark in enumerate(line.marks):
            from_front = layout.on_table and mark.edge in ("left", "right")
            where = f"{mark.edge} edge, from the front" if from_front else where_of(mark, layout, units)
            from_slots = [aside(distance, units) for distance in mark.from_slots]
            row("" if number else name, where, along_edge(scene, mark, units), from_slots, line is layout.face)
        if not line.marks:
            row(name, "misses the table")
        difference = "" if line.difference is None else units.tape(abs(line.difference))
        if difference not in ["", *differences]:  # that of parallel lines once
            differences.append(difference)
            row("", "difference", difference)
    if layout.strips is not None:
        row("parallel strips", "between them", units.length(layout.strips.gap), weighty=True)
    across = layout.angle <= math.pi / 4
    edges = "the table's edges"
    lines = f"lines {'across' if across else 'along'} the saw, {units.tape(away)} either side of the blade's centre"
    heading = "from the blade" if layout.on_table or across else "from the blade's centre"
    return {
        "headings": ["", "", heading, *(f"from the slot's edge\n{aside(slot, units)} of the blade" for slot in slots)],
        "rows": rows,
        "note": f"along {edges if layout.on_table else lines}; the blade is its plane where it passes the table",
        "strips": strips_sentence(layout.strips, units),
    }


def pass_list(outcome: Outcome, units: Units) -> dict[str, Any]:
    """Return the passes: what to set each time, how fast to feed, how wide the cove then is, and flags in short."""
    scene = outcome.job.scene
    stops = any(one.stop is not None for one in outcome.job.passes)
    rows = []
    for one, shown in zip(outcome.job.passes, pass_rows(outcome, units), strict=True):
        cells = {"height": shown["height"]}
        if scene.saw.lift_per_turn is not None:
            cells |= {"wheel": f"{_turns(one.height, scene)} turns", "more": f"{_turns(one.rise, scene)} turns"}
        cells |= {"rise": shown["rise"], "feed": shown["feed"], "takes": f"{_seconds(scene, one):.0f} s"}
        if stops:
            cells["stop at"] = "through" if one.stop is None else units.length(one.stop)
        cells["cove"] = shown["width"]
        flags = in_short(outcome.flags_of(one.number))
        rows.append({"number": one.number, "cells": list(cells.values()), "flags": flags})
    columns = zip(*(row["cells"] for row in rows), strict=True)
    units_of = [next((cell.rpartition(" ")[2] for cell in column if " " in cell), "") for column in columns]
    for row in rows:
        row["cells"] = [cell.removesuffix(f" {unit}") for cell, unit in zip(row["cells"], units_of, strict=True)]
    headings = [list(pair) for pair in zip(cells, units_of, strict=True)]
    widths = [max(map(len, [name, *(row["cells"][k] for row in rows)])) for k, (name, _) in enumerate(headings)]
    return {"headings": headings, "rows": rows, "letters": sum(widths)}


def pass_notes(scene: Scene, units: Units) -> list[str]:
    """Return what the columns of the pass list mean."""
    said = [
        "Height: of the blade's highest point over the table; measure it on a stopped blade.",
        f"Takes: how long {_lengths(scene, units)} of stock take past one point at that feed.",
        "Cove: its width at the table after the pass.",
    ]
    if scene.saw.lift_per_turn is not None:
        lift = units.length(scene.saw.lift_per_turn)
        said.insert(1, f"Wheel: turns up from where the blade is level with the table, {lift} a turn; more: this time.")
    if any(stop is not None for stop in scene.passes.stops):
        said.append(
            "Stop: how far the leading end has gone past the blade's centre. Stop against a block, switch off, "
            "and leave the stock where it is until the blade stands still."
        )
    return said


def _lengths(scene: Scene, units: Units) -> str:
    """Return how much of the stock is fed in each pass, in words."""
    fed = {_fed(scene, stop) for stop in scene.passes.stops}
    return " to ".join(units.tape(length) for length in sorted({min(fed), max(fed)}))


def _fed(scene: Scene, stop: float | None) -> float:
    return scene.stock.length if stop is None else min(stop, scene.stock.length)


def _seconds(scene: Scene, one: Pass) -> float:
    return _fed(scene, one.stop) / one.feed_speed


def _turns(height: float, scene: Scene) -> str:
    """Return turns of the wheel: in the parts of a turn that were asked for where they fit, else to a hundredth."""
    lift, part = scene.saw.lift_per_turn, scene.plan.turn
    if lift is None:
        return ""
    turns = height / lift
    steps = turns / part if part else 0.5
    if abs(steps - round(steps)) > 1e-4:
        return f"{turns:.2f}"
    whole, over = divmod(round(steps) * Fraction(part).limit_denominator(1000), 1)
    return " ".join(str(piece) for piece in (whole, over) if piece) or "0"


def care(scene: Scene, units: Units) -> dict[str, Any] | None:
    """Return which setting wants most care, and what a small error of each does; None without a target."""
    if scene.target is None:
        return None
    found = care_needed(scene)
    rows = [
        [f"{effect.setting} +{_step(effect, units)}", *(_signed(v, units) for v in _does(effect))]
        for effect in found.effects
    ]
    errors, unit = scene.accuracy, "mm" if units.metric else "in"
    height, offset, kerf = (_small(v, units) for v in (errors.blade_height, errors.offset, errors.kerf))
    note = (
        f"Set to within {degrees(errors.fence_angle):.2g} deg of fence, {height} {unit} of height, "
        f"{degrees(errors.blade_tilt):.2g} deg of tilt, {offset} {unit} of offset and {kerf} {unit} of kerf (one "
        f"standard deviation each), {100 * found.within:.0f} % of {found.set_ups} chance set-ups come within tolerance."
    )
    return {
        "most": f"Take most care with the {found.most_care}.",
        "headings": [f"error ({unit})", "width", "depth", "off target"],
        "left": [True, False, False, False],
        "rows": rows,
        "note": note,
    }


def _does(effect: Effect) -> tuple[float, float, float]:
    return effect.width, effect.depth, effect.deviation


def _step(effect: Effect, units: Units) -> str:
    """Return by how much a setting is moved; a tenth of a mm is 4 thousandths of an inch to within 2 %."""
    if units.metric or not effect.step.endswith(" mm"):
        return effect.step
    return f"{STEPS[effect.setting][1] / MM_PER_INCH:.3f} in"


def _small(mm: float, units: Units) -> str:
    """Return a small change without its unit: 0.001 mm or a tenth of a thousandth of an inch."""
    return f"{mm:.3f}" if units.metric else f"{mm / MM_PER_INCH:.4f}"


def _signed(mm: float, units: Units) -> str:
    shown = _small(abs(mm), units)
    return shown if float(shown) == 0 else f"{'-' if mm < 0 else '+'}{shown}"


def in_short(flags: Sequence[Flag]) -> str:
    """Return flags by their names, each once; nothing where there are none."""
    return ", ".join(dict.fromkeys(flag.code.replace("-", " ") for flag in flags))


def flagged(outcome: Outcome, units: Units) -> list[tuple[str, str, str]]:
    """Return every flag: where it belongs, a sentence, its code; of one that many passes share the worst in full."""
    said = [("job", sentence_of(flag, units), flag.code) for flag in outcome.flags_of(None)]
    alike: dict[str, list[Flag]] = defaultdict(list)
    for flag in outcome.flags:
        if flag.number is not None:
            alike[flag.code].append(flag)
    for code, flags in alike.items():
        if len(flags) <= ALIKE:
            said += [(f"pass {flag.number}", sentence_of(flag, units), code) for flag in flags]
            continue
        worst = max(flags, key=lambda flag: abs(flag.value - flag.limit))
        where = f"passes {', '.join(str(flag.number) for flag in flags)}"
        said.append((where, f"worst in pass {worst.number}: {sentence_of(worst, units)}", code))
    return said
