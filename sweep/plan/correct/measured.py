"""What a maker measures of a cove between two passes, and what of it cannot be.

A pass's width is measured at the face that rode on the table, its depth from there to the deepest place, and the flat
from the side of the stock that runs along the fence to the cove's edge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.blank import wood_section
from sweep.cut.passes import PassSection
from sweep.errors import SceneError, UnusableError
from sweep.figure import count, length
from sweep.phrase import Example
from sweep.quantity import read_quantity
from sweep.scene.limits import CALLIPERS
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.shape.frame import highest_setting
from sweep.shape.tool import Tool
from sweep.units import LENGTH

Array = NDArray[np.float64]

FINEST, COARSEST = 0.001, 5.0
"""mm. Standard deviations of a measured length that can be: of a micrometer, and of a look."""

INSIDE = 0.05
"""mm. How far within the wood it is asked whether there is any beside an edge: finer than it is measured."""


@dataclass(frozen=True)
class Sized:
    """Lengths measured one by one, mm, and the standard deviation of each."""

    values: tuple[float, ...]
    accuracy: float


NONE = Sized((), 1.0)


@dataclass(frozen=True)
class AfterPass:
    """What was measured after one pass.

    Parameters
    ----------
    number : int
        The pass, from 1.
    width, depth, flat : Sized
        Each as often as it was measured.
    points : (n, 2) float, mm, or None
        Of the profile, in axes of their own.
    points_accuracy : float, mm
        Standard deviation of a point, square to the outline.
    """

    number: int
    width: Sized = NONE
    depth: Sized = NONE
    flat: Sized = NONE
    points: Array | None = None
    points_accuracy: float = read_quantity(CALLIPERS, LENGTH)

    @property
    def tells_height(self) -> bool:
        """Whether the blade's height in this pass follows from what was measured."""
        return bool(self.depth.values) or self.points is not None

    @property
    def tells_angle(self) -> bool:
        """Whether the fence's angle follows from what was measured."""
        return bool(self.width.values) or self.points is not None


def require_cove(scene: WholeScene) -> None:
    """Refuse a set-up whose cove tells nothing by its width and depth.

    Raises
    ------
    UnusableError
        Of a rip, and of a cove that has no flat beside both its edges in one of its passes.
    """
    if scene.feed.along_blade:
        raise UnusableError("it is a rip, and its width is the kerf", "name a set-up that is a cove")
    wood, half = wood_section(scene.stock), scene.stock.width / 2
    for number, height in enumerate(scene.passes.heights, start=1):
        edges = section.edges_at_table(scene.tool, scene.feed, scene.tilt, height)
        if edges is None:
            raise UnusableError("pass {number} does not reach the table", "raise it", number=count(number))
        if not all(wood_beside(edges, wood)) or max(-edges[0], edges[1]) >= half:
            raise UnusableError(
                "after pass {number} the cove has no flat on both sides to measure it from",
                "set its blade and fence by the sheet: only a cove between two flats tells them",
                number=count(number),
            )


def wood_beside(edges: tuple[float, float], wood: section.Figure) -> tuple[bool, bool]:
    """Return whether there is wood beside the left and the right edge of a cove, (y, y) mm, just above the table."""
    beside = np.array([(edges[0] - INSIDE, INSIDE), (edges[1] + INSIDE, INSIDE)])
    left, right = section.inside(beside, wood).tolist()
    return left, right


def has_edges(scene: WholeScene, taken: PassSection) -> bool:
    """Return whether a pass leaves both edges of its cove on the face that lay on the table, to be measured between.

    A rip does not, nor a cove that meets what an earlier set-up took. One that runs off the stock is measured from
    there.
    """
    if taken.edges is None or scene.feed.along_blade:
        return False
    half, flats = scene.stock.width / 2, zip(wood_beside(taken.edges, taken.left), taken.edges, strict=True)
    return all(there or abs(edge) + INSIDE >= half for there, edge in flats)


def require_measured(scene: WholeScene, measured: tuple[AfterPass, ...]) -> None:
    """Refuse what cannot have been measured.

    Raises
    ------
    SceneError
        Naming the option.
    """
    stock, passes = scene.stock, len(scene.passes.heights)
    highest = highest_looked_at(scene.tool, scene.tilt)
    for one in measured:
        if not 1 <= one.number <= passes:
            raise SceneError(
                "--pass",
                "there is no pass {value}",
                "write 1 to {limit}",
                value=count(one.number),
                limit=count(passes),
            )
        if not one.tells_angle and not one.tells_height and not one.flat.values:
            raise SceneError(
                "--pass",
                "nothing was measured after pass {value}",
                'write --width "{width}", --depth, --flat or --points',
                value=count(one.number),
                width=Example("51.9 mm", "2 3/64 in"),
            )
        for name, sized, most in (
            ("width", one.width, stock.width),
            ("depth", one.depth, stock.thickness),
            ("flat", one.flat, stock.width),
        ):
            _require_sizes(f"--{name}", sized, most)
        deepest = max(one.depth.values, default=0.0)
        if deepest > highest:
            raise SceneError(
                "--depth",
                "{value} is deeper than this blade cuts, {limit:down}",
                "measure again from the face that rode on the table",
                value=length(deepest),
                limit=length(highest),
            )
        if one.points is not None:
            _require_accuracy("--points-accuracy", one.points_accuracy)
        widest, flattest = max(one.width.values, default=0.0), max(one.flat.values, default=0.0)
        if widest + flattest >= stock.width:
            raise SceneError(
                "--flat",
                "{value} beside a cove {width} wide is more than the stock, which is {limit} wide",
                "measure both again",
                value=length(flattest),
                width=length(widest),
                limit=length(stock.width),
            )
    numbers = [one.number for one in measured]
    if len(set(numbers)) < len(numbers):
        twice = next(number for number in numbers if numbers.count(number) > 1)
        raise SceneError("--pass", "pass {value} is named twice", "name it once", value=count(twice))


def highest_looked_at(tool: Tool, tilt: float) -> float:
    """Return up to which blade height a cove is looked at, mm: near the height that brings the blade's centre up."""
    return 0.98 * highest_setting(tool, tilt)


def _require_sizes(option: str, sized: Sized, most: float) -> None:
    for value in sized.values:
        if not 0 < value < most:
            raise SceneError(
                option,
                "{value} cannot be: the stock is {limit} there",
                "write more than nothing, and less than that",
                value=length(value),
                limit=length(most),
            )
    _require_accuracy(f"{option}-accuracy", sized.accuracy)


def _require_accuracy(option: str, accuracy: float) -> None:
    if not FINEST <= accuracy <= COARSEST:
        raise SceneError(
            option,
            "{value} is out of range",
            "write {least:up} to {most:down}",
            value=length(accuracy),
            least=length(FINEST),
            most=length(COARSEST),
        )
