"""What the wood rides on beside a cut, and how much of it stands above the cut, in planed stock or in other wood."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from sweep.cut.blank import wood_section
from sweep.cut.job import Job
from sweep.shape import section
from sweep.shape.resting import on_both_sides, rests_on
from sweep.tolerance import ON_TABLE


def flats_beside(job: Job) -> tuple[float, float] | None:
    """Return how much flat rides on the table to the left and to the right of the cut at its full height, mm.

    None where the cut does not come to the table within the stock.
    """
    scene, last = job.scene, job.sections[-1]
    if last.edges is None:
        return None
    half = scene.stock.width / 2
    if scene.stock.blank is None:
        return max(0.0, last.edges[0] + half), max(0.0, half - last.edges[1])
    return on_both_sides(rests_on(last.left), sum(last.edges) / 2)


def wood_above(job: Job) -> float:
    """Return the least thickness of wood that stands above the cut, straight up, mm.

    Infinite where none is meant to: above a rip that goes right through.

    In planed stock it is that above the cut's highest point. In other wood it is looked for above every corner of the
    cut and below every corner of the wood's upper outline: between two of these both run straight.
    """
    scene, last = job.scene, job.sections[-1]
    if scene.feed.along_blade and len(section.parts(last.left)) > 1:
        return math.inf
    if scene.stock.blank is None:
        return scene.stock.thickness - last.top
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height, job.fineness.chord)
    taken = section.within(cut, wood_section(scene.stock, job.fineness.chord))
    if taken.is_empty:
        return math.inf
    left, right = section.sides_of(taken)
    corners = [taken, last.left.simplify(job.fineness.chord)]
    places = np.unique(np.concatenate([shapely.get_coordinates(figure)[:, 0] for figure in corners]))
    inside = ON_TABLE * (right - left)
    places = np.append(places[(places > left) & (places < right)], [left + inside, right - inside])
    return _least_above(places, taken, last.left, scene.stock.thickness)


def _least_above(places: NDArray[np.float64], taken: section.Figure, left: section.Figure, top: float) -> float:
    """Return the least length of wood straight above a cut, over places across it, mm."""
    ends = np.stack([np.column_stack([places, np.full(len(places), height)]) for height in (0.0, top + 1.0)], axis=1)
    lines = shapely.linestrings(ends)
    cuts = shapely.intersection(lines, taken)
    roofs = np.where(shapely.length(cuts) > 0.0, shapely.bounds(cuts)[:, 3], np.nan)
    parts, at = shapely.get_parts(shapely.intersection(lines, left), return_index=True)
    _, low, _, high = shapely.bounds(parts).T
    above = (high - low)[np.abs(low - roofs[at]) < ON_TABLE]
    return float(above.min(initial=math.inf))
