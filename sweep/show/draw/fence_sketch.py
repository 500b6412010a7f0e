"""The fence on the saw table from above, small, with what sets it; `fence.png` has every dimension."""

from __future__ import annotations

from sweep.cut.fence import FenceLayout
from sweep.cut.lines_on_table import TapeMark, along_box
from sweep.scene.model import WholeScene
from sweep.show.draw.dimensioned_plan import table_plan
from sweep.show.draw.saw_from_above import FromAbove, angle_parts, feed_arrow, marks, saw_parts
from sweep.show.draw.sketch import Drawing, Part, drawing, kept_within, words
from sweep.show.say.fence import aside, rip_gap
from sweep.units import Units

_ABOVE, _BELOW = 7.0, 12.0  # room above the table and below it, mm
_BESIDE = 8.0  # room beside it, where words stand upright, mm
_ANGLE = 17.0  # radius of the angle's arc, mm


def fence_sketch(scene: WholeScene, layout: FenceLayout, units: Units, width: float, height: float) -> Drawing:
    """Return the plan, as large as it fits in a room, mm; not to a scale anybody measures by."""
    view, (wide, tall) = table_in(scene, layout, units, width, height)
    parts = [*saw_parts(view), *feed_arrow(view), *(kept_within(part, wide) for part in set_by(view, units))]
    return drawing(wide, tall, parts, [words("operator's side", wide / 2, tall - 2.5, size=8, bold=True)])


def table_in(
    scene: WholeScene, layout: FenceLayout, units: Units, width: float, height: float, above: float = _ABOVE
) -> tuple[FromAbove, tuple[float, float]]:
    """Return the table as large as it fits in a room with all that is written, and width and height of both; mm.

    `above` is the room above the table.
    """
    plan = table_plan(scene, layout, units)
    left, right, front, rear = plan.edges
    scale = min((width - 2 * _BESIDE) / (right - left), (height - above - _BELOW) / (rear - front))
    view = FromAbove(scene, plan.layout, plan.edges, scale, ((width - (right - left) * scale) / 2, above))
    return view, (width, view.table[3] + above + _BELOW)


def set_by(view: FromAbove, units: Units) -> list[Part]:
    """Return what sets the fence: its marks with their distances, its angle, its name."""
    parts = [*marks(view), *angle_parts(view, _ANGLE, 9.0), *_names(view)]
    for mark in view.layout.face.marks:
        parts.append(_distance(view.scene, mark, *view.spot((mark.x, mark.y)), units))
    return parts


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


def along_edge(scene: WholeScene, mark: TapeMark, units: Units) -> str:
    """Return how far along its edge a mark lies: to the side of the blade, or from the front edge, or of the centre."""
    if mark.edge in ("front", "rear"):
        return aside(mark.x, units)
    if scene.saw.front_to_blade is not None:
        return units.tape(mark.y + scene.saw.front_to_blade)
    return f"{units.tape(abs(mark.y))} {'before' if mark.y < 0 else 'beyond'}"


def _distance(scene: WholeScene, mark: TapeMark, x: float, y: float, units: Units) -> Part:
    """Return how far along an edge the fence's face crosses it, in words beside the mark; a rip's from the teeth."""
    rip = scene.feed.along_blade  # measured to a tooth, half a kerf from the blade's plane
    shown = units.nearest(rip_gap(scene)) if rip else along_edge(scene, mark, units)
    if mark.edge in ("front", "rear"):
        return words(shown, x, y + (4.2 if mark.edge == "front" else -4.2), size=9, bold=True, halo=True)
    out = 1 if mark.edge == "right" else -1
    return words(shown, x + 4.2 * out, y, size=9, bold=True, turn=-90, halo=True)
