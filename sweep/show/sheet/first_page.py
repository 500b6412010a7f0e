"""What the first page says: what is carried to the saw, every figure in the maker's units."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from sweep.check.flag import Code, Flag
from sweep.check.judge import Outcome
from sweep.cut.fence import FenceLayout
from sweep.cut.passes import Pass, passes_of
from sweep.scene.model import WholeScene
from sweep.show.draw.fence_sketch import along_edge
from sweep.show.say.care import care_sentences, care_table
from sweep.show.say.cautions import cautions
from sweep.show.say.fence import (
    beside,
    from_slots_of,
    lines_of,
    rip_gap,
    rip_sentence,
    rip_side,
    runs_of,
    slot_headings,
    where_of,
)
from sweep.show.say.flags import owner_of, sentence_of
from sweep.show.say.passes import fed_in, pass_rows, turns_of
from sweep.show.say.report import Report
from sweep.show.say.table import Column, Table
from sweep.show.say.wood import is_unchecked, wood_sentence
from sweep.show.sheet.tables import on_paper
from sweep.units import Shown, Units, degrees

ALIKE = 3
"""Passes with the same flag that are still told one by one; more are told together, with the worst in full."""


def set_up_figures(scene: WholeScene, units: Units) -> list[dict[str, str]]:
    """Return the settings of the saw, each with its unit apart so that the figure can be set large."""
    setup = scene.setup
    lean = "upright" if setup.blade_tilt == 0 else f"top to the {'right' if setup.blade_tilt > 0 else 'left'}"
    aside = "" if abs(setup.offset) < 0.005 else f", to the {'right' if setup.offset > 0 else 'left'}"
    turns = turns_of(setup.blade_height, scene)
    full = f"last pass; {turns} turns up" if turns else "of the last pass"
    angle, tilt = Shown(f"{degrees(setup.fence_angle):.2f}°"), Shown(f"{abs(degrees(setup.blade_tilt)):.2f}°")
    if scene.feed.along_blade:
        return [
            _figure("Rip fence", units.length(rip_gap(scene)), f"to the teeth, on the {rip_side(setup.fence_side)}"),
            _figure("Blade height", units.length(setup.blade_height), full),
            _figure("Blade tilt", tilt, lean),
        ]
    return [
        _figure("Fence angle", angle, "to the blade"),
        _figure("Blade height", units.length(setup.blade_height), full),
        _figure("Blade tilt", tilt, lean),
        _figure("Offset", units.length(abs(setup.offset)), f"of the stock's middle{aside}"),
    ]


def rip_fence(scene: WholeScene, units: Units) -> str:
    """Return how a rip fence stands, in a few words."""
    return f"rip fence {rip_side(scene.setup.fence_side)}, {units.length(rip_gap(scene))} to the teeth"


def _figure(name: str, shown: Shown, note: str) -> dict[str, str]:
    """Return a figure with what stands small beside it: thousandths over a fraction of an inch, and the unit."""
    return {"name": name, "value": shown.figure, "unit": f"{shown.over} {shown.unit}".strip(), "note": note}


def fence_by_tape(scene: WholeScene, layout: FenceLayout, units: Units) -> dict[str, Any]:
    """Return where the fence, then the stock's other edge, cross the table's edges, and the gap of parallel strips.

    Each row is of cells, and weighty where it sets the fence.
    """
    if scene.feed.along_blade:
        side = rip_side(layout.side)
        return {"headings": [], "rows": [], "runs": f"on the {side} of the blade", "note": rip_sentence(scene, units)}
    away, slots = beside(units), slot_headings(scene, units)
    rows: list[dict[str, Any]] = []
    differences: list[str] = []

    def row(name: str, where: str, figure: str = "", from_slots: Sequence[str] = (), weighty: bool = False) -> None:
        beyond = [*from_slots, *[""] * (len(slots) - len(from_slots))]
        rows.append({"cells": [name, where, figure, *beyond], "weighty": weighty})

    for name, line in lines_of(layout):
        for number, mark in enumerate(line.marks):
            from_front = layout.on_table and mark.edge in ("left", "right")
            where = f"{mark.edge} edge, from the front" if from_front else where_of(mark, layout, units)
            measured = along_edge(scene, mark, units)
            row("" if number else name, where, measured, from_slots_of(mark, units), line is layout.face)
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
    from_front = layout.on_table and all(mark.edge in ("left", "right") for mark in layout.face.marks)
    heading = "from the blade" if layout.on_table or across else "from the blade's centre"
    return {
        "headings": ["", "", "" if from_front else heading, *("" if from_front else slot for slot in slots)],
        "rows": rows,
        "runs": f"it {runs_of(layout)}",
        "note": f"By tape along {edges if layout.on_table else lines}; the blade is its plane where it passes the "
        "table.",
    }


def pass_list(report: Report) -> dict[str, Any]:
    """Return the passes: what to set each time, how fast to feed, how wide the cove then is, and flags in short."""
    scene, passes = report.scene, report.job.passes
    said = pass_rows(report.outcome, report.units)
    columns: dict[str, list[str]] = {"height": [row.height for row in said]}
    if scene.saw.lift_per_turn is not None:
        columns["wheel"] = [Shown(turns_of(one.height, scene), "turns") for one in passes]
        columns["more"] = [Shown(turns_of(one.rise, scene), "turns") for one in passes]
    columns |= {"rise": [row.rise for row in said], "feed": [row.feed for row in said]}
    columns["takes"] = [Shown(f"{_seconds(scene, one):.0f}", "s") for one in passes]
    if any(one.stop is not None for one in passes):
        columns["stop at"] = ["through" if one.stop is None else report.units.length(one.stop) for one in passes]
    if not scene.feed.along_blade:
        columns["cove"] = [row.width for row in said]
    table = Table(tuple(map(Column, columns)), tuple(zip(*columns.values(), strict=True)))
    cells = table.under_units()
    widths = (max(map(len, column)) for column in zip(columns, *cells, strict=True))
    return {
        "headings": list(zip(columns, table.units, strict=True)),
        "rows": [
            {"number": row.number, "cells": shown, "flags": in_short(row.flags)}
            for row, shown in zip(said, cells, strict=True)
        ],
        "letters": sum(widths),
    }


def pass_notes(scene: WholeScene, units: Units) -> list[str]:
    """Return what the columns of the pass list mean."""
    said = [
        "Height: of the blade's highest point over the table; measure it on a stopped blade.",
        f"Takes: how long {_lengths(scene, units)} of stock take past one point at that feed.",
        *([] if scene.feed.along_blade else ["Cove: its width at the table after the pass."]),
    ]
    if scene.saw.lift_per_turn is not None:
        lift = units.length(scene.saw.lift_per_turn)
        said.insert(1, f"Wheel: turns up from where the blade is level with the table, {lift} a turn; more: this time.")
    if scene.passes.stop_short:
        said.append(
            "Stop: how far the leading end has gone past the blade's centre. Stop against a block, switch off, "
            "and leave the stock where it is until the blade stands still."
        )
    if is_unchecked(scene):
        said.append(wood_sentence(scene, units))
    return said


def _lengths(scene: WholeScene, units: Units) -> str:
    """Return how much of the stock is fed in each pass, in words."""
    fed = {fed_in(scene, one) for one in passes_of(scene)}
    return " to ".join(units.tape(length) for length in sorted({min(fed), max(fed)}))


def _seconds(scene: WholeScene, one: Pass) -> float:
    return fed_in(scene, one) / one.feed_speed


def care(report: Report) -> dict[str, Any] | None:
    """Return which setting wants most care, and what a small error of each does; None without a target."""
    if report.care is None:
        return None
    *notes, most = care_sentences(report.care, report.scene.accuracy, report.units)
    return {
        "most": most,
        **on_paper(care_table(report.care, report.units), units_above=True),
        "note": " ".join(notes),
    }


def work(report: Report) -> list[tuple[str, str, str]]:
    """Return the order of work, a heading and the cautions as rows: number, what it is known by, the rest of it."""
    steps = [(str(one.number), f"{one.name}.", one.words) for one in report.steps]
    told = [("", one.name, one.words) for one in cautions(report.scene, report.layout, report.units)]
    return [*steps, ("", "Before the blade turns", ""), *told]


def in_short(flags: Sequence[Flag]) -> str:
    """Return flags by their names, each once; nothing where there are none."""
    return ", ".join(dict.fromkeys(flag.code.replace("-", " ") for flag in flags))


def flagged(outcome: Outcome, units: Units) -> list[tuple[str, str, Code]]:
    """Return every flag: where it belongs, a sentence, its code; of one that many passes share the worst in full."""
    said = [(owner_of(flag), sentence_of(flag, units), flag.code) for flag in outcome.flags_of(None)]
    alike: dict[Code, list[Flag]] = defaultdict(list)
    for flag in outcome.flags:
        if flag.number is not None:
            alike[flag.code].append(flag)
    for code, flags in alike.items():
        if len(flags) <= ALIKE:
            said += [(owner_of(flag), sentence_of(flag, units), code) for flag in flags]
            continue
        worst = max(flags, key=lambda flag: abs(flag.value - flag.limit))
        where = f"passes {', '.join(str(flag.number) for flag in flags)}"
        said.append((where, f"worst in pass {worst.number}: {sentence_of(worst, units)}", code))
    return said
