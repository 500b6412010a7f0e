"""What of a straight cut's outline is wall and what is bottom, where its teeth leave marks.

The stock runs along the blade, so a true tooth moves within the walls of its kerf and leaves nothing there; a rim that
wobbles along the arbor leaves at most what it moves to and fro, once a turn, for teeth are relieved behind their
corners. At the bottom every tooth leaves an arc of the rim. Arcs a step f apart stand f^2 / (8 R) high between their
lowest places, the closed form of peripheral milling (Martellotti, Trans. ASME 63, 1941, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sweep.cut.blank import wood_section
from sweep.scene.model import WholeScene
from sweep.shape import section

APART = 0.5
"""mm. From point to point along the outline, about."""

ALONG_BLADE = 1e-9
"""Share of its length: a piece that goes no further along the arbor is a wall."""


@dataclass(frozen=True, eq=False)
class KerfMarks:
    """Points on the outline of a straight cut, in wood.

    Parameters
    ----------
    points : (n, 2) float, mm
        In (y, z), stock frame.
    on_wall : (n,) bool
        Whether each is on a wall; if not it is at the bottom.
    """

    points: NDArray[np.float64]
    on_wall: NDArray[np.bool_]


def kerf_marks(scene: WholeScene, blade_height: float) -> KerfMarks:
    """Return the places of a straight cut's marks, at a height of the blade."""
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, blade_height)
    found, walls = [np.empty((0, 2))], [np.empty(0, bool)]
    for run in section.outline_within(cut, wood_section(scene.stock)):
        for start, end in pairwise(run):
            (y, z), count = end - start, max(1, math.ceil(math.dist(start, end) / APART))
            shares = (np.arange(count) + 0.5) / count
            found.append(start + shares[:, None] * (end - start))
            along_arbor = abs(y * math.cos(scene.tilt) - z * math.sin(scene.tilt))
            walls.append(np.full(count, along_arbor <= ALONG_BLADE * max(1.0, math.hypot(y, z))))
    return KerfMarks(np.vstack(found), np.concatenate(walls))
