"""The fence on the saw table from above, small, with what sets it; `fence.png` has every dimension."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.cut.fence import FenceLayout
from sweep.cut.lines_on_table import Box, Mark, along_box
from sweep.scene.model import Scene
from sweep.shape.frame import centre_height
from sweep.show.draw.saw_from_above import SLOT_WIDTH, plan_of
from sweep.show.draw.sketch import Drawing, Part, Placing, box, drawing, path, words
from sweep.show.say.fence import aside
from sweep.units import Units, degrees

_ABOVE, _BELOW = 7.0, 12.0  # room above the table and below it, mm
_BESIDE, _LETTER = 8.0, 1.8  # room beside it, and more for each letter where a mark stands there, mm
_ANGLE = 17.0  # radius of the angle's arc, mm


def fence_sketch(scene: Scene, units: Units, width: float, height: float) -> Drawing:
    """Return the plan, as large as it fits in a room, mm; not to a scale anybody measures by."""
    plan = plan_of(scene, units)
    left, right, front, rear = edges = plan.edges
    at_sides = [mark for mark in plan.layout.face.marks if mark.edge in ("left", "right")]
    beside = _BESIDE + _LETTER * max((len(along_edge(scene, mark, units)) for mark in at_sides), default=0)
    scale = min((width - 2 * beside) / (right - left), (height - _ABOVE - _BELOW) / (rear - front))
    wide, tall = (right - left) * scale, (rear - front) * scale
    corner = np.array([(width - wide) / 2 - left * scale, _ABOVE + rear * scale])

    def at(points: ArrayLike) -> NDArray[np.float64]:
        return corner + np.asarray(points, float) * (scale, -scale)

    table = [*at((left, rear)).tolist(), wide, tall]
    layout, d, u = plan.layout, scene.feed.direction[:2], scene.feed.across[:2]
    hand = 1 if layout.side == "near" else -1
    reach = 2 * (right - left + rear - front)

    def strip(one: float, other: float) -> NDArray[np.float64]:
        return at([one * u - reach * d, one * u + reach * d, other * u + reach * d, other * u - reach * d])

    parts = [box(*table, "hair" if layout.on_table else "", "table")]
    for slot in scene.saw.slots:
        start = slot if slot > 0 else slot - SLOT_WIDTH
        parts.append(box(*at((start, rear)).tolist(), SLOT_WIDTH * scale, tall, "faint", "slot"))
    face, other = layout.face.across, layout.opposite.across
    parts.append(path(strip(face, other), "faint", "wood", closed=True, clip=table))
    parts.append(path(strip(face, face + hand * scene.fence.thickness), "edge", "fence", closed=True, clip=table))
    parts.append(path(at([other * u - reach * d, other * u + reach * d]), "dashed", clip=table))
    parts.append(path(at([(0, front), (0, rear)]), "axis"))
    parts.append(path(at([(left, 0), (right, 0)]), "axis"))
    parts += _blade(scene, at, scale)
    parts += _feed(scene, at, edges)
    outer = face + hand * (scene.fence.thickness + 2.2 / scale)
    for name, line in (("fence", outer), ("second fence", other - hand * 2.2 / scale)):
        run = along_box(edges, scene.feed, line)
        if run is not None:  # in the half of the table that the angle leaves free
            share = 0.25 if hand > 0 else 0.75
            place = line * u + ((1 - share) * run[0] + share * run[1]) * d
            parts.append(words(name, *at(place).tolist(), size=7.5, turn=degrees(layout.angle) - 90))
    for mark in layout.face.marks:
        parts += _mark(scene, mark, at((mark.x, mark.y)), units)
    parts += _angle(layout, at, hand)
    parts.append(words("operator's side", width / 2, _ABOVE + tall + _BELOW - 2.5, size=8, bold=True))
    return drawing(width, tall + _ABOVE + _BELOW, parts)


def along_edge(scene: Scene, mark: Mark, units: Units) -> str:
    """Return how far along its edge a mark lies: to the side of the blade, or from the front edge, or of the centre."""
    if mark.edge in ("front", "rear"):
        return aside(mark.x, units)
    if scene.saw.front_to_blade is not None:
        return units.tape(mark.y + scene.saw.front_to_blade)
    return f"{units.tape(abs(mark.y))} {'before' if mark.y < 0 else 'beyond'}"


def _blade(scene: Scene, at: Placing, scale: float) -> list[Part]:
    """Return the blade where it passes the table."""
    below = centre_height(scene.tool, scene.tilt, scene.setup.blade_height) / math.cos(scene.tilt)
    long = math.sqrt(max(0.0, scene.tool.radius**2 - below**2))
    first, last = (scene.tool.profile[end][0] / math.cos(scene.tilt) for end in (0, -1))
    start = at((first, long)).tolist()
    return [box(*start, max(0.5, (last - first) * scale), 2 * long * scale, "", "ink")]


def _feed(scene: Scene, at: Placing, edges: Box) -> list[Part]:
    """Return an arrow on the stock before the blade."""
    d, u, offset = scene.feed.direction[:2], scene.feed.across[:2], scene.setup.offset
    run = along_box(edges, scene.feed, offset)
    if run is None or run[0] >= 0:
        return []
    tail, tip = at([offset * u + 0.82 * run[0] * d, offset * u + 0.45 * run[0] * d])
    along = (tip - tail) / np.hypot(*(tip - tail))
    aside_of = np.array([-along[1], along[0]])
    head = [tip, tip - 3.2 * along + 1.2 * aside_of, tip - 3.2 * along - 1.2 * aside_of]
    return [path([tail, tip - 2.5 * along], "edge"), path(head, "", "ink", closed=True)]


def _mark(scene: Scene, mark: Mark, place: NDArray[np.float64], units: Units) -> list[Part]:
    """Return a ring where the fence's face crosses an edge, and how far along the edge that is."""
    turn = np.linspace(0, 2 * math.pi, 25)
    ring = path(place + 1.1 * np.column_stack([np.cos(turn), np.sin(turn)]), "edge", "paper", closed=True)
    x, y = place.tolist()
    if mark.edge in ("front", "rear"):
        down = 1 if mark.edge == "front" else -1
        return [ring, words(along_edge(scene, mark, units), x, y + down * 4.2, size=9, bold=True)]
    shown = along_edge(scene, mark, units)
    out = 1 if mark.edge == "right" else -1
    return [ring, words(shown, x + 3 * out, y, "left" if out > 0 else "right", size=9, bold=True)]


def _angle(layout: FenceLayout, at: Placing, hand: int) -> list[Part]:
    """Return the angle between the fence's face and a line along the blade's plane, on the side without stock."""
    marks = layout.face.marks
    if not marks:
        return []
    mark, out = (marks[1], -1) if hand > 0 else (marks[0], 1)
    place, angle = at((mark.x, mark.y)), layout.angle
    turn = np.linspace(0, angle, 20)
    arc = place + out * _ANGLE * np.column_stack([np.sin(turn), -np.cos(turn)])
    line = [place, place - np.array([0, out * 1.25 * _ANGLE])]
    label = place - out * np.array([0, 1.05 * _ANGLE]) + np.array([2.0 * hand, 0])
    shown = f"{degrees(angle):.2f} deg"
    return [
        path(line, "hair"),
        path(arc, "hair"),
        words(shown, *label.tolist(), "left" if hand > 0 else "right", size=9, bold=True),
    ]
