"""Straight cuts along the saw's own fence, and steps made of two of them: how the saw is set for each.

A set-up and a finishing operation that are the same cut are set here alike, and what they take is told by `taken_by`.
"""

from __future__ import annotations

import math

from sweep.scene.keys import Setup
from sweep.scene.model import Scene
from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import Tool
from sweep.units import MM_PER_INCH

ABOVE, ABOVE_IN_INCHES = 3.0, MM_PER_INCH / 8
"""mm. How far a blade stands out of the wood that it rips right through, in scenes in mm and in inches; common
practice."""


def above(scene: Scene) -> float:
    """Return how far a blade stands out of the wood that it rips right through, mm."""
    return ABOVE_IN_INCHES if scene.stock.in_inches else ABOVE


def rip(tool: Tool, at: float, height: float, tilt: float = 0.0, fence_on_right: bool = True, blade: str = "") -> Setup:
    """Return a straight cut: the middle of its kerf at a place of the table, `height` up, mm; `blade` by its name."""
    return Setup.model_construct(
        fence_angle=0.0,
        blade_height=height,
        blade_tilt=tilt,
        offset=_middle(tool, tilt) - at,
        fence_side="near" if fence_on_right else "far",
        blade=blade,
    )


def height_through(tool: Tool, at: float, tilt: float, wood: section.Figure, clear: float) -> float:
    """Return the height at which all of a kerf stands `clear` out of the wood above it, mm."""
    heights = [r * math.cos(tilt) - a * math.sin(tilt) for a, r in tool.profile]
    clear += max(heights) - min(heights)
    feed = StraightFeed(0.0, _middle(tool, tilt) - at)
    kerf = section.cut_section(tool, feed, tilt, section.height_of(wood) + clear)
    return section.height_of(section.within(kerf, wood)) + clear


def beside_step(
    tool: Tool, corner: tuple[float, float], left: bool, across: float, up: float, fence_on_right: bool, blade: str = ""
) -> Setup:
    """Return the upright cut along the inner side of a step in a lower corner of the wood as it lies.

    Parameters
    ----------
    tool : Tool
    corner : (y, z), mm
        From which the step is measured.
    left : bool
        Whether it is the left corner.
    across, up : float, mm
        How far the step reaches from the corner. With the wood on its edge these change places.
    fence_on_right : bool
    blade : str
        Its name.
    """
    inwards = 1 if left else -1
    at = corner[0] + inwards * (across - tool.kerf / 2)
    return rip(tool, at, corner[1] + up, 0.0, fence_on_right, blade)


def _middle(tool: Tool, tilt: float) -> float:
    """Return how far right of the blade's centre the middle of its kerf passes the table, mm."""
    return tool.middle / math.cos(tilt)
