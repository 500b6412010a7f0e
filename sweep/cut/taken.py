"""What one setting of the saw takes, lying as the stock was planed, and whether the blade can be set for it."""

from __future__ import annotations

from sweep.errors import UnusableError
from sweep.figure import length
from sweep.scene.keys import Saw, Setup
from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import highest_setting
from sweep.shape.lying import Lying
from sweep.shape.tool import Tool


def taken_by(setup: Setup, tool: Tool, lying: Lying, chord: float) -> section.Figure:
    """Return the section that a set-up takes at its full height, as it lies once the stock is turned back.

    Parameters
    ----------
    setup : Setup
        For the stock as it lies for it.
    tool : Tool
    lying : Lying
        From how the stock was planed to how it lies.
    chord : float, mm
    """
    feed = StraightFeed(setup.fence_angle, setup.offset)
    cut = section.cut_section(tool, feed, setup.blade_tilt, setup.blade_height, chord)
    return section.laid(cut, lying.back)


def require_height(setup: Setup, tool: Tool, saw: Saw) -> None:
    """Refuse a height to which the blade cannot be raised.

    Raises
    ------
    UnusableError
    """
    limit = highest_setting(tool, setup.blade_tilt)
    if saw.max_height is not None:
        limit = min(limit, saw.max_height)
    if setup.blade_height >= limit:
        raise UnusableError(
            "a blade height of {value} is more than can be set",
            "write less than {limit:down}",
            value=length(setup.blade_height),
            limit=length(limit),
        )
