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
from sweep.cut.job import Job
from sweep.cut.wood import MOISTURE, wood_of
from sweep.scene.model import Scene
from sweep.shape import solid
from sweep.units import Units, rpm

HOLDS_OFF = 0.5
"""N. A pull off the fence smaller than this is less than friction on the table holds."""


def find_flags(job: Job, units: Units) -> tuple[Flag, ...]:
    """Return every flag of a job: those of the whole job first, then pass by pass."""
    flags = [*_of_the_job(job, units)]
    for number in range(1, len(job.passes) + 1):
        flags += flags_of_pass(job, number, units)
    return tuple(flags)


def _of_the_job(job: Job, u: Units) -> list[Flag]:
    scene, limits = job.scene, job.scene.limits
    flags = short_stock(scene, u)
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
    flags += [*_moist(job), *_off_the_fence(job), *flags_of_table(scene, u), *_wood_left(job, u)]
    return [*flags, *flags_of_finishing(job, u), *flags_of_panel(scene, u)]


def short_stock(scene: Scene, u: Units) -> list[Flag]:
    """Return a flag where the stock is too short to pass over the blade."""
    length, least = scene.stock.length, scene.limits.stock_length
    if length >= least:
        return []
    message = (
        f"the stock is {u.length(length)} long, too short to pass safely under {u.length(least)}: cut the cove on a "
        "longer piece and crosscut afterwards"
    )
    return [Flag("stock-short", None, length, least, message)]


def _moist(job: Job) -> list[Flag]:
    """Return a flag where the wood is drier or wetter than the published force constants are for."""
    moisture = job.scene.stock.moisture
    nearest = min(max(moisture, MOISTURE[0]), MOISTURE[1])
    if moisture == nearest or wood_of(job.scene.stock) is None:
        return []
    message = (
        f"at {100 * moisture:.0f} % moisture forces and power are not known: their constants are for about 12 %, "
        "and are shown unchanged; dry the wood, or take the figures for less than estimates"
    )
    return [Flag("moisture-unknown", None, moisture, nearest, message)]


def _off_the_fence(job: Job) -> list[Flag]:
    """Return a flag where the blade pulls the work off the fence: only a second guide can hold it there."""
    known = [load.usual.fence for load in job.loads if load.usual is not None]
    worst = min(known, default=0.0)
    if worst >= -HOLDS_OFF:
        return []
    side = "operator's" if job.scene.setup.fence_side == "far" else "far"
    return [
        Flag(
            "off-the-fence",
            None,
            worst,
            -HOLDS_OFF,
            f"the blade pulls the work off the fence with about {-worst:.0f} N (an estimate): clamp a second fence "
            f"on the {side} side of the stock, or set the fence on the other side of the blade",
        )
    ]


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
