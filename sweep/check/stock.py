"""Whether the stock can be held: large enough, with wood enough left above the cove and flat enough beside it.

Hands and push blocks ride on the stock, over the blade. What is too small is cut as a larger piece, which is brought to
size afterwards.
"""

from __future__ import annotations

import shapely

from sweep.check.bearing import flats_beside, wood_above
from sweep.check.flag import Code, Flag
from sweep.cut.blank import wood_section
from sweep.cut.job import Job
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.tolerance import AREA_NOTHING, AS_MUCH, SAME_HEIGHT
from sweep.units import LENGTH


def small_stock(scene: WholeScene) -> list[Flag]:
    """Return flags where the stock is too short, too narrow or too thin to be held over the blade.

    A straight rip is guided by the saw's own fence, and narrow stock is held there by push sticks: it may not be short.
    """
    stock, limits = scene.stock, scene.limits
    sizes: tuple[tuple[Code, float, float], ...] = (
        ("stock-short", stock.length, limits.stock_length),
        ("stock-narrow", stock.width, limits.stock_width),
        ("stock-thin", stock.thickness, limits.stock_thickness),
    )
    judged = sizes[:1] if scene.feed.along_blade else sizes
    return [Flag(code, None, given, least, LENGTH) for code, given, least in judged if given < least - SAME_HEIGHT]


def flags_of_what_is_left(job: Job) -> list[Flag]:
    """Return flags on the wood that is left above the cut and on the flat that rides on the table beside it.

    A straight rip goes right through where it is meant to, and rides on what lies along its fence. A blade that misses
    the stock leaves all of it, and is flagged for that alone.
    """
    scene, limits = job.scene, job.scene.limits
    if sum(one.area for one in job.sections) <= AREA_NOTHING:
        part = "at" if scene.feed.along_blade else "offset"
        return [Flag("stock-missed", None, _missed_by(job), 0.0, LENGTH, part)]
    flags = []
    above = wood_above(job)
    if above < limits.wood_above - AS_MUCH:
        flags.append(Flag("wood-above-thin", None, above, limits.wood_above, LENGTH))
    shoulders = flats_beside(job)
    if shoulders is None:
        return flags
    sides = dict(zip(("left", "right"), shoulders, strict=True))
    if scene.feed.along_blade:
        fence = {"near": "right", "far": "left"}[scene.setup.fence_side]
        sides = {fence: sides[fence]}
    narrow = [
        Flag("shoulder-narrow", None, left, limits.shoulder, LENGTH, side)
        for side, left in sides.items()
        if left < limits.shoulder - AS_MUCH
    ]
    if not (narrow or scene.feed.along_blade) and sum(shoulders) < limits.contact - AS_MUCH:
        return [*flags, Flag("contact-small", None, sum(shoulders), limits.contact, LENGTH)]
    return [*flags, *narrow]


def _missed_by(job: Job) -> float:
    """Return how far the blade, at its full height, passes beside the stock, mm."""
    scene, stock = job.scene, job.scene.stock
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height, job.fineness.section_chord)
    room = section.stock_section(10 * scene.tool.radius + 2 * abs(scene.setup.offset), stock.thickness)
    return float(shapely.distance(section.within(cut, room), wood_section(stock, job.fineness.chord)))
