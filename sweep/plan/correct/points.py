"""What points of a profile tell of the fence angle and the blade height, when blade and tilt are known.

The match of an offcut (`plan/match.py`), with the tilt given; turn and place of the piece are found with it and then
left out of the account. What is handed on is the pair of settings and how they err together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.match import FINE, match_offcut
from sweep.plan.moulding import ANGLE, HEIGHT, TILT, UNIT, Outlines
from sweep.shape.tool import Tool
from sweep.tolerance import IN_95

Array = NDArray[np.float64]

OPTION = "--points"


@dataclass(frozen=True)
class TellsPoints:
    """A fence angle and a blade height, rad and mm, as points tell them.

    Parameters
    ----------
    fence_angle : float, rad
    blade_height : float, mm
    whitening : ((float, float), (float, float))
        Takes their two errors to two that are independent, with a standard deviation of 1.
    """

    fence_angle: float
    blade_height: float
    whitening: tuple[tuple[float, float], tuple[float, float]]

    def misfits(self, fence_angle: float, blade_height: float) -> list[float]:
        """Return how far a set-up is from this one, in standard deviations."""
        apart = fence_angle - self.fence_angle, blade_height - self.blade_height
        return [row[0] * apart[0] + row[1] * apart[1] for row in self.whitening]


def told_by_points(tool: Tool, tilt: float, points: Array, accuracy: float) -> TellsPoints:
    """Return what points tell.

    Raises
    ------
    SceneError
        When they are no outline of the blade, or do not tell both settings.
    """
    try:
        match = match_offcut(tool, points, (tilt, tilt), accuracy)
    except SceneError as wrong:
        raise SceneError(OPTION, wrong.problem, wrong.remedy) from None
    if not match.by_this_blade:
        raise SceneError(
            OPTION,
            "they are no outline of this blade at this tilt: they lie up to {value} from the closest",
            "measure again, from the end that meets the blade last, or say how exactly with --points-accuracy",
            value=length(match.largest),
        )
    halves = match.fence_angle.half_width, match.blade_height.half_width
    if halves[0] is None or halves[1] is None:
        raise SceneError(
            OPTION,
            "they do not tell the fence angle and the blade height",
            "measure the hollow from edge to edge, and a few points on the flat on either side of it",
        )
    outlines = Outlines(tool, (tilt, tilt))
    shifts = [shift.value for shift in match.shift]
    row = np.array([[match.fence_angle.value, match.blade_height.value, tilt, match.rotation.value, *shifts]])
    slope = outlines.slopes(np.asarray(points, float), row, FINE)[1][0]
    spread = np.linalg.pinv(slope.T @ slope)  # for a scatter of 1 mm
    free = [place for place in range(6) if place != TILT]
    both = [free.index(ANGLE), free.index(HEIGHT)]
    together = spread[np.ix_(both, both)] * np.outer(UNIT[[ANGLE, HEIGHT]], UNIT[[ANGLE, HEIGHT]])
    # as wide as the match says: it knows of scatter, of waves and of rivals
    wider = np.array(halves) / IN_95 / np.sqrt(np.diag(together))
    whitening = np.linalg.inv(np.linalg.cholesky(together * np.outer(wider, wider)))
    first, second = whitening.tolist()
    return TellsPoints(match.fence_angle.value, match.blade_height.value, (tuple(first), tuple(second)))
