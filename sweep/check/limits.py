"""What should give the maker pause: each pass and the whole job against the limits of the scene.

A flag is data, not an error: the run is complete all the same. Limits named 'common practice' are
habits of the trade, not rules, and none of them is a permission.
"""

from __future__ import annotations

from sweep.check.finish import flags_of_finishing
from sweep.check.fits_saw import flags_of_table
from sweep.check.flag import Flag
from sweep.check.panel import flags_of_panel
from sweep.check.passes import flags_of_pass
from sweep.check.stock import flags_of_what_is_left, small_stock
from sweep.cut.fence import fence_on_table
from sweep.cut.job import Job
from sweep.cut.wood import MOISTURE
from sweep.cut.wood_table import wood_of
from sweep.figure import force, length, named, volume
from sweep.scene.model import WholeScene
from sweep.shape import solid
from sweep.units import ANGLE, COUNT, FORCE, ROTATION, SHARE, SPEED

HOLDS_OFF = 0.5
"""N. A pull off the fence smaller than this is less than friction on the table holds."""


def find_flags(job: Job) -> tuple[Flag, ...]:
    """Return every flag of a job: those of the whole job first, then pass by pass."""
    flags = [*_of_the_job(job)]
    for number in range(1, len(job.passes) + 1):
        flags += flags_of_pass(job, number)
    return tuple(flags)


def _of_the_job(job: Job) -> list[Flag]:
    scene = job.scene
    return [
        *small_stock(scene),
        *_rim(scene),
        *_freed(job),
        *_moist(job),
        *_off_the_fence(job),
        *_steep(scene),
        *flags_of_table(scene),
        *flags_of_what_is_left(job),
        *flags_of_finishing(job),
        *flags_of_panel(scene),
    ]


def _rim(scene: WholeScene) -> list[Flag]:
    """Return a flag where the blade turns faster than it is marked for; the rim's speed where it bears no mark."""
    marked, turning = scene.blade.max_speed, scene.saw.speed
    if marked is not None and turning > marked:
        return [Flag("rim-fast", None, turning, marked, ROTATION)]
    rim, most = turning * scene.tool.radius, scene.limits.rim_speed
    return [Flag("rim-fast", None, rim, most, SPEED)] if rim > most else []


def _freed(job: Job) -> list[Flag]:
    """Return a flag where the cut leaves more than one piece; of a later set-up what falls off tells it."""
    if job.scene.stock.blank is not None:
        return []
    parts = solid.pieces(job.finished.body)
    if len(parts) == 1:
        return []
    smallest = named(smallest=volume(min(solid.volume(part) for part in parts)))
    return [Flag("piece-freed", None, len(parts), 1, COUNT, figures=smallest)]


def _moist(job: Job) -> list[Flag]:
    """Return a flag where the wood is drier or wetter than the published force constants are for."""
    moisture = job.scene.stock.moisture
    nearest = min(max(moisture, MOISTURE[0]), MOISTURE[1])
    if moisture == nearest or wood_of(job.scene.stock) is None:
        return []
    return [Flag("moisture-unknown", None, moisture, nearest, SHARE)]


def _off_the_fence(job: Job) -> list[Flag]:
    """Return a flag where the blade pulls the work off the fence: only a second one can hold it there.

    Where the blade would cut a second one too, the flag says how far it would; where it pulls so only as it enters or
    leaves the stock, how it is in between. A rip is held to its fence by a featherboard before the blade.
    """
    if job.scene.feed.along_blade:
        return []
    steady = min((load.usual.fence for load in job.loads if load.usual is not None), default=0.0)
    at_ends = min((one.forces.fence for ends in job.ends for one in ends if one.forces is not None), default=0.0)
    worst = min(steady, at_ends)
    if worst >= -HOLDS_OFF:
        return []
    layout = fence_on_table(job.scene)
    figures = () if layout.has_second else named(second_fence_cut=length(-layout.clear_opposite))
    figures += named(steady=force(steady)) if steady >= -HOLDS_OFF else ()
    return [Flag("off-the-fence", None, worst, -HOLDS_OFF, FORCE, job.scene.setup.fence_side, figures)]


def _steep(scene: WholeScene) -> list[Flag]:
    """Return a flag where the fence is so steep that the stock goes more into the blade's side than along it."""
    angle, most = scene.setup.fence_angle, scene.limits.fence_angle
    return [Flag("fence-steep", None, angle, most, ANGLE)] if angle > most else []
