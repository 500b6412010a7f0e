"""The fence on the saw table from above, small, with what sets it; `fence.png` has every dimension."""

from __future__ import annotations

from sweep.cut.fence import FenceLayout
from sweep.cut.lines_on_table import Mark, along_box
from sweep.scene.model import WholeScene
from sweep.show.draw.dimensioned_plan import table_plan
from sweep.show.draw.saw_from_above import FromAbove, angle_parts, feed_arrow, marks, saw_parts
from sweep.show.draw.sketch import Drawing, Part, drawing, words
from sweep.show.say.fence import aside
from sweep.units import Units

_ABOVE, _BELOW = 7.0, 12.0  # room above the table and below it, mm
_BESIDE = 8.0  # room beside it, where words stand upright, mm
_ANGLE = 17.0  # radius of the angle's arc, mm


def fence_sketch(scene: WholeScene, layout: FenceLayout, units: Units, width: float, height: float) -> Drawing:
    """Return the plan, as large as it fits in a room, mm; not to a scale anybody measures by."""
    plan = table_plan(scene, layout, units)
    left, right, front, rear = plan.edges
    scale = min((width - 2 * _BESIDE) / (right - left), (height - _ABOVE - _BELOW) / (rear - front))
    corner = (width - (right - left) * scale) / 2, _ABOVE
    view = FromAbove(scene, plan.layout, plan.edges, scale, corner)
    parts = [*saw_parts(view), *feed_arrow(view), *marks(view), *angle_parts(view, _ANGLE, 9.0), *_names(view)]
    for mark in plan.layout.face.marks:
        parts.append(_distance(scene, mark, *view.spot((mark.x, mark.y)), units))
    tall = view.table[3]
    parts.append(words("operator's side", width / 2, _ABOVE + tall + _BELOW - 2.5, size=8, bold=True))
    return drawing(width, tall + _ABOVE + _BELOW, parts)


def _names(view: FromAbove) -> list[Part]:
    """Return the names of the fence and of a second one beside them."""
    parts, hand, face = [], view.hand, view.layout.face.across
    outer = face + hand * (view.scene.fence.thickness + 2.2 / view.scale)
    named = [("fence", outer)]
    if view.layout.has_second:
        named.append(("second fence", view.layout.opposite.across - hand * 2.2 / view.scale))
    for name, line in named:
        run = along_box(view.edges, view.scene.feed, line)
        if run is not None:  # in the half of the table that the angle leaves free
            share = 0.25 if hand > 0 else 0.75
            place = view.along(line, (1 - share) * run[0] + share * run[1])
            parts.append(words(name, *view.spot(place), size=7.5, turn=view.turn, halo=name != "fence"))
    return parts


def along_edge(scene: WholeScene, mark: Mark, units: Units) -> str:
    """Return how far along its edge a mark lies: to the side of the blade, or from the front edge, or of the centre."""
    if mark.edge in ("front", "rear"):
        return aside(mark.x, units)
    if scene.saw.front_to_blade is not None:
        return units.tape(mark.y + scene.saw.front_to_blade)
    return f"{units.tape(abs(mark.y))} {'before' if mark.y < 0 else 'beyond'}"


def _distance(scene: WholeScene, mark: Mark, x: float, y: float, units: Units) -> Part:
    """Return how far along an edge the fence's face crosses it, in words beside the mark."""
    shown = along_edge(scene, mark, units)
    if mark.edge in ("front", "rear"):
        return words(shown, x, y + (4.2 if mark.edge == "front" else -4.2), size=9, bold=True)
    out = 1 if mark.edge == "right" else -1
    return words(shown, x + 4.2 * out, y, size=9, bold=True, turn=-90)
