"""The saw table seen from above with all that stands on it, once, for every drawing that shows it.

Machine frame: x to the right, y up the page, away from the operator.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.cut.fence import FenceLayout
from sweep.cut.lines_on_table import Box, along_box
from sweep.scene.model import WholeScene
from sweep.shape.frame import centre_height
from sweep.show.draw.sketch import Part, box, dot, path, words
from sweep.units import degrees

_LEAST_BLADE = 0.5  # width at which the blade is drawn at least, mm of paper
_RING = 1.1  # radius of a mark on the table's edge, mm of paper


@dataclass(frozen=True)
class FromAbove:
    """The place in a drawing of what lies on the saw.

    Parameters
    ----------
    scene : WholeScene
    layout : FenceLayout
    edges : Box
        Of the table, or of the part of it that is drawn; mm.
    scale : float
        mm of paper to a mm of the saw.
    corner : (float, float), mm
        Of paper: the table's rear left corner.
    """

    scene: WholeScene
    layout: FenceLayout
    edges: Box
    scale: float
    corner: tuple[float, float]

    def at(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the table, (..., 2) mm, lie on paper."""
        left, _, _, rear = self.edges
        return self.corner + (np.asarray(points, float) - (left, rear)) * (self.scale, -self.scale)

    def spot(self, place: ArrayLike) -> tuple[float, float]:
        """Return where one place of the table, (2,) mm, lies on paper."""
        x, y = self.at(place).tolist()
        return x, y

    def along(self, across: float, run: float) -> NDArray[np.float64]:
        """Return the place so far along the feed from the blade's centre on a line so far across it, (2,) mm."""
        return across * self.scene.feed.across[:2] + run * self.scene.feed.direction[:2]

    @property
    def hand(self) -> int:
        """On which side of the stock the fence stands: 1 to the right looking along the feed, else -1."""
        return 1 if self.layout.side == "near" else -1

    @property
    def turn(self) -> float:
        """How words along the fence are turned, deg clockwise."""
        return degrees(self.layout.angle) - 90

    @property
    def table(self) -> tuple[float, float, float, float]:
        """The table's rectangle on paper: left, top, width, height."""
        left, right, front, rear = self.edges
        return *self.corner, (right - left) * self.scale, (rear - front) * self.scale

    @property
    def fence_ends(self) -> tuple[float, float]:
        """Where the fence begins and ends along the feed, mm: middled on the table, as long as given or needed."""
        face, thick = self.layout.face.across, self.scene.fence.thickness
        found = [along_box(self.edges, self.scene.feed, across) for across in (face, face + self.hand * thick)]
        sides = [ends for ends in found if ends is not None] or [(-100.0, 100.0)]
        first, last = min(first for first, _ in sides), max(last for _, last in sides)
        length = self.scene.fence.length or last - first
        return (first + last - length) / 2, (first + last + length) / 2


def saw_parts(view: FromAbove) -> list[Part]:
    """Return table, slots, throat, the stock with its middle over the blade, fence, line of a second one, and blade.

    No second fence is drawn where the blade would cut it.
    """
    scene, layout, (left, right, front, rear) = view.scene, view.layout, view.edges
    parts = [box(*view.table, "edge" if layout.on_table else "", "table")]
    for start, end in scene.saw.slot_strips:
        parts.append(_clipped(view, _rectangle(view, start, end, front, rear), "faint", "slot"))
    if scene.saw.throat is not None:
        long, wide = scene.saw.throat
        parts.append(_clipped(view, _rectangle(view, -wide / 2, wide / 2, -long / 2, long / 2), "hair", "slot"))
    half, face, other = scene.stock.length / 2, layout.face.across, layout.opposite.across
    ends, back = view.fence_ends, face + view.hand * scene.fence.thickness
    parts.append(_clipped(view, _strip(view, (face, other), (-half, half)), "faint", "wood"))
    parts.append(_clipped(view, _strip(view, (face, back), ends), "hair", "fence"))
    parts.append(path(view.at([view.along(face, end) for end in ends]), "thin", clip=view.table))
    run = along_box(view.edges, scene.feed, other)
    if run is not None and layout.has_second:
        parts.append(path(view.at([view.along(other, end) for end in run]), "dashed"))
    parts.append(path(view.at([(0, front), (0, rear)]), "axis"))
    parts.append(path(view.at([(left, 0), (right, 0)]), "axis"))
    return [*parts, _blade(view)]


def fence_beyond(view: FromAbove) -> Part:
    """Return the whole fence, pale, to lie under the table: what stands out over its edges is seen."""
    face = view.layout.face.across
    sides = face, face + view.hand * view.scene.fence.thickness
    return path(_strip(view, sides, view.fence_ends), "", "fence beyond", closed=True)


def blade_at_table(scene: WholeScene) -> float:
    """Return the length of the blade where it comes through the table, mm."""
    below = centre_height(scene.tool, scene.tilt, scene.setup.blade_height) / math.cos(scene.tilt)
    return 2 * math.sqrt(max(0.0, scene.tool.radius**2 - below**2))


def feed_arrow(view: FromAbove, start: float = 0.82, end: float = 0.45) -> list[Part]:
    """Return an arrow on the stock before the blade, from and to shares of the way to the edge of what is drawn."""
    scene, offset = view.scene, view.scene.setup.offset
    run = along_box(view.edges, scene.feed, offset)
    if run is None or run[0] >= 0:
        return []
    first = max(run[0], -scene.stock.length / 2)
    tail, tip = view.at([view.along(offset, share * first) for share in (start, end)])
    return arrow(tail, tip, "arrow", "ink")


def arrow(tail: NDArray[np.float64], tip: NDArray[np.float64], stroke: str, fill: str) -> list[Part]:
    """Return an arrow on paper, (2,) mm each."""
    along = (tip - tail) / max(float(np.hypot(*(tip - tail))), 1e-9)
    aside = np.array([-along[1], along[0]])
    head = [tip, tip - 3.2 * along + 1.2 * aside, tip - 3.2 * along - 1.2 * aside]
    return [path([tail, tip - 2.5 * along], stroke), path(head, "", fill, closed=True)]


def marks(view: FromAbove) -> list[Part]:
    """Return a ring wherever the fence's face crosses an edge."""
    return [dot(*view.spot((mark.x, mark.y)), _RING, "edge", "paper") for mark in view.layout.face.marks]


def angle_parts(view: FromAbove, radius: float, size: float) -> list[Part]:
    """Return the angle between the fence's face and a line along the blade's plane, on the side without stock.

    Parameters
    ----------
    view : FromAbove
    radius : float, mm
        Of the arc on paper.
    size : float, points
        Of its figure.
    """
    found = view.layout.face.marks
    if not found or view.layout.angle == 0.0:  # a rip fence has no angle to set
        return []
    mark, out = (found[1], 1) if view.hand > 0 else (found[0], -1)  # out: downwards on paper, or upwards
    place, angle = view.at((mark.x, mark.y)), view.layout.angle
    turn = np.linspace(0, angle, 24)
    arc = place + out * radius * np.column_stack([-np.sin(turn), np.cos(turn)])
    shown = f"{degrees(angle):.2f}\N{DEGREE SIGN}"
    if degrees(angle) > 45:  # the figure has room between the lines
        inside = 0.42 * angle
        (x, y), anchor = place + 0.72 * out * radius * np.array([-math.sin(inside), math.cos(inside)]), "centre"
    else:
        down = 0.72 * radius  # beside the line, and clear of the end of a fence that the line runs over
        clear = view.scene.fence.thickness * view.scale / math.cos(angle) - (down - 2.0) * math.tan(angle)
        (x, y), anchor = place + out * np.array([max(0.0, clear) + 1.8, down]), "left" if out > 0 else "right"
    label = words(shown, x, y, anchor, size, bold=True, halo=True)
    line = [place, place + np.array([0, 1.2 * out * radius])]
    return [path(line, "dashed hair"), path(arc, "edge"), label]


def _clipped(view: FromAbove, outline: NDArray[np.float64], stroke: str, fill: str) -> Part:
    return path(outline, stroke, fill, closed=True, clip=view.table)


def _rectangle(view: FromAbove, left: float, right: float, front: float, rear: float) -> NDArray[np.float64]:
    return view.at([(left, front), (right, front), (right, rear), (left, rear)])


def _strip(view: FromAbove, sides: tuple[float, float], ends: tuple[float, float]) -> NDArray[np.float64]:
    """Return the corners of a strip along the feed, (4, 2) mm of paper."""
    (one, other), (first, last) = sides, ends
    return view.at([view.along(*place) for place in ((one, first), (one, last), (other, last), (other, first))])


def _blade(view: FromAbove) -> Part:
    """Return the blade where it passes the table."""
    scene, half = view.scene, blade_at_table(view.scene) / 2
    first, last = (scene.tool.profile[end][0] / math.cos(scene.tilt) for end in (0, -1))
    more = max(0.0, _LEAST_BLADE / view.scale - (last - first)) / 2
    return path(_rectangle(view, first - more, last + more, -half, half), "", "ink", closed=True)
