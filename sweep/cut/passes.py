"""The passes of a scene in order, and the plane figures that each one takes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from sweep.cut.blank import first_met, wood_section
from sweep.errors import SceneError
from sweep.figure import count, length
from sweep.scene.keys import Passes
from sweep.scene.model import SetUpScene, WholeScene
from sweep.shape import section
from sweep.tolerance import FINE_CHORD


@dataclass(frozen=True)
class Pass:
    """One pass of the stock over the blade.

    Parameters
    ----------
    number : int
        Counted from 1.
    height : float, mm
        Of the blade's highest point above the table.
    rise : float, mm
        Above the pass before; for the first, above the table, or above where it first meets what earlier set-ups left.
    stop : float or None, mm
        Travel at which the pass stops; None when it goes through.
    feed_speed : float, mm/s
    """

    number: int
    height: float
    rise: float
    stop: float | None
    feed_speed: float


def passes_of(scene: WholeScene) -> tuple[Pass, ...]:
    """Return the passes of a scene in the order in which they are made."""
    return _in_order(scene.passes, first_met(scene))


@lru_cache
def _in_order(plan: Passes, met: float) -> tuple[Pass, ...]:
    below = (0.0, *plan.heights)
    passes = zip(plan.heights, plan.stops, plan.feed_speeds, strict=True)
    return tuple(
        Pass(number, height, max(0.0, height - max(below[number - 1], met)), stop, speed)
        for number, (height, stop, speed) in enumerate(passes, start=1)
    )


def feed_per_tooth(scene: SetUpScene, one: Pass) -> float:
    """Return how far the stock moves from tooth to tooth, mm: f = v / (n z)."""
    return one.feed_speed / (scene.saw.speed / (2 * math.pi) * scene.blade.teeth)


@dataclass(frozen=True)
class PassSection:
    """What one pass does to the section at the leading end, which every pass goes over.

    Parameters
    ----------
    number : int
    edges : (float, float) or None, mm
        Where the cove meets the face on the table after this pass, y; None when it does not.
    top : float, mm
        The highest point cut within the stock.
    area : float, mm2
        What this pass takes from the section.
    left : Figure
        What is left of the section after this pass.
    """

    number: int
    edges: tuple[float, float] | None
    top: float
    area: float
    left: section.Figure

    @property
    def width(self) -> float:
        """Width of the cove at the table after this pass, mm."""
        return 0.0 if self.edges is None else self.edges[1] - self.edges[0]


def pass_sections(scene: WholeScene, chord: float = FINE_CHORD) -> tuple[PassSection, ...]:
    """Return what each pass does to the section, exactly but for `chord`.

    Raises
    ------
    SceneError
        When an oblique pass comes out through the top of the stock.
    """
    wood = wood_section(scene.stock, chord)
    left, results = wood, []
    for one in passes_of(scene):
        cut = section.cut_section(scene.tool, scene.feed, scene.tilt, one.height, chord)
        inside = section.within(cut, wood)
        top = section.height_of(inside)
        if top >= scene.stock.thickness and not scene.feed.along_blade:
            raise SceneError(
                "setup.blade_height",
                "pass {number} at {value} comes out through the top of the stock, which is {limit} thick",
                "write a lower blade, or take thicker stock",
                number=count(one.number),
                value=length(one.height),
                limit=length(scene.stock.thickness),
            )
        after = section.minus(wood, cut)  # a raised blade takes all that a lower one took
        taken = max(0.0, section.area(left) - section.area(after))
        results.append(PassSection(one.number, _edges_in_stock(scene, one.height), top, taken, after))
        left = after
    return tuple(results)


def _edges_in_stock(scene: SetUpScene, height: float) -> tuple[float, float] | None:
    edges, half = section.edges_at_table(scene.tool, scene.feed, scene.tilt, height), scene.stock.width / 2
    if edges is None or edges[0] >= half or edges[1] <= -half:
        return None
    return max(edges[0], -half), min(edges[1], half)
