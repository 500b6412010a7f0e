"""What the plan of the saw table shows, before it is drawn: its outline, its rows of dimensions, its size on paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.cut.fence import FenceLayout, fence_on_table
from sweep.cut.lines_on_table import Box
from sweep.scene.model import Scene
from sweep.show.say.fence import beside
from sweep.units import Units

FIRST, ROW, BEYOND = 7.0, 7.0, 6.0
"""mm of paper. From the table to the first row of dimensions, from row to row, and beyond the last."""

SLOT_WIDTH = 19.0
"""mm. As mitre slots are drawn: 3/4 in, common practice."""

_AROUND = 40.0  # mm. drawn beyond the marks where the scene has no table
_MOST_SLOTS = 2


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
    scene : Scene
    layout : FenceLayout
    units : Units
    edges : Box
        Of the table, or of the part of a table that the scene does not give.
    rows : Rows
    """

    scene: Scene
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


def plan_of(scene: Scene, units: Units) -> TablePlan:
    """Return the plan of a scene with a set-up and passes."""
    layout = fence_on_table(scene, beside(units))
    edges = scene.saw.edges or _part_of_a_table(scene, layout, beside(units))
    rows: Rows = {edge: [] for edge in ("left", "right", "front", "rear")}
    for line, name in ((layout.face, "fence"), (layout.opposite, "second fence")):
        for mark in line.marks:
            upright_edge = mark.edge in ("left", "right")
            start = edges[2] if upright_edge and layout.on_table else 0.0
            rows[mark.edge].append([_between(start, mark.along_edge, name, units, line is layout.face)])
            if line is layout.face:
                nearest = sorted(scene.saw.slots, key=lambda slot, mark=mark: abs(mark.x - slot))[:_MOST_SLOTS]
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


def _between(start: float, end: float, name: str, units: Units, weighty: bool = False) -> Dimension:
    low, high = min(start, end), max(start, end)
    return Dimension((low, high), f"{name} {units.tape(high - low)}".strip(), weighty)


def _part_of_a_table(scene: Scene, layout: FenceLayout, away: float) -> Box:
    """Return a rectangle that ends at the lines of measurement and holds what lies between them."""
    marks = [mark.along_edge for line in (layout.face, layout.opposite) for mark in line.marks]
    reach = max(map(abs, marks)) + scene.fence.thickness + _AROUND
    return (-reach, reach, -away, away) if layout.angle <= math.pi / 4 else (-away, away, -reach, reach)
