"""Which moments of a job the moving picture shows. Plain numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sweep.cut.stages import travel_range
from sweep.scene.model import WholeScene

MOST_FRAMES = 74
_LEAST_A_PASS = 5
_MOST_A_PASS = 60

PITCH_A_FRAME = 0.3
"""Pitches that the blade turns between frames: the eye can follow it, as it could not at the saw's true speed."""

_CLEAR = 0.35
"""How far the stock goes beyond the blade at the end of a pass, as a share of the way that it takes to come clear."""


@dataclass(frozen=True)
class Moment:
    """One frame.

    Parameters
    ----------
    number : int
        The pass under way.
    travel : float, mm
        How far it has gone.
    height : float, mm
        Of the blade.
    is_last : bool
        Whether the pass ends here.
    """

    number: int
    travel: float
    height: float
    is_last: bool


def moments_of(scene: WholeScene, most: int = MOST_FRAMES) -> tuple[Moment, ...]:
    """Return the moments to draw of the passes of one set-up, at most so many, but five at least.

    Every pass gets as many frames. They follow each other closely while the stock comes on to the blade and while it
    leaves, and quickly between, where nothing new is to be seen. A job of very many passes shows some, evenly chosen. A
    pass ends with the stock clear of the blade. One that stops short ends there, and the last one then has its blade
    lowered.
    """
    count = len(scene.passes.heights)
    shown = max(1, min(count, most // _LEAST_A_PASS))
    frames = max(_LEAST_A_PASS, min(_MOST_A_PASS, most // shown))
    moments = []
    for number in sorted({1 + round(k) for k in np.linspace(count - 1, 0, shown)}):
        start, end = travel_range(scene, number)
        height, stops = scene.passes.heights[number - 1], scene.passes.stops[number - 1] is not None
        end -= 0.0 if stops else _CLEAR * start
        share = np.linspace(0, 1, frames)
        travels = start + (end - start) * share**2 * (3 - 2 * share)
        moments += [Moment(number, float(travel), height, k + 1 == frames) for k, travel in enumerate(travels)]
    if scene.passes.stops[-1] is not None:
        moments[-1] = replace(moments[-1], height=0.0)
    return tuple(moments)
