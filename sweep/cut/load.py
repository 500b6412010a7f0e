"""The load of each pass: how much wood, in how thick shavings, with what forces, at what power."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sweep.cut.engagement import Edge, edges_of_passes
from sweep.cut.forces import DULL, SHARP, USUAL, Array, Forces, forces_along
from sweep.cut.passes import Pass, feed_per_tooth
from sweep.cut.plate import gullet_fill, rim_stiffness
from sweep.scene.model import SetUpScene
from sweep.tolerance import ENGAGEMENT_ANGLES

IN_WOOD = 1e-6
"""mm. An edge with less than this in wood is not in wood."""


@dataclass(frozen=True)
class Load:
    """What one pass does to teeth, blade and hands, in the steady middle of the stock.

    Forces and power are estimates; each comes as the usual value, and the three `Forces` with the band.

    Parameters
    ----------
    feed_per_tooth : float, mm
        f = v / (n z).
    chip_volume : float, mm3
        What one tooth takes in one turn, on average over both hands: the pass's area times f.
    chip_thickness_max, chip_thickness_mean : float, mm
        Over the edges in wood; uncut thickness, square to the surface that the edge sweeps.
    chip_side, chip_top : float, mm
        The greatest on the side edge, which faces the oncoming stock, and on the edges of the tip.
    teeth_in_wood : float
        How many teeth are in wood at once, on average.
    gullet_fill : float
        Share of a gullet's usable room; of teeth bevelled alternately, that of the hand which takes more.
    low, usual, high : Forces or None
        Soft wood and sharp edges, the middle, hard wood and dull edges; None when nothing is known of the wood.
    pulled : float or None, N
        The usual force into the fence of the cutting force alone, without what presses square to the edges.
    deflection : float or None, mm
        Of the rim under the usual side force; None for a shaped cutter or an unknown wood.
    """

    feed_per_tooth: float
    chip_volume: float
    chip_thickness_max: float
    chip_thickness_mean: float
    chip_side: float
    chip_top: float
    teeth_in_wood: float
    gullet_fill: float
    low: Forces | None
    usual: Forces | None
    high: Forces | None
    pulled: float | None
    deflection: float | None

    @property
    def power(self) -> float | None:
        """The usual power at the arbor, W."""
        return None if self.usual is None else self.usual.power

    @property
    def band(self) -> tuple[Forces, Forces, Forces] | None:
        """The least, the usual and the greatest; None when nothing is known of the wood."""
        if self.low is None or self.usual is None or self.high is None:
            return None
        return self.low, self.usual, self.high


def load_of(scene: SetUpScene, one: Pass, before: float | None, area: float, angles: int = ENGAGEMENT_ANGLES) -> Load:
    """Return the load of a pass.

    Parameters
    ----------
    scene : SetUpScene
    one : Pass
    before : float or None, mm
        The greatest height of an earlier pass.
    area : float, mm2
        What the pass takes from the section.
    angles : int
        Rim angles at which edges are measured.

    Notes
    -----
    Where teeth bevelled alternately share the work, each takes with its turn a shaving of twice the thickness; the
    mean is over the edges of all teeth.
    """
    return loads_after(scene, [one], [before], [area], angles)[0]


def loads_of(
    scene: SetUpScene, passes: Sequence[Pass], areas: Sequence[float], angles: int = ENGAGEMENT_ANGLES
) -> tuple[Load, ...]:
    """Return the load of every pass of a scene, each over the same wood as the one before it; see `load_of`."""
    return loads_after(scene, passes, [None, *(one.height for one in passes[:-1])], areas, angles)


def loads_after(
    scene: SetUpScene,
    passes: Sequence[Pass],
    befores: Sequence[float | None],
    areas: Sequence[float],
    angles: int = ENGAGEMENT_ANGLES,
) -> tuple[Load, ...]:
    """Return the load of each of some passes, given what `load_of` is of each: together they take little longer."""
    edges = edges_of_passes(scene, [one.height for one in passes], befores, angles)
    count, feeds = len(passes), np.array([feed_per_tooth(scene, one) for one in passes])
    length, shaved, side, top = np.zeros((4, count))
    cuts, steps = np.zeros(count * angles, bool), np.zeros(count * angles)
    for edge in edges:
        chip = np.where(edge.length > IN_WOOD, edge.bites * edge.thickness * feeds[edge.turn], 0.0)
        np.maximum.at(side if edge.side else top, edge.turn, chip)
        cuts[edge.place] |= chip > 0
        steps[edge.place] = edge.step
        length += edge.summed(edge.length / edge.bites, count)
        shaved += edge.summed(edge.length * edge.thickness, count)
    in_wood = (cuts * steps).reshape(count, -1).sum(axis=1)
    fuller = _fuller_hand(edges, count)
    states = (SHARP, USUAL, DULL, replace(USUAL, thrust=0.0))
    forces = [forces_along(scene, edges, feeds, count, state) or (None,) * count for state in states]
    stiffness = rim_stiffness(scene.blade)
    found = []
    for k, (area, per_tooth, low, usual, high, pulled) in enumerate(zip(areas, feeds.tolist(), *forces, strict=True)):
        found.append(
            Load(
                feed_per_tooth=per_tooth,
                chip_volume=area * per_tooth,
                chip_thickness_max=float(max(side[k], top[k])),
                chip_thickness_mean=float(per_tooth * shaved[k] / length[k]) if length[k] else 0.0,
                chip_side=float(side[k]),
                chip_top=float(top[k]),
                teeth_in_wood=float(scene.blade.teeth * in_wood[k] / (2 * math.pi)),
                gullet_fill=gullet_fill(scene.blade, area * per_tooth * float(fuller[k])),
                low=low,
                usual=usual,
                high=high,
                pulled=None if pulled is None else pulled.fence,
                deflection=None if usual is None or stiffness is None else abs(usual.side) / stiffness,
            )
        )
    return tuple(found)


def _fuller_hand(edges: list[Edge], count: int) -> Array:
    """Return, for each pass, how many times the average tooth's chips a tooth takes of the hand that takes more.

    It is 1 of flat tips.
    """
    taken = [(edge.hand, edge.summed(edge.thickness * edge.lever, count)) for edge in edges]
    nothing = np.zeros(count)
    whole = sum((share for _, share in taken), nothing)
    by_all = sum((share for hand, share in taken if hand is None), nothing)
    hands = [sum((share for hand, share in taken if hand == one), by_all / 2) for one in (0, 1)]
    return np.where(whole == 0.0, 1.0, 2 * np.max(hands, axis=0) / np.where(whole == 0.0, 1.0, whole))
