"""What an estimate may exceed though its usual value does not: mild flags, one a limit, for the worst pass.

Forces are known to a factor of four between soft wood under sharp edges and hard wood under dull ones. Flags go by the
usual value; where only the far end of the band is past a limit the maker is told, and the status of a run stays 0.
"""

from __future__ import annotations

import math

from sweep.check.flag import Code, Flag
from sweep.check.limits import HOLDS_OFF
from sweep.cut.fence import fence_on_table
from sweep.cut.job import Job
from sweep.cut.push import push_of
from sweep.figure import Figure, force, length, named, power
from sweep.units import FORCE, LENGTH, POWER, Kind


def may_exceed(job: Job, flags: tuple[Flag, ...]) -> tuple[Flag, ...]:
    """Return mild flags of a job: of each limit that no flag of `flags` is about already."""
    limits, blade = job.scene.limits, job.scene.blade
    flagged = {flag.code for flag in flags}
    found: list[tuple[float, Flag]] = []
    layout = fence_on_table(job.scene)
    second = {} if layout.has_second else {"second_fence_cut": length(-layout.clear_opposite)}

    def look(code: Code, number: int | None, value: float, limit: float, kind: Kind, **figures: Figure) -> None:
        if value > limit and code not in flagged:
            found.append((value, Flag(code, number, value, limit, kind, figures=named(**figures), may=True)))

    for one, load, moments in zip(job.passes, job.loads, job.ends, strict=True):
        # a proud tooth takes its run-out more, and what the rim wobbles from tooth to tooth; at most a turn's feed
        more = blade.runout + math.pi * blade.wobble / blade.teeth
        thickest = min(blade.teeth * load.chip_thickness_max, load.chip_thickness_max + more)
        look("chip-thick", one.number, thickest, limits.chip_thickness, LENGTH, usual=length(load.chip_thickness_max))
        if load.low is None or load.usual is None or load.high is None:
            continue
        if job.scene.saw.motor is not None:
            gives = job.scene.saw.motor * job.scene.saw.efficiency
            look("power-high", one.number, load.high.power, gives, POWER, usual=power(load.usual.power))
        usual, most = push_of(job.scene, load.usual), push_of(job.scene, load.high)
        look("push-hard", one.number, most, limits.push, FORCE, usual=force(usual))
        if load.deflection is not None and load.usual.side != 0.0:
            most = max(abs(forces.side) for forces in (load.low, load.usual, load.high))
            bent = load.deflection * most / abs(load.usual.side)
            look("plate-bends", one.number, bent, limits.side_deflection, LENGTH, usual=length(load.deflection))
        if job.scene.feed.along_blade:
            continue  # a rip is held to its fence by a featherboard before the blade
        # alone of all forces it may be worse while the blade enters or leaves
        steady = [forces.fence for forces in (load.low, load.usual, load.high)]
        ends = [forces.fence for at in moments for forces in (at.low, at.forces, at.high) if forces is not None]
        when = {} if min(steady) <= min(ends, default=0.0) else {"steady": force(min(steady))}
        least, into = min(steady + ends), force(max(steady + ends))
        look("off-the-fence", one.number, -least, HOLDS_OFF, FORCE, into=into, **when, **second)
    worst: dict[Code, tuple[float, Flag]] = {}
    for value, flag in found:
        if flag.code not in worst or value > worst[flag.code][0]:
            worst[flag.code] = value, flag
    return tuple(flag for _, flag in worst.values())
