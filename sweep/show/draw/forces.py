"""The forces of a pass as arrows on the saw table, seen from above: machine frame, x to the right, y up the page."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.check.limits import HOLDS_OFF
from sweep.cut.fence import fence_on_table
from sweep.cut.load import Load
from sweep.cut.push import friction_of
from sweep.scene.model import WholeScene
from sweep.show.draw.saw_from_above import FromAbove, arrow, blade_at_table, saw_parts
from sweep.show.draw.sketch import Drawing, Part, dot, drawing, words
from sweep.show.say.estimates import estimates
from sweep.show.say.fence import beside
from sweep.units import FORCE, Shown, Units

_LETTER = 1.9  # radius of the disc behind an arrow's letter, mm of paper


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

    def label(self, units: Units) -> str:
        """Return the force with its band and what it does."""
        shown = estimates((self.usual, self.low, self.high), FORCE, units)
        usual, low, high = (Shown(one.figure.replace("-", "\N{MINUS SIGN}"), one.unit) for one in shown)
        return f"{usual} ({low.bare} to {high}) {self.says}"


def force_arrows(scene: WholeScene, load: Load, units: Units) -> tuple[Arrow, ...]:
    """Return the push against the teeth, the force on the fence and the load on the plate; none of an unknown wood."""
    if load.usual is None:
        return ()
    near = 1 if scene.setup.fence_side == "near" else -1
    friction = units.force(friction_of(scene, load.usual))
    push = (f"push, and {friction} friction", "pulled in: hold it back")
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


def forces_drawing(scene: WholeScene, arrows: tuple[Arrow, ...], units: Units, width: float, height: float) -> Drawing:
    """Return what lies on the table about the blade with the arrows lettered A, B and C, in so much room, mm.

    Parameters
    ----------
    scene : WholeScene
    arrows : tuple of Arrow
        As from `force_arrows`; their lengths are schematic, longer for more force.
    units : Units
    width, height : float, mm
    """
    offset, half = scene.setup.offset, scene.stock.width / 2
    reach = blade_at_table(scene) / 2
    size = max(1.8 * reach, 1.6 * (abs(offset) + half))  # half the depth that is shown
    edges = (-size * width / height, size * width / height, -size, size)
    view = FromAbove(scene, fence_on_table(scene, beside(units)), edges, height / (2 * size), (0.0, 0.0))
    aside, along = max(0.09 * size, 1.6 * _LETTER / view.scale), max(0.5 * reach, 2 * _LETTER / view.scale)
    turning = view.at([(-aside, along), (-aside, -along)])  # clear of the letter at the blade's centre
    parts = [*saw_parts(view), *arrow(turning[0], turning[1], "thin", "ink")]
    return drawing(width, height, parts, lettered_arrows(view, arrows, size))


def lettered_arrows(view: FromAbove, arrows: tuple[Arrow, ...], size: float) -> list[Part]:
    """Return the arrows lettered A, B and C: what pushes, what lies on the fence and on the plate.

    Parameters
    ----------
    view : FromAbove
    arrows : tuple of Arrow
    size : float, mm
        Twice the longest arrow; the first stands nearly so far before the blade.
    """
    parts: list[Part] = []
    strongest = max((one.usual for one in arrows), default=0.0) or 1.0
    edge = view.layout.face.across
    places = (view.along(view.scene.setup.offset, -0.88 * size), view.along(edge, 0.62 * size), np.zeros(2))
    for letter, one, place in zip("ABC", arrows, places, strict=False):
        vector = (0.2 + 0.26 * one.usual / strongest) * size * np.array(one.direction)
        start = place - 0.7 * vector if letter == "B" and not one.alarm else place
        tail, tip = view.at([start, start + vector])
        parts += _lettered(letter, tail, tip, "alarm" if one.alarm else "ink")
    return parts


def _lettered(letter: str, tail: NDArray[np.float64], tip: NDArray[np.float64], colour: str) -> list[Part]:
    x, y = tail.tolist()
    disc = dot(x, y, _LETTER, "", colour)
    return [*arrow(tail, tip, "alarm" if colour == "alarm" else "arrow", colour), disc,
            words(letter, x, y, bold=True, colour="paper")]  # fmt: skip
