"""A pass while the blade enters the stock, runs through it and leaves: the load at any travel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.engagement import engaged_edges
from sweep.cut.forces import DULL, SHARP, USUAL, Forces, forces_along
from sweep.cut.passes import feed_per_tooth, passes_of
from sweep.cut.stages import travel_range
from sweep.scene.model import WholeScene

ANGLES = 128
"""Rim angles at each travel: there are many travels."""


@dataclass(frozen=True)
class LoadAt:
    """The load at one travel.

    Parameters
    ----------
    travel : float, mm
    cutting : float, mm2
        The section that is being cut: with the feed speed, wood removed a second.
    low, forces, high : Forces or None
        Soft wood and sharp edges, usual values, hard wood and dull edges; None when nothing is known of the wood.
    """

    travel: float
    cutting: float
    low: Forces | None
    forces: Forces | None
    high: Forces | None


def moments(scene: WholeScene, number: int, count: int = 60) -> tuple[LoadAt, ...]:
    """Return the load of a pass at evenly spaced travels, from clear of the stock to its end.

    Parameters
    ----------
    scene : WholeScene
    number : int
        From 1.
    count : int
        How many travels; each stands for its own share of the way.

    Notes
    -----
    Where an earlier pass stopped it left wood ahead of its blade; that wood is left out at the stop.
    """
    start, end = travel_range(scene, number)
    return _at(scene, number, start + (end - start) * (np.arange(count) + 0.5) / count)


def at_the_ends(scene: WholeScene, number: int, count: int = 16) -> tuple[LoadAt, ...]:
    """Return the load of a pass at so many travels while the blade enters the stock, and as many while it leaves.

    A pass that stops short has only those that it comes to.
    """
    start, end = travel_range(scene, number)
    reach, length = -start, scene.stock.length
    steps = (np.arange(count) + 0.5) / count
    ways = np.concatenate([start + 2 * reach * steps, length - reach + 2 * reach * steps])
    return _at(scene, number, ways[ways <= end])


def _at(scene: WholeScene, number: int, travels: NDArray[np.float64]) -> tuple[LoadAt, ...]:
    passes, count = passes_of(scene), len(travels)
    if count == 0:
        return ()
    one, before = passes[number - 1], passes[number - 2].height if number > 1 else None
    edges = engaged_edges(scene, one, before, ANGLES, travels)
    cutting = np.zeros(count)
    for edge in edges:
        cutting += edge.summed(edge.thickness * edge.lever * edge.step, count)
    per_tooth = feed_per_tooth(scene, one)
    low, usual, high = (
        forces_along(scene, edges, per_tooth, count, state) or (None,) * count for state in (SHARP, USUAL, DULL)
    )
    return tuple(map(LoadAt, travels.tolist(), cutting.tolist(), low, usual, high))
