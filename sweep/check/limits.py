"""What should give the maker pause: each pass and the whole job against the limits of the scene.

A flag is data, not an error: the run is complete all the same. Limits named 'common practice' are
habits of the trade, not rules, and none of them is a permission.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.cut.job import Job
from sweep.shape import solid
from sweep.tolerance import AREA_NOTHING, SAME_HEIGHT
from sweep.units import Units, rpm


@dataclass(frozen=True)
class Flag:
    """One thing to look at before cutting.

    Parameters
    ----------
    code : str
        Its short name, the same in every output.
    number : int or None
        The pass it belongs to; None when it belongs to the whole job.
    value, limit : float
        The figure and its limit, in mm, mm2, mm/s, rad/s, W or a count.
    message : str
        What is wrong and what to do, in one sentence, in the maker's units.
    """

    code: str
    number: int | None
    value: float
    limit: float
    message: str


def find_flags(job: Job, units: Units) -> tuple[Flag, ...]:
    """Return every flag of a job: those of the whole job first, then pass by pass."""
    flags = [*_of_the_job(job, units)]
    for number in range(1, len(job.passes) + 1):
        flags += _of_the_pass(job, number, units)
    return tuple(flags)


def _of_the_job(job: Job, u: Units) -> list[Flag]:
    scene, limits, flags = job.scene, job.scene.limits, []
    if scene.stock.length < limits.stock_length:
        flags.append(
            Flag(
                "stock-short",
                None,
                scene.stock.length,
                limits.stock_length,
                f"the stock is {u.length(scene.stock.length)} long, too short to pass safely under "
                f"{u.length(limits.stock_length)}: cut the cove on a longer piece and crosscut afterwards",
            )
        )
    marked, turning = scene.blade.max_speed, scene.saw.speed
    rim = turning * scene.tool.radius
    if marked is not None and turning > marked:
        flags.append(
            Flag(
                "rim-fast",
                None,
                turning,
                marked,
                f"the saw turns at {rpm(turning):.0f} rpm and the blade is marked for {rpm(marked):.0f} rpm: "
                "do not run this blade on this saw",
            )
        )
    elif rim > limits.rim_speed:
        flags.append(
            Flag(
                "rim-fast",
                None,
                rim,
                limits.rim_speed,
                f"the rim runs at {rim / 1000:.0f} m/s, above {limits.rim_speed / 1000:.0f} m/s: "
                "use a smaller blade, or a slower saw, and look up what the blade is marked for",
            )
        )
    parts = solid.pieces(job.finished.body)
    if len(parts) > 1:
        smallest = min(solid.volume(part) for part in parts)
        flags.append(
            Flag(
                "piece-freed",
                None,
                len(parts),
                1,
                f"the cut leaves {len(parts)} separate pieces, the smallest of {u.volume(smallest)}, which the blade "
                "can throw: move the cut, or leave a strip that holds them together",
            )
        )
    flags += _wood_left(job, u)
    return flags


def _wood_left(job: Job, u: Units) -> list[Flag]:
    """Return flags on what the finished section leaves above the cove and beside it."""
    scene, limits, last, flags = job.scene, job.scene.limits, job.sections[-1], []
    above = scene.stock.thickness - last.top
    if last.top > 0 and above < limits.wood_above:
        flags.append(
            Flag(
                "wood-above-thin",
                None,
                above,
                limits.wood_above,
                f"{u.length(above)} of wood is left above the cove, less than {u.length(limits.wood_above)}: "
                "take thicker stock, or a shallower cove",
            )
        )
    if last.edges is not None:
        half = scene.stock.width / 2
        for side, left in (("left", last.edges[0] + half), ("right", half - last.edges[1])):
            if left < limits.shoulder:
                flags.append(
                    Flag(
                        "shoulder-narrow",
                        None,
                        max(0.0, left),
                        limits.shoulder,
                        f"{u.length(max(0.0, left))} of flat is left to ride on the table on the {side} (looking along "
                        f"the feed), less than {u.length(limits.shoulder)}: cut the cove in wider stock and rip "
                        "the rest off afterwards",
                    )
                )
    return flags


def _of_the_pass(job: Job, number: int, u: Units) -> list[Flag]:
    one, taken, load = job.passes[number - 1], job.sections[number - 1], job.loads[number - 1]
    limits, flags = job.scene.limits, []
    if one.rise > limits.rise + SAME_HEIGHT:
        passes = math.ceil(one.rise / limits.rise - 1e-9)
        flags.append(
            Flag(
                "rise-large",
                number,
                one.rise,
                limits.rise,
                f"it rises {u.length(one.rise)}, more than {u.length(limits.rise)}: take it in {passes} passes",
            )
        )
    if load.chip_thickness_max > limits.chip_thickness and taken.area > AREA_NOTHING:
        slower = one.feed_speed * limits.chip_thickness / load.chip_thickness_max
        flags.append(
            Flag(
                "chip-thick",
                number,
                load.chip_thickness_max,
                limits.chip_thickness,
                f"shavings are up to {u.fine(load.chip_thickness_max)} thick, more than "
                f"{u.fine(limits.chip_thickness)}: feed at {u.feed(slower)} or slower",
            )
        )
    if taken.area > limits.area:
        flags.append(
            Flag(
                "area-large",
                number,
                taken.area,
                limits.area,
                f"it takes {u.area(taken.area)} from the section, more than {u.area(limits.area)}: "
                f"take it in {math.ceil(taken.area / limits.area)} passes",
            )
        )
    motor = job.scene.saw.motor
    if motor is not None and load.power is not None and load.power > motor:
        flags.append(
            Flag(
                "power-high",
                number,
                load.power,
                motor,
                f"it takes about {load.power:.0f} W at the arbor (an estimate), more than the motor's {motor:.0f} W: "
                "rise less, or feed slower",
            )
        )
    if number == len(job.passes) > 1:
        lightest = min(other.rise for other in job.passes[:-1])
        if one.rise >= lightest - SAME_HEIGHT:
            flags.append(
                Flag(
                    "last-pass-heavy",
                    number,
                    one.rise,
                    lightest,
                    f"the last pass rises {u.length(one.rise)}, no less than the lightest before it "
                    f"({u.length(lightest)}): make it the lightest, and feed it slowly",
                )
            )
    return flags
