"""The forces of a pass while the blade enters the stock, runs in it and leaves: a diagram for `load.png`."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from sweep.check.limits import HOLDS_OFF
from sweep.cut.along import Moment
from sweep.show.draw.colours import ALARM, FAINT, FENCE, INK
from sweep.units import FORCE, Units

_BETWEEN = 0.35
"""Width at which the way between is drawn, where nothing changes; entering and leaving are 1 wide each."""


def draw_entering(axes: Axes, moments: Sequence[Moment], entering: int, units: Units, text: float) -> bool:
    """Draw the usual push along the feed and force into the fence of one pass.

    Parameters
    ----------
    axes : Axes
    moments : sequence of Moment
        At the ends of the stock, as from `at_the_ends`, of a wood whose forces are known.
    entering : int
        How many of them, evenly spaced, are from entering; as many, or fewer where the pass stops, are from leaving.
    units : Units
        In which the forces are drawn.
    text : float, points

    Returns
    -------
    bool
        Whether the work is pulled off the fence anywhere, by more than could not be seen; that is filled in.
    """
    steps = np.arange(len(moments))
    places = (steps + 0.5) / entering + np.where(steps >= entering, _BETWEEN, 0.0)
    marks = [(0.5, "enters"), (1.5 + _BETWEEN, "leaves" if len(moments) > entering else "stops before it leaves")]
    if len(moments) == entering:  # it stops on the way between, where nothing changes
        moments, places = [*moments, moments[-1]], np.append(places, 1 + _BETWEEN)
    axes.axhline(0, color=FAINT, lw=0.8)
    for middle, _ in marks:
        axes.axvspan(middle - 0.5, middle + 0.5, color=FAINT, alpha=0.07, lw=0)
    forces = [one.forces for one in moments if one.forces is not None]
    fence = np.array([units.figure(one.fence, FORCE) for one in forces])
    axes.plot(places, [units.figure(one.feed, FORCE) for one in forces], color=INK, lw=1.5)
    axes.plot(places, fence, color=FENCE, lw=1.5)
    off = min(one.fence for one in forces) < -HOLDS_OFF
    if off:
        axes.fill_between(places, fence, 0, where=fence < 0, color=ALARM, alpha=0.5, lw=0)
    axes.set(xlim=(0, marks[-1][0] + 0.5))
    axes.set_xticks([middle for middle, _ in marks], [said for _, said in marks])
    low, high = axes.get_ylim()
    axes.set_yticks([tick for tick in MaxNLocator(4).tick_values(low, high) if low <= tick <= high])
    axes.tick_params(length=3, color=FAINT, labelcolor=INK, labelsize=text)
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines[["left", "bottom"]].set_color(FAINT)
    return off
