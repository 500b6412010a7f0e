"""The forces of a pass while the blade enters the stock, runs in it and leaves, as a diagram."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sweep.check.limits import HOLDS_OFF
from sweep.cut.along import LoadAt
from sweep.show.draw.axes import Axes, round_figures
from sweep.show.draw.colours import ALARM, FENCE, INK, hexed
from sweep.show.draw.legend import bar, legend, swatch
from sweep.show.draw.looks import pale
from sweep.show.draw.sketch import Drawing, Part, box, drawing, path
from sweep.units import FORCE, Units

BETWEEN = 0.35
"""Width at which the way between is drawn, where nothing changes; entering and leaving are 1 wide each."""

_SMALL = 7.1  # points
_LEFT, _FOOT, _AIR = 6.5, 11.0, 0.06  # room for figures, and below, mm; the share of the range beyond the curves
_END = "#f0f0f1"  # ground behind both ends


def entering_drawing(moments: Sequence[LoadAt], entering: int, units: Units, width: float, height: float) -> Drawing:
    """Return the usual push along the feed and force into the fence of one pass, in so much room, mm.

    Parameters
    ----------
    moments : sequence of LoadAt
        At the ends of the stock, as from `at_the_ends`, of a wood whose forces are known.
    entering : int
        How many of them, evenly spaced, are from entering; as many, or fewer where the pass stops, are from leaving.
    units : Units
        In which the forces are drawn.
    width, height : float, mm

    Notes
    -----
    Where the work is pulled off the fence anywhere, by more than could not be seen, that is filled in.
    """
    steps = np.arange(len(moments))
    places = (steps + 0.5) / entering + np.where(steps >= entering, BETWEEN, 0.0)
    ends = [(0.5, "enters"), (1.5 + BETWEEN, "leaves" if len(moments) > entering else "stops before it leaves")]
    if len(moments) == entering:  # it stops on the way between, where nothing changes
        moments, places = [*moments, moments[-1]], np.append(places, 1 + BETWEEN)
    forces = [one.forces for one in moments if one.forces is not None]
    push = np.array([units.figure(one.feed, FORCE) for one in forces])
    fence = np.array([units.figure(one.fence, FORCE) for one in forces])
    low, high = min(0.0, push.min(), fence.min()), max(0.0, push.max(), fence.max())
    air = _AIR * (high - low) or 1.0  # no force at all still has a range
    axes = Axes(_LEFT, 1.0, width - _LEFT, height - 1.0 - _FOOT, (0.0, ends[-1][0] + 0.5), (low - air, high + air))
    parts: list[Part] = []
    for middle, _ in ends:
        (left, top), (right, bottom) = axes.at([(middle - 0.5, axes.y[1]), (middle + 0.5, axes.y[0])]).tolist()
        parts.append(box(left, top, right - left, bottom - top, "", _END))
    parts.append(path(axes.at([(0.0, 0.0), (axes.x[1], 0.0)]), "faint"))
    entries = [(bar(hexed(INK)), "against the feed"), (bar(hexed(FENCE)), "into the fence")]
    if min(one.fence for one in forces) < -HOLDS_OFF:
        under = np.column_stack([np.append(places, places[::-1]), np.append(np.minimum(fence, 0.0), 0.0 * fence)])
        parts.append(path(axes.at(under), "", pale(ALARM), closed=True))
        entries.append((swatch(pale(ALARM)), "off it"))
    for figures, colour in ((push, INK), (fence, FENCE)):
        curve = path(axes.at(np.column_stack([places, figures])), "curve")
        parts.append(curve | {"stroke_colour": hexed(colour)})
    shown = [(figure, f"{figure:g}".replace("-", "\N{MINUS SIGN}")) for figure in round_figures(*axes.y, 4)]
    parts += axes.frame() + axes.beside(shown, _SMALL) + axes.below(ends, _SMALL)
    return drawing(width, height, parts, legend(entries, 0.0, height - 2.2, width, _SMALL))
