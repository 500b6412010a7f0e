"""The plan of the saw table to scale, with every dimension in rows round it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.cut.fence import FenceLayout
from sweep.cut.lines_on_table import Box, along_box
from sweep.scene.model import WholeScene
from sweep.show.draw.saw_from_above import FromAbove, angle_parts, feed_arrow, fence_beyond, marks, saw_parts
from sweep.show.draw.sketch import Drawing, Part, across, drawing, path, upright, words
from sweep.show.say.fence import beside, rip_gap
from sweep.units import Units

FIRST, ROW, BEYOND = 7.0, 7.0, 6.0
"""mm of paper. From the table to the first row of dimensions, from row to row, and beyond the last."""

_AROUND = 40.0  # mm. drawn beyond the marks where the scene has no table
_MOST_SLOTS = 2
_LETTER = 2.9  # height of a line of words, mm of paper
_WIDE = 1.5  # width of one letter
_ABOVE, _ASIDE = 2.1, 2.2  # from a dimension's line to the middle of its words, and from its end to words beside it


@dataclass(frozen=True)
class Dimension:
    """One dimension along an edge.

    Parameters
    ----------
    ends : (float, float), mm
        x at the front and rear edges, y at the left and right ones.
    label : str
    weighty : bool
        Whether it sets the fence.
    """

    ends: tuple[float, float]
    label: str
    weighty: bool = False


Rows = dict[str, list[list[Dimension]]]
"""Rows of dimensions by edge, the innermost first."""


@dataclass(frozen=True)
class TablePlan:
    """What is drawn, before its scale is chosen.

    Parameters
    ----------
    scene : WholeScene
    layout : FenceLayout
    units : Units
    edges : Box
        Of the table, or of the part of a table that the scene does not give.
    rows : Rows
    """

    scene: WholeScene
    layout: FenceLayout
    units: Units
    edges: Box
    rows: Rows

    def size(self, scale: float) -> tuple[float, float]:
        """Return width and height on paper at 1 : `scale`, mm."""
        left, right, front, rear = self.limits(scale)
        return (right - left) / scale, (rear - front) / scale

    def limits(self, scale: float) -> Box:
        """Return the limits of the drawing at 1 : `scale`, mm."""
        room = {edge: scale * (FIRST + ROW * len(rows) + BEYOND) for edge, rows in self.rows.items()}
        left, right, front, rear = self.edges
        return left - room["left"], right + room["right"], front - room["front"], rear + room["rear"]


def table_plan(scene: WholeScene, layout: FenceLayout, units: Units) -> TablePlan:
    """Return the plan of a scene with a set-up and passes, and its fence measured `beside` the blade."""
    edges = scene.saw.edges or _part_of_a_table(scene, layout, beside(units))
    rows: Rows = {edge: [] for edge in ("left", "right", "front", "rear")}
    for line, name in ((layout.face, "fence"), (layout.opposite, "second fence"))[: 1 + layout.has_second]:
        for mark in line.marks:
            upright_edge = mark.edge in ("left", "right")
            start = edges[2] if upright_edge and layout.on_table else 0.0
            if scene.feed.along_blade:  # a rip fence is set from the nearest teeth
                start = mark.along_edge - (1 if layout.side == "near" else -1) * rip_gap(scene)
                name = "fence to teeth"
            rows[mark.edge].append([_between(start, mark.along_edge, name, units, line is layout.face)])
            if line is layout.face:
                nearest = _nearest(scene.saw.slots, mark.x)
                rows[mark.edge] += [
                    [_between(slot, mark.x, "slot to fence", units, True)] for slot in nearest if mark.from_slots
                ]
    if layout.on_table:
        saw = scene.saw
        slots = [
            _between(0.0, slot, "", units)
            for slot in (*sorted(s for s in saw.slots if s < 0)[-1:], *sorted(s for s in saw.slots if s > 0)[:1])
        ]
        rows["front"] += [slots] if slots else []
        rows["front"] += [[_between(edges[0], 0.0, "to blade", units)], [_between(*edges[:2], "table", units)]]
        rows["left"] += [[_between(edges[2], 0.0, "to blade's centre", units)], [_between(*edges[2:], "table", units)]]
    else:
        apart = [_between(0.0, way * beside(units), "", units) for way in (-1, 1)]
        rows["left" if layout.angle <= math.pi / 4 else "front"].append(apart)
    return TablePlan(scene, layout, units, edges, rows)


def _nearest(slots: tuple[float, ...], x: float) -> list[float]:
    return sorted(slots, key=lambda slot: abs(x - slot))[:_MOST_SLOTS]


def _between(start: float, end: float, name: str, units: Units, weighty: bool = False) -> Dimension:
    low, high = min(start, end), max(start, end)
    return Dimension((low, high), f"{name} {units.tape(high - low)}".strip(), weighty)


def _part_of_a_table(scene: WholeScene, layout: FenceLayout, away: float) -> Box:
    """Return a rectangle that ends at the lines of measurement and holds what lies between them."""
    marks = [mark.along_edge for line in (layout.face, layout.opposite) for mark in line.marks]
    reach = max(map(abs, marks)) + scene.fence.thickness + _AROUND
    return (-reach, reach, -away, away) if layout.angle <= math.pi / 4 else (-away, away, -reach, reach)


def plan_drawing(plan: TablePlan, scale: float) -> Drawing:
    """Return a plan at 1 : `scale`."""
    left, _, _, rear = plan.limits(scale)
    corner = (plan.edges[0] - left) / scale, (rear - plan.edges[3]) / scale
    view = FromAbove(plan.scene, plan.layout, plan.edges, 1 / scale, corner)
    wide, high = plan.size(scale)
    parts = [
        fence_beyond(view),
        *saw_parts(view),
        *lines_of_measurement(view),
        *feed_arrow(view, 0.72, 0.42),
        *marks(view),
    ]
    parts += _names(view, plan.units) + angle_parts(view, 26.0, 9.0)
    for edge, rows in plan.rows.items():
        for number, row in enumerate(rows):
            for dimension in row:
                parts += _dimension(view, edge, number, dimension)
    middle = view.table[0] + view.table[2] / 2
    return drawing(wide, high, parts, [words("operator's side", middle, high - 0.45 * BEYOND, bold=True)])


def lines_of_measurement(view: FromAbove) -> list[Part]:
    """Return the lines across the table on which the fence is measured, where the scene gives no table."""
    left, right, front, rear = view.edges
    if view.layout.on_table:
        return []
    if view.layout.angle <= math.pi / 4:
        return [path(view.at([(left, level), (right, level)]), "axis") for level in (front, rear)]
    return [path(view.at([(level, front), (level, rear)]), "axis") for level in (left, right)]


def _names(view: FromAbove, units: Units) -> list[Part]:
    """Return what is written on the things themselves, where there is room."""
    scene, layout, parts = view.scene, view.layout, []
    turn, hand, scale = view.turn, view.hand, view.scale
    if (
        scene.saw.throat is not None
    ):  # where neither stock nor fence lies: behind the blade on its left, or before it on its right
        long, wide = scene.saw.throat
        x, y = view.at((hand * -wide / 2, hand * (long / 2))) + (0, -hand * 2.4)
        said = f"throat {units.tape(long)} x {units.tape(wide)}"
        parts.append(words(said, x, y, "right" if hand > 0 else "left", halo=True))
    face, ends = layout.face.across, view.fence_ends
    if scene.fence.thickness * scale > _LETTER:
        place = view.along(face + hand * scene.fence.thickness / 2, 0.48 * ends[0] + 0.52 * ends[1])
        said = f"fence, {units.tape(scene.fence.thickness)} thick"
        parts.append(words(said, *view.spot(place), turn=turn, colour="paper"))
    other = layout.opposite.across
    run = along_box(view.edges, scene.feed, other)
    if run is not None and layout.has_second:
        place = view.along(other - hand * 2.4 / scale, 0.8 * run[0] + 0.2 * run[1])
        parts.append(words("second fence", *view.spot(place), turn=turn, halo=True))
    run = along_box(view.edges, scene.feed, scene.setup.offset)
    if run is not None and scene.stock.width * scale > _LETTER:
        first, last = max(run[0], -scene.stock.length / 2), min(run[1], scene.stock.length / 2)
        said = f"stock, {units.tape(scene.stock.width)} wide"
        parts.append(words("feed", *view.spot(view.along(scene.setup.offset, 0.72 * first - 6 / scale)), turn=turn))
        parts.append(words(said, *view.spot(view.along(scene.setup.offset, 0.58 * last)), turn=turn, halo=True))
    return parts


def _dimension(view: FromAbove, edge: str, number: int, dimension: Dimension) -> list[Part]:
    """Return one dimension in its row outside an edge of the table."""
    left, top, wide, high = view.table
    start = {"left": left, "right": left + wide, "front": top + high, "rear": top}[edge]
    level = start + (1 if edge in ("right", "front") else -1) * (FIRST + ROW * number)
    one, other = dimension.ends
    upright_edge = edge in ("left", "right")
    ends = view.at([(0, one), (0, other)])[:, 1] if upright_edge else view.at([(one, 0), (other, 0)])[:, 0]
    line = (upright if upright_edge else across)((float(ends[0]), float(ends[1])), start, level, "")
    along, anchor = _place(dimension, ends.tolist(), float(view.at((0, 0))[1 if upright_edge else 0]))
    by = level if anchor != "centre" else level - _ABOVE
    place = (by, along) if upright_edge else (along, by)
    if upright_edge and anchor != "centre":  # turned, words begin at the bottom
        anchor = "right" if anchor == "left" else "left"
    turn = -90 if upright_edge else 0
    return [*line, words(dimension.label, *place, anchor, turn=turn, bold=dimension.weighty, halo=True)]


def _place(dimension: Dimension, ends: list[float], blade: float) -> tuple[float, str]:
    """Return where along its line a dimension's words stand, mm of paper, and which end of theirs stands there.

    Words that are longer than the line would run over the strokes that end it. They stand beside it then, on the side
    that looks away from the blade.
    """
    low, high = min(ends), max(ends)
    letter = _WIDE * (1.16 if dimension.weighty else 1.0)
    if high - low > letter * len(dimension.label) + 1:
        return (low + high) / 2, "centre"
    return (low - _ASIDE, "right") if (low + high) / 2 < blade else (high + _ASIDE, "left")
