"""Pictures of the wood's end, looking along the feed: the blank, on the saw before a cut, and as it is afterwards."""

from __future__ import annotations

import numpy as np

from sweep.cut.blank import wood_section
from sweep.cut.finish import Finishing
from sweep.cut.passes import PassSection
from sweep.plan.correct.measured import has_edges
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.show.draw.at_saw.room import BELOW, HEIGHT, LARGE, WIDTH, WORDS, Place, is_flat, placed, seen, window
from sweep.show.draw.colours import STEEL, hexed
from sweep.show.draw.section import DRAWN_CHORD
from sweep.show.draw.sketch import Drawing, Part, across, box, cross, drawing, path, upright, words
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport

_TALLEST = 30.0  # a fence is drawn no higher, mm: only that it is there matters
_TABLE = 2.6  # the table's thickness, mm of drawing
_GAP = 4.0  # from the wood to a dimension, mm of drawing
_ASIDE = 6.0  # room for an upright dimension, mm of drawing
_TAKES = "#f6e2b8"  # what a pass takes, of the wood


def stock_end(report: Report) -> Drawing:
    """Return the end of a blank with its width and thickness, and the edge for the fence."""
    scene, units = report.scene, report.units
    stock, half = scene.stock, scene.stock.width / 2
    place = placed(-half, half, stock.thickness, (_ASIDE, 0.0))
    (left, base), (right, top) = place.line([(-half, 0.0), (half, stock.thickness)])
    parts = place.figure(wood_section(stock, DRAWN_CHORD), "edge", "wood")
    parts += across((left, right), top, top - _GAP, units.length(stock.width), LARGE)
    thick = units.length(stock.thickness)
    if is_flat(stock):  # its figure would reach beyond both ends
        parts += upright((top, base), left, left - _GAP, "")
        parts.append(words(f"{thick} thick", left, base + 3.6, "left", LARGE))
    else:
        parts += upright((top, base), left, left - _GAP, thick, LARGE)
    return drawing(WIDTH, HEIGHT, parts, _to_the_fence(scene, place.base + BELOW - 2.2))


def block_end(report: Report) -> Drawing:
    """Return the end of the set-up block: the cut drawn on it, a numbered cross where the rim touches."""
    scene, units, stock = report.scene, report.units, report.scene.stock
    half, hand = stock.width / 2, 1 if scene.setup.fence_side == "near" else -1
    place, wood = _seen(report), wood_section(stock, DRAWN_CHORD)
    parts = place.figure(wood, "edge", "wood")
    parts += place.figure(section.within(_swept(scene, scene.setup.blade_height), wood), "edge", "taken")
    base, bottoms = place.base, [touch.from_fence for touch in report.layout.touches if touch.where == "bottom"]
    for number, touch in enumerate(report.layout.touches, start=1):
        x, y = place.line([(hand * (half - touch.from_fence), touch.height)])[0]
        parts += cross(x, y)
        if touch.where == "bottom":  # a flat bottom has two, a kerf apart
            aside = 2.6 * hand * (1 if touch.from_fence == min(bottoms) else -1) if len(bottoms) > 1 else 0.0
            parts.append(words(str(number), x + aside, y + 3.4, size=WORDS, bold=True))
        else:
            parts.append(words(str(number), x, base + 3.4, size=WORDS, bold=True))
    last = report.job.sections[-1]
    if not scene.feed.along_blade and last.top > 0:
        parts += _up_to(report, place, last, f"{units.length(scene.setup.blade_height)} up")
    return drawing(WIDTH, HEIGHT, parts, _to_the_fence(scene, place.base + BELOW - 2.2))


def on_the_saw(report: Report, number: int, height: float) -> Drawing:
    """Return the wood on the table at the fence, as a pass finds it, and the blade in it at a height."""
    scene, units = report.scene, report.units
    stock, half, hand = scene.stock, scene.stock.width / 2, 1.0 if scene.setup.fence_side == "near" else -1.0
    thick = min(scene.fence.thickness, 0.25 * stock.width)
    part = _window(report)
    sides = (part[0], part[1] + thick) if hand > 0 else (part[0] - thick, part[1])
    place = seen(*sides, max(_high(report), height))
    wood = report.job.sections[number - 2].left if number > 1 else wood_section(stock, DRAWN_CHORD)
    blade, base = _above_the_table(_swept(scene, height)), place.base
    tall = min(_TALLEST, 0.8 * _high(report)) * place.scale
    face, back = (float(place.at((hand * y, 0.0))[0]) for y in (half, half + thick))
    below = base + _TABLE + 2.6
    parts: list[Part] = [
        box(0.0, base, WIDTH, _TABLE, "", "table"),
        *place.figure(wood, "edge", "wood"),
        *place.figure(section.within(wood, blade), "hair", _TAKES),
        *place.figure(section.minus(blade, wood), "hair", hexed(STEEL)),
        *place.figure(blade, "thin"),
        path([(0.0, base), (WIDTH, base)], "edge"),
    ]
    if 0 < (face + back) / 2 < WIDTH:
        parts.insert(1, box(min(face, back), base - tall, abs(back - face), tall, "hair", "fence"))
        parts.append(words("fence", (face + back) / 2, below, size=WORDS, colour="faint"))
    else:  # only a part of a wide stock is drawn, and the fence is not beside it
        parts += _to_the_fence(scene, below)
    if section.parts(blade):
        highest = np.vstack(section.rings(blade))
        y, z = highest[np.argmax(highest[:, 1])].tolist()
        parts += _leader(place, y, z, max(_high(report), height), units.length(height))
    return drawing(WIDTH, HEIGHT, parts)


def after_pass(report: Report, number: int) -> Drawing:
    """Return the wood as it should look after a pass, off the saw, with what is measured on it."""
    scene, units, taken = report.scene, report.units, report.job.sections[number - 1]
    place, below = _seen(report), 4.0
    parts = place.figure(taken.left, "edge", "wood")
    if taken.edges is not None and has_edges(scene, taken):
        below = BELOW
        ends = place.line([(y, 0.0) for y in taken.edges])
        level, middle = place.base + 3.0, (ends[0][0] + ends[1][0]) / 2
        parts += across((ends[0][0], ends[1][0]), place.base, level, "")
        parts.append(words(units.nearest(taken.width), middle, level + 3.2, size=LARGE, bold=True))
        parts += _up_to(report, place, taken, f"{units.nearest(taken.top)} deep")
    return drawing(WIDTH, HEIGHT, parts, _to_the_fence(scene, place.base + below))


def _up_to(report: Report, place: Place, taken: PassSection, said: str) -> list[Part]:
    """Return how high the highest place of a cut is, said above the wood."""
    outline = np.vstack(section.rings(taken.left))
    if taken.edges is not None:
        within = (outline[:, 0] > taken.edges[0]) & (outline[:, 0] < taken.edges[1])
        outline = outline[within] if within.any() else outline
    y = float(outline[np.argmin(np.abs(outline[:, 1] - taken.top)), 0])
    if taken.edges is not None and report.scene.tilt == 0:
        y = min(max(sum(taken.edges) / 2, -report.scene.stock.width / 2), report.scene.stock.width / 2)
    return _leader(place, y, taken.top, _high(report), said)


def _leader(place: Place, y: float, height: float, above: float, said: str) -> list[Part]:
    """Return an upright dimension of a height at y, its words above what is `above`."""
    (x, base), (_, level), (_, top) = place.line([(y, 0.0), (y, height), (y, above)])
    ticks = [path([(x - 0.9, at + 0.9), (x + 0.9, at - 0.9)], "thin") for at in (base, level)]
    inside = 0.52 * 0.24 * LARGE * len(said) * 1.6
    middle = min(max(x, inside), WIDTH - inside)
    return [
        path([(x, base), (x, level)], "hair"),
        *ticks,
        path([(x, level), (x, top - 1.2)], "faint"),
        words(said, middle, top - 4.4, size=LARGE, bold=True),
    ]


def before_and_after(one: Finishing) -> Drawing:
    """Return what an operation after the cove takes of the section, as it lay for the cove."""
    if not one.changes:
        return drawing(WIDTH, HEIGHT, [words("it takes nothing", WIDTH / 2, HEIGHT / 2, size=WORDS)])
    bounds = [section.bounds_of(change.before) for change in one.changes]
    left, right = min(b[0] for b in bounds), max(b[2] for b in bounds)
    low, high = min(b[1] for b in bounds), max(b[3] for b in bounds)
    place = placed(left, right, high - low)
    place = Place(place.scale, place.middle, place.base + low * place.scale)
    parts: list[Part] = []
    for change in one.changes:
        parts += place.figure(change.before, "hair", "finishing")
    for change in one.changes:
        parts += place.figure(change.after, "edge", "wood")
    middle = float(place.at(((left + right) / 2, 0.0))[0])
    base, top = place.base - low * place.scale + 4.0, float(place.at((0.0, high))[1]) - 3.5
    parts.append(words("table face", middle, base, size=WORDS, colour="faint"))
    parts += [
        words("left", float(place.at((left, 0.0))[0]) + 3.0, top, size=WORDS, colour="faint"),
        words("right", float(place.at((right, 0.0))[0]) - 3.0, top, size=WORDS, colour="faint"),
    ]
    return drawing(WIDTH, HEIGHT, parts)


def finished(report: Report | SetupsReport) -> Drawing:
    """Return the end of what is kept: the wood as the last pass, or the last of several set-ups, leaves it."""
    if isinstance(report, Report):
        return drawing(WIDTH, HEIGHT, _seen(report).figure(report.job.sections[-1].left, "edge", "wood"))
    left = report.moulding.section_before(len(report.moulding.settings))
    low, _, high, top = section.bounds_of(left)
    return drawing(WIDTH, HEIGHT, placed(low, high, top).figure(left, "edge", "wood"))


def _window(report: Report) -> tuple[float, float]:
    """Return the part of the stock's width that is drawn, mm."""
    scene, edges = report.scene, report.job.sections[-1].edges
    half = scene.stock.width / 2
    middle = min(max(sum(edges) / 2 if edges is not None else scene.setup.offset, -half), half)
    return window(half, scene.stock.thickness, middle, half if scene.setup.fence_side == "near" else -half)


def _seen(report: Report) -> Place:
    return seen(*_window(report), _high(report))


def _high(report: Report) -> float:
    """Return how much of the stock's thickness is drawn, mm: of stock that stands on edge the part about the cut."""
    stock = report.scene.stock
    return min(stock.thickness, max(0.7 * stock.width, 1.6 * report.scene.setup.blade_height))


def _swept(scene: WholeScene, height: float) -> section.Figure:
    return section.cut_section(scene.tool, scene.feed, scene.tilt, height, DRAWN_CHORD)


def _above_the_table(swept: section.Figure) -> section.Figure:
    left, _, right, high = section.bounds_of(swept)
    return section.within(swept, section.stock_section(2 * max(abs(left), abs(right)), high))


def _to_the_fence(scene: WholeScene, level: float) -> list[Part]:
    """Return an arrow at the side of the picture where the fence is."""
    near = scene.setup.fence_side == "near"
    x, hand = (WIDTH - 2.0, 1) if near else (2.0, -1)
    tail = x - hand * 5.0
    head = [(x, level), (x - hand * 1.8, level - 0.9), (x - hand * 1.8, level + 0.9)]
    parts = [path([(tail, level), (x, level)], "edge"), path(head, "", "ink", closed=True)]
    return [*parts, words("fence", tail - hand * 1.0, level, "right" if near else "left", WORDS)]
