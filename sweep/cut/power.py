"""Power at the arbor: an estimate from a published square-root law of the cutting force in wood.

Force on one edge = k b sqrt(h): b the width of the edge in wood, h the uncut thickness, k by the
direction of the cut to the grain. The constants are Ettelt's (1987), from *Zerspanung von Holz und
Holzwerkstoffen*, 2nd ed. 2023, p. 120, as quoted on FreeCAD's machining material cards HardWood and
SoftWood (read there, not in the book): sharp edges, rake unknown, poorer at thin chips. Wood scatters
by a third either way, and below `THINNEST` an edge rubs more than it cuts: the law is held at that thickness.
"""

from __future__ import annotations

import math

import numpy as np

from sweep.cut.engagement import Edge
from sweep.scene.model import Scene

CONSTANTS = {
    "oak": (33.0, 10.0, 7.0),
    "beech": (33.0, 12.0, 7.5),
    "pine": (22.5, 7.5, 5.0),
    "spruce": (21.5, 9.0, 6.0),
}
"""N/mm^1.5 for the edge and the motion across the grain; the motion along it; the edge along it."""

THINNEST = 0.005
"""mm. About the radius of a sharp to slightly worn edge; from memory, not from a published table."""

SCATTER = 0.35
"""Share by which wood and edges of one species scatter: the width of Ettelt's range for oak."""


def constants_of(species: str) -> tuple[float, float, float] | None:
    """Return the force constants of a species, by its family name: ``white oak`` is an oak; None when unknown."""
    words = species.lower().replace("-", " ").split()
    return next((CONSTANTS[word] for word in reversed(words) if word in CONSTANTS), None)


def cutting_power(scene: Scene, edges: list[Edge], feed_per_tooth: float) -> float | None:
    """Return the mean power that the teeth spend in the middle of a pass, W; None when the species is unknown.

    The constant for a direction mixes Ettelt's three by the squares of the cosines of the grain, which
    runs along the feed, with the normal, the motion and the edge. Published for rip cuts; carrying it
    over to an oblique feed is our own step, checked against no measurement.
    """
    constants = constants_of(scene.stock.species)
    if constants is None:
        return None
    grain = scene.feed.direction
    across, along, lying = constants
    power = 0.0
    for edge in edges:
        k = across * (edge.normal @ grain) ** 2 + along * (edge.motion @ grain) ** 2 + lying * (edge.edge @ grain) ** 2
        thickness = np.maximum(edge.thickness * feed_per_tooth * scene.blade.stagger, THINNEST)
        force_speed = np.where(edge.thickness > 0, k * np.sqrt(thickness), 0.0) * edge.lever
        power += float(force_speed.sum()) * edge.step
    teeth_meeting = scene.blade.teeth / scene.blade.stagger / (2 * math.pi)
    return power * teeth_meeting * scene.saw.speed / 1000
