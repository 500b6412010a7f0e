"""A pass while the blade enters the stock, runs through it and leaves: the load at any travel."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.cut.engagement import engaged_edges
from sweep.cut.forces import USUAL, Forces, forces_of
from sweep.cut.passes import feed_per_tooth, passes_of
from sweep.cut.stages import travel_range
from sweep.scene.model import Scene

ANGLES = 512
"""Rim angles at each travel: there are many travels."""


@dataclass(frozen=True)
class Moment:
    """The load at one travel.

    Parameters
    ----------
    travel : float, mm
    cutting : float, mm2
        The section that is being cut: with the feed speed, wood removed a second.
    forces : Forces or None
        Usual values; None when nothing is known of the wood.
    """

    travel: float
    cutting: float
    forces: Forces | None


def moments(scene: Scene, number: int, count: int = 60) -> tuple[Moment, ...]:
    """Return the load of a pass at evenly spaced travels, from clear of the stock to its end.

    Parameters
    ----------
    scene : Scene
    number : int
        From 1.
    count : int
        How many travels; each stands for its own share of the way.

    Notes
    -----
    Where an earlier pass stopped it left wood ahead of its blade; that wood is left out at the stop.
    """
    passes = passes_of(scene)
    one, before = passes[number - 1], passes[number - 2].height if number > 1 else None
    start, end = travel_range(scene, number)
    bite = feed_per_tooth(scene, one)
    found = []
    for k in range(count):
        travel = start + (end - start) * (k + 0.5) / count
        edges = engaged_edges(scene, one, before, ANGLES, travel)
        cutting = sum(float((edge.thickness * edge.lever).sum()) * edge.step for edge in edges)
        found.append(Moment(travel, cutting, forces_of(scene, edges, bite, USUAL)))
    return tuple(found)
