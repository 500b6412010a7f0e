"""Every pass in numbers."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from sweep.check.shares import governing, shares_of
from sweep.cut.forces import Forces
from sweep.cut.push import friction_of, push_of
from sweep.cut.surface import surface_of
from sweep.show.say.numbers.flags import FlagNumbers, flag_numbers
from sweep.show.say.numbers.model import Numbers
from sweep.show.say.report import Report

FORCES = ("feed", "fence", "lift", "side")


class PassNumbers(Numbers):
    """One pass: forces and power are estimates, null where nothing is known of the wood."""

    number: int
    height_mm: float
    """The blade's highest point above the table."""
    rise_mm: float
    stop_mm: float | None
    """How far the leading end has gone past the blade's centre; null for a pass that goes through."""
    width_mm: float
    """The cove's width at the table after the pass."""
    area_mm2: float
    """What it takes from the section."""
    volume_mm3: float
    share: float
    """Its part of the wood that all passes take."""
    feed_speed_mm_per_s: float
    feed_per_tooth_mm: float
    chip_thickness_max_mm: float
    chip_thickness_mean_mm: float
    chip_side_edge_mm: float
    chip_top_edge_mm: float
    chip_volume_per_tooth_mm3: float
    teeth_in_wood: float
    power_w: float | None
    """At the arbor, the usual value; low and high are soft wood and sharp edges, hard wood and dull ones."""
    power_low_w: float | None
    power_high_w: float | None
    feed_force_n: float | None
    """Against the feed: of the teeth alone."""
    friction_n: float | None
    """From the weight of the stock and from featherboards as they are usually set."""
    push_n: float | None
    """What the hands push: both of them."""
    fence_force_n: float | None
    """Into the fence; negative is off it."""
    lift_force_n: float | None
    """Off the table; negative is onto it."""
    side_force_n: float | None
    """On the blade, square to its plate."""
    feed_force_low_n: float | None
    feed_force_high_n: float | None
    fence_force_low_n: float | None
    fence_force_high_n: float | None
    lift_force_low_n: float | None
    lift_force_high_n: float | None
    side_force_low_n: float | None
    side_force_high_n: float | None
    fence_force_at_ends_least_n: float | None
    """While the blade enters the stock and leaves it, usual values; power is never more there than in between."""
    fence_force_at_ends_most_n: float | None
    lift_force_at_ends_least_n: float | None
    lift_force_at_ends_most_n: float | None
    side_deflection_mm: float | None
    gullet_fill: float
    ridge_height_mm: float
    governing_limit: str
    flags: tuple[FlagNumbers, ...]


def pass_numbers(report: Report) -> tuple[PassNumbers, ...]:
    """Return every pass in order."""
    job = report.job
    total = job.stages[0].volume - job.finished.volume
    rows = []
    for one, taken, load, ends in zip(job.passes, job.sections, job.loads, job.ends, strict=True):
        volume = job.removed(one.number)
        feed, fence, lift, side = (_band((load.low, load.usual, load.high), name) for name in FORCES)
        fence_there, lift_there = (_band([moment.forces for moment in ends], name) for name in ("fence", "lift"))
        rows.append(
            PassNumbers(
                number=one.number,
                height_mm=one.height,
                rise_mm=one.rise,
                stop_mm=one.stop,
                width_mm=taken.width,
                area_mm2=taken.area,
                volume_mm3=volume,
                share=volume / total if total else 0.0,
                feed_speed_mm_per_s=one.feed_speed,
                feed_per_tooth_mm=load.feed_per_tooth,
                chip_thickness_max_mm=load.chip_thickness_max,
                chip_thickness_mean_mm=load.chip_thickness_mean,
                chip_side_edge_mm=load.chip_side,
                chip_top_edge_mm=load.chip_top,
                chip_volume_per_tooth_mm3=load.chip_volume,
                teeth_in_wood=load.teeth_in_wood,
                power_w=load.power,
                power_low_w=None if load.low is None else load.low.power,
                power_high_w=None if load.high is None else load.high.power,
                feed_force_n=None if load.usual is None else load.usual.feed,
                friction_n=None if load.usual is None else friction_of(job.scene, load.usual),
                push_n=None if load.usual is None else push_of(job.scene, load.usual),
                fence_force_n=None if load.usual is None else load.usual.fence,
                lift_force_n=None if load.usual is None else load.usual.lift,
                side_force_n=None if load.usual is None else load.usual.side,
                feed_force_low_n=feed[0],
                feed_force_high_n=feed[1],
                fence_force_low_n=fence[0],
                fence_force_high_n=fence[1],
                lift_force_low_n=lift[0],
                lift_force_high_n=lift[1],
                side_force_low_n=side[0],
                side_force_high_n=side[1],
                fence_force_at_ends_least_n=fence_there[0],
                fence_force_at_ends_most_n=fence_there[1],
                lift_force_at_ends_least_n=lift_there[0],
                lift_force_at_ends_most_n=lift_there[1],
                side_deflection_mm=load.deflection,
                gullet_fill=load.gullet_fill,
                ridge_height_mm=surface_of(job.scene, number=one.number).largest,
                governing_limit=governing(shares_of(job.scene, one, taken.area, load)),
                flags=flag_numbers(report.flags_of(one.number), report.units),
            )
        )
    return tuple(rows)


def passes_csv(passes: tuple[PassNumbers, ...]) -> str:
    """Return `passes.csv`: one row a pass, its flags as codes."""
    return _rows([_row(one) for one in passes], list(PassNumbers.model_fields))


def setups_csv(setups: Iterable[tuple[PassNumbers, ...]]) -> str:
    """Return `passes.csv` of several set-ups, given the passes of each: a column more says which setting, from 1."""
    rows = [{"setup": str(place)} | _row(one) for place, passes in enumerate(setups, start=1) for one in passes]
    return _rows(rows, ["setup", *PassNumbers.model_fields])


def _row(one: PassNumbers) -> dict[str, object]:
    return one.model_dump() | {"flags": " ".join(flag.code for flag in one.flags)}


def _rows(rows: list[dict[str, object]], columns: list[str]) -> str:
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def _band(states: Iterable[Forces | None], name: str) -> tuple[float, float] | tuple[None, None]:
    """Return the least and the most of a force over several states; none where they are not known."""
    values = [getattr(forces, name) for forces in states if forces is not None]
    return (min(values), max(values)) if values else (None, None)
