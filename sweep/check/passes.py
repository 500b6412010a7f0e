"""What should give the maker pause in one pass, and the cheapest way out of it."""

from __future__ import annotations

import math

from sweep.check.flag import Flag
from sweep.check.shares import shares_of, thinnest_chip
from sweep.cut.job import Job
from sweep.cut.load import Load
from sweep.cut.passes import Pass
from sweep.scene.model import Scene
from sweep.tolerance import AREA_NOTHING, SAME_HEIGHT
from sweep.units import Units


def flags_of_pass(job: Job, number: int, u: Units) -> list[Flag]:
    """Return the flags of one pass, `number` from 1, in the maker's units."""
    one, taken, load = job.passes[number - 1], job.sections[number - 1], job.loads[number - 1]
    scene, limits = job.scene, job.scene.limits
    if taken.area <= AREA_NOTHING:
        return []
    shares = shares_of(scene, one, taken.area, load)
    found = []

    def flag(code: str, value: float, limit: float, message: str) -> None:
        found.append(Flag(code, number, value, limit, message))

    if one.rise > limits.rise + SAME_HEIGHT:
        text = f"it rises {u.length(one.rise)}, more than {u.length(limits.rise)}: {_split(shares['rise'])}"
        flag("rise-large", one.rise, limits.rise, text)
    if shares["chip"] > 1:
        slower = u.feed(one.feed_speed / shares["chip"])
        text = (
            f"shavings are up to {u.fine(load.chip_thickness_max)} thick, more than {u.fine(limits.chip_thickness)}: "
            f"feed at {slower} or slower"
        )
        flag("chip-thick", load.chip_thickness_max, limits.chip_thickness, text)
    if shares["area"] > 1:
        text = (
            f"it takes {u.area(taken.area)} from the section, more than {u.area(limits.area)}: {_split(shares['area'])}"
        )
        flag("area-large", taken.area, limits.area, text)
    if shares["gullet"] > 1:
        text = (
            f"chips fill {100 * load.gullet_fill:.0f} % of a gullet's usable room, more than "
            f"{100 * limits.gullet_fill:.0f} %: feed at {u.feed(one.feed_speed / shares['gullet'])} or slower, "
            "or use a blade with fewer, deeper gullets"
        )
        flag("gullet-full", load.gullet_fill, limits.gullet_fill, text)
    if shares.get("power", 0.0) > 1:
        gives = scene.saw.motor * scene.saw.efficiency
        text = (
            f"it takes about {_band(load, 'power')} W at the arbor (an estimate), more than the {gives:.0f} W that the "
            f"motor gives it: {_way_out(scene, one, load, shares['power'], u)}"
        )
        flag("power-high", load.usual.power, gives, text)
    if shares.get("push", 0.0) > 1:
        text = (
            f"it takes about {_band(load, 'feed')} N to push (an estimate), more than {limits.push:.0f} N: "
            f"{_way_out(scene, one, load, shares['push'], u)}"
        )
        flag("push-hard", load.usual.feed, limits.push, text)
    if shares.get("plate", 0.0) > 1:
        text = (
            f"the side load of about {_band(load, 'side')} N (an estimate) bends the plate by "
            f"{u.fine(load.deflection)}, more than {u.fine(limits.side_deflection)}: {_split(shares['plate'])}, or "
            "use a thicker plate, larger collars or a smaller fence angle"
        )
        flag("plate-bends", load.deflection, limits.side_deflection, text)
    last = number == len(job.passes) > 1
    thinnest = thinnest_chip(scene, last)
    if load.chip_thickness_max < thinnest:
        faster = u.feed(one.feed_speed * thinnest / load.chip_thickness_max)
        text = (
            f"shavings are at most {u.fine(load.chip_thickness_max)} thick, less than {u.fine(thinnest)}: the edge "
            f"rubs and burns; feed at {faster} or faster, take a little more, or use a blade with fewer teeth"
        )
        flag("edge-rubs", load.chip_thickness_max, thinnest, text)
    if last:
        lightest = min(other.rise for other in job.passes[:-1])
        if one.rise >= lightest - SAME_HEIGHT:
            text = (
                f"the last pass rises {u.length(one.rise)}, no less than the lightest before it "
                f"({u.length(lightest)}): make it the lightest, and feed it slowly"
            )
            flag("last-pass-heavy", one.rise, lightest, text)
    return found


def _split(share: float) -> str:
    return f"take it in {math.ceil(share - 1e-9)} passes"


def _way_out(scene: Scene, one: Pass, load: Load, share: float, u: Units) -> str:
    """Return the cheapest way to bring a force within its limit.

    Force goes with the root of the feed while shavings are thick, and hardly at all once the edge rubs: a
    slower feed serves where it leaves the shavings thick enough, else only less wood in a pass does.
    """
    slower = one.feed_speed / share**2
    if load.chip_thickness_max / share**2 > 2 * scene.limits.thin_chip:
        return f"feed at {u.feed(slower)} or slower, or {_split(share)}"
    return _split(share)


def _band(load: Load, name: str) -> str:
    low, usual, high = (abs(getattr(forces, name)) for forces in (load.low, load.usual, load.high))
    return f"{usual:.0f} ({min(low, high):.0f} to {max(low, high):.0f})"
