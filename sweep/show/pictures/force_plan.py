"""The forces of a pass as arrows on the saw table, seen from above: machine frame, x to the right, y up the page."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Polygon, Rectangle
from numpy.typing import NDArray

from sweep.check.limits import HOLDS_OFF
from sweep.cut.load import Load
from sweep.scene.model import Scene
from sweep.shape.frame import centre_height
from sweep.show.draw.colours import ALARM, ARROW, CAST_IRON, FAINT, FENCE, INK, RGB, SLOT, STEEL, WOOD


@dataclass(frozen=True)
class Arrow:
    """One force as an arrow in the plane of the table.

    Parameters
    ----------
    direction : (float, float)
        Unit vector (x, y), machine frame.
    says : str
        What the force does.
    usual, low, high : float, N
        Along `direction`, so that `usual` is never negative; `low` and `high` are the least and the most of the band.
    alarm : bool
        Whether it wants the maker's attention.
    """

    direction: tuple[float, float]
    says: str
    usual: float
    low: float
    high: float
    alarm: bool = False

    @property
    def label(self) -> str:
        """The force with its band, two figures each, and what it does."""
        return f"{_two(self.usual)} N ({_two(self.low)} to {_two(self.high)} N) {self.says}"


def force_arrows(scene: Scene, load: Load) -> tuple[Arrow, ...]:
    """Return the hands' push, the force on the fence and the load on the plate; none when nothing is known."""
    if load.usual is None:
        return ()
    near = 1 if scene.setup.fence_side == "near" else -1
    push = ("hands push along the feed", "pulled in: hold it back")
    fence = ("into the fence", "off the fence")
    return (
        arrow_of(scene.feed.direction, load, "feed", push, 0.0),
        arrow_of(near * scene.feed.across, load, "fence", fence, -HOLDS_OFF),
        arrow_of(np.array([1.0, 0.0]), load, "side", ("right, on the plate", "left, on the plate"), -math.inf),
    )  # fmt: skip


def arrow_of(along: NDArray[np.float64], load: Load, name: str, says: tuple[str, str], least: float) -> Arrow:
    """Return one force as an arrow.

    Parameters
    ----------
    along : (3,) float
        Where a positive force points, machine frame.
    load : Load
    name : str
        Of the force in `Forces`.
    says : (str, str)
        What it does when positive, and when negative.
    least : float, N
        Below it the force is alarming.
    """
    usual, *band = (getattr(forces, name) for forces in (load.usual, load.low, load.high))
    sign = -1 if usual < 0 else 1
    low, high = (sign * end for end in (min(usual, *band), max(usual, *band))[::sign])
    x, y = sign * along[:2] + 0.0  # no -0.0
    either = ", or off it" if name == "fence" and sign > 0 and low < least else ""
    return Arrow((float(x), float(y)), says[usual < 0] + either, sign * usual, low, high, usual < least)


def draw_table(axes: Axes, scene: Scene, arrows: tuple[Arrow, ...], text: float) -> float:
    """Draw what lies on the table, in the machine frame, mm, with the arrows lettered A, B and C.

    Parameters
    ----------
    axes : Axes
        Its size is taken as it stands; its limits are set to true proportion.
    scene : Scene
    arrows : tuple of Arrow
        As from `force_arrows`; their lengths are schematic, longer for more force.
    text : float, points

    Returns
    -------
    float, mm
        Length of the blade where it comes through the table.
    """
    d, u = scene.feed.direction[:2], scene.feed.across[:2]
    near, half, offset = (1 if scene.setup.fence_side == "near" else -1), scene.stock.width / 2, scene.setup.offset
    below = centre_height(scene.tool, scene.tilt, scene.setup.blade_height) / math.cos(scene.tilt)
    reach = math.sqrt(max(0.0, scene.tool.radius**2 - below**2))
    size = max(1.8 * reach, 1.6 * (abs(offset) + half))  # half the table's depth
    wide = size * axes.bbox.width / axes.bbox.height
    table = axes.add_patch(Rectangle((-wide, -size), 2 * wide, 2 * size, fc=CAST_IRON, ec=FAINT, lw=1.2, alpha=0.55))
    edge = offset + near * half

    def strip(one: float, other: float, **look: object) -> None:
        along = 3 * wide * d
        corners = [one * u - along, one * u + along, other * u + along, other * u - along]
        axes.add_patch(Polygon(corners, **look)).set_clip_path(table)

    axes.plot([0, 0], [-reach, reach], color=SLOT, lw=3.4, solid_capstyle="butt")
    strip(offset - half, offset + half, fc=WOOD, ec=FAINT, lw=0.8, alpha=0.5, zorder=3)
    strip(edge, edge + near * 0.16 * size, fc=FENCE, ec="none", zorder=3)
    _point(axes, np.array([-0.09 * size, 0.5 * reach]), np.array([0.0, -reach]), STEEL, 1.4)
    strongest = max((arrow.usual for arrow in arrows), default=0.0) or 1.0
    middle = offset * u
    places = (middle - 0.88 * size * d, edge * u + 0.62 * size * d, np.zeros(2))
    for letter, arrow, place in zip("ABC", arrows, places, strict=False):
        vector = (0.2 + 0.26 * arrow.usual / strongest) * size * np.array(arrow.direction)
        start = place - 0.7 * vector if letter == "B" and not arrow.alarm else place
        colour = ALARM if arrow.alarm else ARROW if letter == "C" else INK
        _point(axes, start, vector, colour, 2.6)
        axes.text(*start, letter, fontsize=text, color="white", weight="bold", ha="center", va="center", zorder=7,
                  bbox={"boxstyle": "circle,pad=0.25", "fc": colour, "ec": "none"})  # fmt: skip
    axes.set(xlim=(-1.01 * wide, 1.01 * wide), ylim=(-1.01 * size, 1.01 * size))
    axes.set_axis_off()
    return 2 * reach


def _point(axes: Axes, start: NDArray[np.float64], vector: NDArray[np.float64], colour: RGB, width: float) -> None:
    head = "-|>,head_width=0.3,head_length=0.55"
    look = {"arrowstyle": head, "color": colour, "lw": width, "shrinkA": 0, "shrinkB": 0}
    axes.annotate("", start + vector, start, arrowprops=look, zorder=6)


def _two(force: float) -> str:
    """Return a force rounded to two figures; under 0.05 N it is none."""
    return f"{float(f'{force:.2g}') if abs(force) >= 0.05 else 0:g}".replace("-", "\N{MINUS SIGN}")
