"""Forces between teeth and wood, and the power they take: estimates, shown with the band they may lie in.

Force on an edge = k w sqrt(h): w the width of the edge in wood, h the uncut thickness, k by direction to the
grain, the square-root law of Ettelt (see `wood_table.py`). It acts along the tooth's motion; a share of it, the
thrust, presses the wood away from the surface that the edge sweeps. The law was measured on rip and cross
cuts in shavings thicker than these. Three steps are our own and checked against no measurement: the law is carried
over to the oblique feed, its constants are mixed by the squares of the cosines to the grain, and below a least
thickness the force is held.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.engagement import Edge
from sweep.cut.wood import SCATTER
from sweep.cut.wood_table import wood_of
from sweep.scene.model import SetUpScene
from sweep.shape.frame import arbor_axis, blade_up

Array = NDArray[np.float64]


@dataclass(frozen=True)
class State:
    """The state of wood and edges for which forces are summed.

    Parameters
    ----------
    hardness : float
        Times the species' constants.
    wear : float
        Times the force of a sharp edge: power grows by 11 to 35 % over a shift, mainly with the radius of
        the edge (Cristovao, Ekevad, Groenlund 2013, BioResources 8(4) 6044-6053, abstract read).
    thinnest : float, mm
        The law is held at this thickness below it: the radius of the edge, from memory.
    thrust : float
        Share of the cutting force that presses square to the surface: from memory, 0.3 sharp to 1 dull.
    """

    hardness: float
    wear: float
    thinnest: float
    thrust: float


GRAZING = 0.1
"""Share of the least thickness below which an edge only grazes, and its force fades to nothing: our own step."""

SHARP, USUAL, DULL = (
    State(1 - SCATTER, 1.0, 0.0, 0.3),
    State(1.0, 1.0, 0.005, 0.5),
    State(1 + SCATTER, 1.35, 0.010, 1.0),
)
"""The low end of the band (soft wood of its kind, sharp), the middle, and the high end (hard wood, dull).

In thin shavings dullness counts twice at the high end, in the wear and in the least thickness: the band is wide
there on purpose. Across and up, thrust and cutting force oppose each other; there the middle may lie outside the
other two."""


@dataclass(frozen=True)
class Forces:
    """Mean forces of one pass on the wood, N, and the power at the arbor, W.

    Parameters
    ----------
    feed : float
        Against the feed: what the hands push; negative where the blade pulls the work in.
    fence : float
        Into the fence; negative where the blade pulls the work off it.
    lift : float
        Up, off the table; negative where the blade holds the work down.
    side : float
        Square to the plate, on the blade; positive towards +x, the side away from the oncoming stock.
    power : float
    """

    feed: float
    fence: float
    lift: float
    side: float
    power: float


def forces_along(
    scene: SetUpScene, edges: list[Edge], feed_per_tooth: float | Array, count: int, state: State = USUAL
) -> tuple[Forces, ...] | None:
    """Return the mean forces at each of so many travels or passes.

    The feed per tooth, mm, is one for all, or one for every travel or pass. None when nothing is known of the wood.

    Notes
    -----
    Motion and normal of an edge are sums of the arbor's axis and of two ways in the blade's plane, by sine and cosine
    of the rim angle; so the weights of these are summed, not vectors.
    """
    cutting = by_rim_angle(scene, edges, feed_per_tooth, state)
    if cutting is None:
        return None
    forward, upward, aside, power = np.zeros((4, count))
    for force, edge in zip(cutting, edges, strict=True):
        teeth = scene.blade.teeth / edge.bites / (2 * math.pi)  # of those that cut here, in each radian of the rim
        force = force * teeth * edge.step
        cos, sin = edge.summed(force * edge.cos, count), edge.summed(force * edge.sin, count)
        along, outward = (state.thrust * part for part in edge.run)
        # motion: cos p up - sin p forward; normal: along (cos p forward + sin p up) - outward axis
        forward += along * cos - sin
        upward += along * sin + cos
        aside -= outward * edge.summed(force, count)
        power += edge.summed(force * edge.lever / edge.length, count)
    near, feed = 1.0 if scene.setup.fence_side == "near" else -1.0, scene.feed
    up, axis = blade_up(scene.tilt), arbor_axis(scene.tilt)
    on_wood = np.column_stack([aside * axis[0] + upward * up[0], forward, aside * axis[2] + upward * up[2]])
    ways = np.array([-feed.direction, near * feed.across, (0.0, 0.0, 1.0), -axis])
    watts = power * scene.saw.speed / 1000
    return tuple(Forces(*there) for there in np.column_stack([on_wood @ ways.T, watts]).tolist())  # in their order


def by_rim_angle(
    scene: SetUpScene, edges: list[Edge], feed_per_tooth: float | Array, state: State = USUAL
) -> list[Array] | None:
    """Return, for each edge, the cutting force of one tooth at each of its rim angles, along its motion, (k,) in N.

    The feed per tooth is as in `forces_along`; None when nothing is known of the wood.
    """
    wood = wood_of(scene.stock)
    if wood is None:
        return None
    forces = []
    for edge in edges:
        feed = feed_per_tooth if isinstance(feed_per_tooth, float) else feed_per_tooth[edge.turn]
        thickness = edge.thickness * feed * edge.bites
        pressure = state.hardness * state.wear * (edge.grain @ wood.constants)
        pressure *= np.sqrt(np.maximum(thickness, state.thinnest))
        if state.thinnest > 0:
            pressure *= np.minimum(1.0, thickness / (GRAZING * state.thinnest))
        forces.append(pressure * edge.length)
    return forces
