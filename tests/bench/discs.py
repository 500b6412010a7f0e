"""The same kernel with a union of discrete steps: the blade put down again and again along the feed.

What the steps leave standing follows from plane geometry. At any height the blade is a rectangle, kerf by
chord; moved one step s along the feed it leaves two right triangles of legs s sin(theta) and s cos(theta)
between the two positions, so for steps well below the kerf the wood left is, as a share of the cut,

    s sin(theta) cos(theta) height / area

on top of what the chords of the rim leave. The arc above the table stands for the disc: that is kind to this
means, for whole discs of the same facets take about eight times as long.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from bench.yardstick import CHORD, Job

from sweep.cut.stages import travel_range
from sweep.shape import solid


def union_of_steps(job: Job, numbers: Sequence[int], steps: int) -> list[solid.Solid]:
    """Return stages, each the fresh stock less copies of the blade along its pass."""
    return [_stage(job, number, steps) for number in numbers]


def step(job: Job, number: int, steps: int) -> float:
    """Return the distance between neighbouring discs, mm."""
    first, last = travel_range(job.scene, number)
    return (last - first) / (steps - 1)


def left_by_steps(job: Job, height: float, step: float) -> float:
    """Return what steps leave standing, as a share of the cut, by the law above."""
    return step * _triangles(job) * height / job.cut_area(height)


def step_for(job: Job, height: float, share: float) -> float:
    """Return the step that leaves no more than a share of the cut, mm."""
    return share * job.cut_area(height) / (height * _triangles(job))


def _triangles(job: Job) -> float:
    return math.sin(job.angle) * math.cos(job.angle)


def _stage(job: Job, number: int, steps: int) -> solid.Solid:
    scene = job.scene
    travel = np.linspace(*travel_range(scene, number), steps)
    (disc,) = solid.swept(scene.tool, scene.feed, scene.tilt, job.heights[number - 1], (0.0, 0.0), CHORD)
    return solid.subtract(solid.box(*job.box), [disc.translate((x, 0.0, 0.0)) for x in travel])
