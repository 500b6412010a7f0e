"""What should give the maker pause in one pass, and how far to go to be rid of it."""

from __future__ import annotations

import math

from sweep.check.flag import Code, Flag
from sweep.check.shares import shares_of, thinnest_chip
from sweep.cut.job import Job
from sweep.cut.load import Load
from sweep.cut.passes import Pass
from sweep.cut.push import friction_of, push_of
from sweep.figure import Figure, count, force, named, power, speed
from sweep.scene.model import WholeScene
from sweep.tolerance import AREA_NOTHING, SAME_HEIGHT
from sweep.units import AREA, FORCE, LENGTH, POWER, SHARE, Kind


def flags_of_pass(job: Job, number: int) -> list[Flag]:
    """Return the flags of one pass, `number` from 1."""
    one, taken, load = job.passes[number - 1], job.sections[number - 1], job.loads[number - 1]
    scene, limits = job.scene, job.scene.limits
    if taken.area <= AREA_NOTHING:
        return []
    shares = shares_of(scene, one, taken.area, load)
    found = []

    def flag(code: Code, value: float, limit: float, kind: Kind, **figures: Figure) -> None:
        found.append(Flag(code, number, value, limit, kind, figures=named(**figures)))

    straight = scene.feed.along_blade
    if not straight and one.rise > limits.rise + SAME_HEIGHT:
        flag("rise-large", one.rise, limits.rise, LENGTH, passes=_passes(shares["rise"]))
    if shares["chip"] > 1:
        slower = speed(one.feed_speed / shares["chip"])
        flag("chip-thick", load.chip_thickness_max, limits.chip_thickness, LENGTH, feed_speed=slower)
    if shares.get("area", 0.0) > 1:
        flag("area-large", taken.area, limits.area, AREA, passes=_passes(shares["area"]))
    if shares["gullet"] > 1:
        slower = speed(one.feed_speed / shares["gullet"])
        flag("gullet-full", load.gullet_fill, limits.gullet_fill, SHARE, feed_speed=slower)
    usual = load.usual
    if usual is not None and scene.saw.motor is not None and shares.get("power", 0.0) > 1:
        gives = scene.saw.motor * scene.saw.efficiency
        low, high = (power(watts) for watts in _band(load, "power"))
        way_out = _way_out(scene, one, load, shares["power"])
        flag("power-high", usual.power, gives, POWER, low=low, high=high, **way_out)
    if usual is not None and shares.get("push", 0.0) > 1:
        pushes = [push_of(scene, forces) for forces in load.band or ()]
        friction = friction_of(scene, usual)
        left = limits.push - friction  # what is left for the teeth, which alone take less in more passes
        way_out = _way_out(scene, one, load, usual.feed / left) if left > 0 else {}
        parts = {"teeth": force(usual.feed), "friction": force(friction)}
        low, high = force(min(pushes)), force(max(pushes))
        flag("push-hard", push_of(scene, usual), limits.push, FORCE, low=low, high=high, **parts, **way_out)
    if usual is not None and load.deflection is not None and shares.get("plate", 0.0) > 1:
        low, high = (force(newtons) for newtons in _band(load, "side"))
        side, passes = force(abs(usual.side)), _passes(shares["plate"])
        limit = limits.side_deflection
        flag("plate-bends", load.deflection, limit, LENGTH, side_force=side, low=low, high=high, passes=passes)
    last = number == len(job.passes) > 1 and not straight
    thinnest = thinnest_chip(scene, last)
    if load.chip_thickness_max < thinnest:
        share = load.chip_thickness_max / thinnest
        fewer, faster = count(math.floor(scene.blade.teeth * share)), speed(one.feed_speed / share)
        flag("edge-rubs", load.chip_thickness_max, thinnest, LENGTH, teeth=fewer, feed_speed=faster)
    if last:
        lightest = min(other.rise for other in job.passes[:-1])
        if one.rise >= lightest - SAME_HEIGHT and one.rise > scene.plan.last_rise + SAME_HEIGHT:
            flag("last-pass-heavy", one.rise, lightest, LENGTH)
    if len(job.passes) == 1 and not straight and one.rise > scene.plan.last_rise + SAME_HEIGHT:
        flag("single-pass", one.rise, scene.plan.last_rise, LENGTH)
    return found


def _passes(share: float) -> Figure:
    """Return in how many passes like it the same can be taken within the limit."""
    return count(math.ceil(share - 1e-9))


def _way_out(scene: WholeScene, one: Pass, load: Load, share: float) -> dict[str, Figure]:
    """Return the cheapest way to bring a force within its limit: passes, and a feed where a slower one serves.

    Force goes with the root of the feed while shavings are thick, and hardly at all once the edge rubs: a
    slower feed serves where it leaves the shavings thick enough, else only less wood in a pass does.
    """
    found = {"passes": _passes(share)}
    if load.chip_thickness_max / share**2 > 2 * scene.limits.thin_chip:
        found["feed_speed"] = speed(one.feed_speed / share**2)
    return found


def _band(load: Load, name: str) -> tuple[float, float]:
    """Return the least and the most of a force's size over the sharpest and the dullest state."""
    ends = [abs(getattr(forces, name)) for forces in (load.low, load.high)]
    return min(ends), max(ends)
