"""A height map: for every cell of the stock's face, how high the blade has been.

It is spared the search for the blade's highest reach over each cell: the exact cove, known in closed form,
is looked up once a pass and every cell keeps the larger. What is timed is the map itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from bench.yardstick import Job, Outcome, closed
from numpy.typing import NDArray

CELL = 0.05
"""mm. Side of a cell; half of it would need 530 MB."""

Heights = NDArray[np.float32]


def height_map(job: Job, after: Callable[[Heights], object] = lambda roof: None) -> Heights:
    """Return the map after all passes, (along, across), mm; `after` is shown it after each."""
    length, _, _ = job.box
    across = np.abs(_across(job))
    roof = np.zeros((round(length / CELL), len(across)), np.float32)
    for height in job.heights:
        sine = np.maximum(0.0, across - job.kerf / 2 * math.cos(job.angle)) / (job.radius * math.sin(job.angle))
        reached = height - job.radius * (1 - np.sqrt(np.maximum(0.0, 1 - sine**2)))
        np.maximum(roof, reached.astype(np.float32), out=roof)
        after(roof)
    return roof


def read(job: Job) -> Outcome:
    """Return the figures of the map; its section joins the middles of the cells."""
    length, width, thickness = job.box
    left: list[float] = []
    roof = height_map(job, lambda roof: left.append(length * width * thickness - roof.sum(dtype=float) * CELL**2))
    cove = np.column_stack([_across(job), roof[len(roof) // 2]])
    sides = [(width / 2, 0.0), (width / 2, thickness), (-width / 2, thickness), (-width / 2, 0.0)]
    return Outcome(left, [closed(np.vstack([cove, sides]))])


def _across(job: Job) -> NDArray[np.float64]:
    _, width, _ = job.box
    return (np.arange(round(width / CELL)) + 0.5) * CELL - width / 2
