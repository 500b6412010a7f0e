"""Whether the stock can be held: large enough, with wood enough left above the cove and flat enough beside it.

Hands and push blocks ride on the stock, over the blade. What is too small is cut as a larger piece, which is brought to
size afterwards.
"""

from __future__ import annotations

import shapely

from sweep.check.flag import Code, Flag
from sweep.cut.job import Job
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.tolerance import AREA_NOTHING, AS_MUCH, SAME_HEIGHT
from sweep.units import LENGTH


def small_stock(scene: WholeScene) -> list[Flag]:
    """Return flags where the stock is too short, too narrow or too thin to be held over the blade."""
    stock, limits = scene.stock, scene.limits
    sizes: tuple[tuple[Code, float, float], ...] = (
        ("stock-short", stock.length, limits.stock_length),
        ("stock-narrow", stock.width, limits.stock_width),
        ("stock-thin", stock.thickness, limits.stock_thickness),
    )
    return [Flag(code, None, given, least, LENGTH) for code, given, least in sizes if given < least - SAME_HEIGHT]


def flags_of_what_is_left(job: Job) -> list[Flag]:
    """Return flags on the wood that is left above the cove and on the flat that rides on the table beside it.

    A blade that misses the stock leaves all of it, and is flagged for that alone.
    """
    scene, limits, last = job.scene, job.scene.limits, job.sections[-1]
    if sum(one.area for one in job.sections) <= AREA_NOTHING:
        return [Flag("stock-missed", None, _missed_by(job), 0.0, LENGTH)]
    flags = []
    above = scene.stock.thickness - last.top
    if above < limits.wood_above - AS_MUCH:
        flags.append(Flag("wood-above-thin", None, above, limits.wood_above, LENGTH))
    if last.edges is None:
        return flags
    half = scene.stock.width / 2
    shoulders = max(0.0, last.edges[0] + half), max(0.0, half - last.edges[1])
    narrow = [
        Flag("shoulder-narrow", None, left, limits.shoulder, LENGTH, side)
        for side, left in zip(("left", "right"), shoulders, strict=True)
        if left < limits.shoulder - AS_MUCH
    ]
    if not narrow and sum(shoulders) < limits.contact - AS_MUCH:
        return [*flags, Flag("contact-small", None, sum(shoulders), limits.contact, LENGTH)]
    return [*flags, *narrow]


def _missed_by(job: Job) -> float:
    """Return how far the blade, at its full height, passes beside the stock, mm."""
    scene, stock = job.scene, job.scene.stock
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height, job.fineness.section_chord)
    room = section.stock_section(10 * scene.tool.radius + 2 * abs(scene.setup.offset), stock.thickness)
    return float(shapely.distance(section.within(cut, room), section.stock_section(stock.width, stock.thickness)))
