"""The plan of the saw table drawn to scale: table, slots, throat, blade, fence and stock, and every dimension.

Machine frame: x to the right, y up the page, away from the operator.
"""

from __future__ import annotations

import math

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Arc, Polygon, Rectangle
from matplotlib.patheffects import withStroke
from numpy.typing import NDArray

from sweep.cut.lines_on_table import along_box
from sweep.shape.frame import centre_height
from sweep.show.draw.colours import CAST_IRON, FAINT, FENCE, INK, RGB, SLOT, THROAT, WOOD
from sweep.show.draw.dimensions import across, upright
from sweep.show.draw.saw_from_above import BEYOND, FIRST, ROW, SLOT_WIDTH, Dimension, TablePlan
from sweep.units import degrees

_PIXEL = 25.4 / 200  # mm of paper


def draw_plan(axes: Axes, plan: TablePlan, scale: float, text: float) -> None:
    """Draw a plan on axes that measure `plan.size(scale)` on paper.

    Parameters
    ----------
    axes : Axes
        Its limits are set.
    plan : TablePlan
    scale : float
        One mm of paper is so many mm of the saw.
    text : float, points
    """
    left, right, front, rear = plan.limits(scale)
    axes.set(xlim=(left, right), ylim=(front, rear))
    axes.set_axis_off()
    _draw_saw(axes, plan, scale, text)
    _draw_work(axes, plan, scale, text)
    _draw_angle(axes, plan, scale, text)
    for edge, rows in plan.rows.items():
        for number, row in enumerate(rows):
            for dimension in row:
                _draw_dimension(axes, plan, edge, number, dimension, scale, text)
    middle = (plan.edges[0] + plan.edges[1]) / 2
    _words(axes, (middle, front + 0.45 * BEYOND * scale), "operator's side", text, weight="bold")


def _draw_saw(axes: Axes, plan: TablePlan, scale: float, text: float) -> None:
    scene, (left, right, front, rear) = plan.scene, plan.edges
    given = plan.layout.on_table
    look = {"fc": CAST_IRON, "ec": INK if given else "none", "lw": 1.2, "alpha": 0.6 if given else 0.35}
    axes.add_patch(Rectangle((left, front), right - left, rear - front, zorder=0.5, **look))
    if not given:
        across_the_saw = plan.layout.angle <= math.pi / 4
        for level in (front, rear) if across_the_saw else (left, right):
            xy = ([left, right], [level] * 2) if across_the_saw else ([level] * 2, [front, rear])
            axes.plot(*xy, color=INK, lw=1.0, ls=(0, (8, 3, 1.5, 3)), zorder=2)
    for slot in scene.saw.slots:
        start = slot if slot > 0 else slot - SLOT_WIDTH
        axes.add_patch(Rectangle((start, front), SLOT_WIDTH, rear - front, fc=THROAT, ec=FAINT, lw=0.6, zorder=0.6))
    saw = scene.saw
    if saw.throat_length is not None:
        long, wide = saw.throat_length, saw.throat_width
        axes.add_patch(Rectangle((-wide / 2, -long / 2), wide, long, fc=THROAT, ec=INK, lw=0.8, zorder=0.7))
        # where neither stock nor fence lies: behind the blade on its left, or before it on its right
        free = -1 if plan.layout.side == "near" else 1
        place = -free * wide / 2, -free * (long / 2 + 2.4 * scale)
        said = f"throat {plan.units.tape(long)} x {plan.units.tape(wide)}"
        _words(axes, place, said, text, ha="right" if free < 0 else "left")
    # the blade's plane, drawn through the table and out to the dimensions, and across it the line of its centre
    axes.plot([0, 0], [front, rear], color=INK, lw=0.7, ls=(0, (12, 3, 2, 3)), zorder=4.5)
    axes.plot([left, 3 * scale], [0, 0], color=FAINT, lw=0.6, ls=(0, (12, 3, 2, 3)), zorder=4.5)
    below = centre_height(scene.tool, scene.tilt, scene.setup.blade_height) / math.cos(scene.tilt)
    reach = math.sqrt(max(0.0, scene.tool.radius**2 - below**2))
    first, last = (scene.tool.profile[end][0] / math.cos(scene.tilt) for end in (0, -1))
    axes.add_patch(Rectangle((first, -reach), last - first, 2 * reach, fc=SLOT, ec=SLOT, lw=1.0, zorder=5))


def _draw_work(axes: Axes, plan: TablePlan, scale: float, text: float) -> None:
    """Draw the stock with its middle over the blade, the fence, and the line of a second one."""
    scene, layout = plan.scene, plan.layout
    d, u = scene.feed.direction[:2], scene.feed.across[:2]
    table = Rectangle((plan.edges[0], plan.edges[2]), plan.edges[1] - plan.edges[0], plan.edges[3] - plan.edges[2])
    table.set_transform(axes.transData)
    half, hand = scene.stock.length / 2, 1 if layout.side == "near" else -1
    face, other = layout.face.across, layout.opposite.across
    stock = _strip(d, u, (other, face), (-half, half))
    axes.add_patch(Polygon(stock, fc=WOOD, ec=FAINT, lw=0.8, alpha=0.7, zorder=3)).set_clip_path(table)
    ends = _fence_ends(plan)
    back = face + hand * scene.fence.thickness
    strip = _strip(d, u, (face, back), ends)
    axes.add_patch(Polygon(strip, fc=FENCE, ec="none", alpha=0.35, zorder=1.5))
    axes.add_patch(Polygon(strip, fc=FENCE, ec=INK, lw=0.8, zorder=3)).set_clip_path(table)
    axes.plot(*np.transpose([face * u + end * d for end in ends]), color=INK, lw=1.6, zorder=3.2, solid_capstyle="butt")
    crossing = along_box(plan.edges, scene.feed, other)
    if crossing is not None:
        line = np.array([other * u + end * d for end in crossing])
        axes.plot(*line.T, color=INK, lw=1.2, ls=(0, (4, 2.5)), zorder=3.2)
    turn = 90 - degrees(layout.angle)
    _draw_feed(axes, plan, scale, text)
    if scene.fence.thickness / scale > 0.36 * text:  # points to mm of paper
        place = (face + back) / 2 * u + (0.48 * ends[0] + 0.52 * ends[1]) * d
        said = f"fence, {plan.units.tape(scene.fence.thickness)} thick"
        _words(axes, place, said, text, color="white", rotation=turn, halo=False)
    if crossing is not None:
        place = (other - hand * 2.4 * scale) * u + (0.8 * crossing[0] + 0.2 * crossing[1]) * d
        _words(axes, place, "second fence", text, rotation=turn)
    for mark in layout.face.marks:
        axes.plot([mark.x], [mark.y], "o", ms=5, mfc="white", mec=INK, mew=1.4, zorder=8)


def _draw_feed(axes: Axes, plan: TablePlan, scale: float, text: float) -> None:
    """Draw the arrow of the feed on the stock before the blade, and write the stock's width behind it."""
    scene, units = plan.scene, plan.units
    d, u, offset = scene.feed.direction[:2], scene.feed.across[:2], scene.setup.offset
    run = along_box(plan.edges, scene.feed, offset)
    if run is None:
        return
    half, turn = scene.stock.length / 2, 90 - degrees(plan.layout.angle)
    first, last = max(run[0], -half), min(run[1], half)
    tail, tip = (offset * u + share * first * d for share in (0.72, 0.42))
    look = {"arrowstyle": "-|>,head_width=0.35,head_length=0.7", "color": INK, "lw": 2.2, "shrinkA": 0, "shrinkB": 0}
    axes.annotate("", tip, tail, arrowprops=look, zorder=6)
    if scene.stock.width / scale > 0.36 * text:
        _words(axes, tail - 6 * scale * d, "feed", text, rotation=turn)
        said = f"stock, {units.tape(scene.stock.width)} wide"
        _words(axes, offset * u + 0.58 * last * d, said, text, rotation=turn)


def _fence_ends(plan: TablePlan) -> tuple[float, float]:
    """Return where the fence begins and ends along the feed: middled on the table, as long as given or needed."""
    scene, hand = plan.scene, 1 if plan.layout.side == "near" else -1
    face = plan.layout.face.across
    sides = [along_box(plan.edges, scene.feed, a) for a in (face, face + hand * scene.fence.thickness)]
    sides = [ends for ends in sides if ends is not None] or [(-100.0, 100.0)]
    first, last = min(first for first, _ in sides), max(last for _, last in sides)
    length = scene.fence.length or last - first
    return (first + last - length) / 2, (first + last + length) / 2


def _strip(
    d: NDArray[np.float64], u: NDArray[np.float64], sides: tuple[float, float], ends: tuple[float, float]
) -> NDArray[np.float64]:
    """Return the corners of a strip along the feed, (4, 2) mm."""
    (one, other), (first, last) = sides, ends
    return np.array([one * u + first * d, one * u + last * d, other * u + last * d, other * u + first * d])


def _draw_angle(axes: Axes, plan: TablePlan, scale: float, text: float) -> None:
    """Draw the angle on the fence's own side, where no stock lies, from a line parallel to the blade's plane."""
    marks, turn = plan.layout.face.marks, degrees(plan.layout.angle)
    if not marks:
        return
    near = plan.layout.side == "near"
    mark, out, radius = (marks[1], -1, 26 * scale) if near else (marks[0], 1, 26 * scale)
    axes.plot([mark.x] * 2, [mark.y, mark.y + 1.2 * out * radius], color=INK, lw=0.9, ls=(0, (5, 2)), zorder=7)
    first = 270 - turn if near else 90 - turn
    axes.add_patch(
        Arc((mark.x, mark.y), 2 * radius, 2 * radius, theta1=first, theta2=first + turn, color=INK, zorder=7)
    )
    inside = math.radians(0.42 * turn) if turn > 45 else 0.0  # else there is no room between the lines
    place = (
        mark.x + out * (0.72 * radius * math.sin(inside) if inside else -1.6 * scale),
        mark.y + out * 0.72 * radius * math.cos(inside),
    )
    _words(axes, place, f"{turn:.2f}°", text + 1, weight="bold", ha="center" if inside else "left" if near else "right")


def _draw_dimension(
    axes: Axes, plan: TablePlan, edge: str, number: int, dimension: Dimension, scale: float, text: float
) -> None:
    """Rule one dimension in its row outside an edge of the table."""
    left, right, front, rear = plan.edges
    start = {"left": left, "right": right, "front": front, "rear": rear}[edge]
    out = -1 if edge in ("left", "front") else 1
    level = start + out * scale * (FIRST + ROW * number)
    middle = sum(dimension.ends) / 2
    weight = "bold" if dimension.weighty else "normal"
    beyond = 1.1 * scale  # from the line to its figure
    if edge in ("front", "rear"):
        across(axes, dimension.ends, start, level, "", _PIXEL * scale, text)
        _words(axes, (middle, level + beyond), dimension.label, text, weight=weight, va="bottom")
    else:
        upright(axes, dimension.ends, start, level, _PIXEL * scale)
        _words(axes, (level - beyond, middle), dimension.label, text, weight=weight, rotation=90, va="bottom")


def _words(
    axes: Axes,
    place: tuple[float, float],
    said: str,
    text: float,
    color: RGB | str = INK,
    halo: bool = True,
    **how: object,
) -> None:
    """Write on the drawing, with a little white around the letters so that no line runs through them."""
    look = {"ha": "center", "va": "center", "rotation_mode": "anchor", **how}
    effects = [withStroke(linewidth=2.6, foreground="white")] if halo else []
    axes.text(*place, said, fontsize=text, color=color, zorder=9, path_effects=effects, parse_math=False, **look)
