"""The load of each pass: how much wood, in how thick shavings, with what forces, at what power."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sweep.cut.engagement import Edge, edges_of_passes, engaged_edges
from sweep.cut.forces import DULL, SHARP, USUAL, Forces, forces_of
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
    return _load(scene, one, engaged_edges(scene, one, before, angles), area)


def loads_of(
    scene: SetUpScene, passes: Sequence[Pass], areas: Sequence[float], angles: int = ENGAGEMENT_ANGLES
) -> tuple[Load, ...]:
    """Return the load of every pass of a scene, each over the same wood as the one before it; see `load_of`."""
    heights = [one.height for one in passes]
    edges = edges_of_passes(scene, heights[:1], None, angles) + edges_of_passes(scene, heights[1:], heights, angles)
    return tuple(_load(scene, *each) for each in zip(passes, edges, areas, strict=True))


def _load(scene: SetUpScene, one: Pass, edges: list[Edge], area: float) -> Load:
    per_tooth = feed_per_tooth(scene, one)
    cutting = [np.where(edge.length > IN_WOOD, edge.bites * edge.thickness, 0.0) for edge in edges]
    length = sum(float((edge.length * (edge.thickness > 0)).sum()) / edge.bites for edge in edges)
    shaved = sum(float((edge.length * edge.thickness).sum()) for edge in edges)
    in_wood = np.any([thickness > 0 for thickness in cutting], axis=0) if edges else np.zeros(1, bool)
    step = edges[0].step if edges else 0.0
    low, usual, high = (forces_of(scene, edges, per_tooth, state) for state in (SHARP, USUAL, DULL))
    stiffness = rim_stiffness(scene.blade)
    thickest = [(edge.side, per_tooth * float(cut.max())) for edge, cut in zip(edges, cutting, strict=True)]
    side, top = (max((most for side, most in thickest if side is wanted), default=0.0) for wanted in (True, False))
    pulled = forces_of(scene, edges, per_tooth, replace(USUAL, thrust=0.0))
    return Load(
        feed_per_tooth=per_tooth,
        chip_volume=area * per_tooth,
        chip_thickness_max=max(side, top),
        chip_thickness_mean=per_tooth * shaved / length if length else 0.0,
        chip_side=side,
        chip_top=top,
        teeth_in_wood=scene.blade.teeth * float(in_wood.sum()) * step / (2 * math.pi),
        gullet_fill=gullet_fill(scene.blade, area * per_tooth * _fuller_hand(edges)),
        low=low,
        usual=usual,
        high=high,
        pulled=None if pulled is None else pulled.fence,
        deflection=None if usual is None or stiffness is None else abs(usual.side) / stiffness,
    )


def _fuller_hand(edges: list[Edge]) -> float:
    """Return how many times the average tooth's chips a tooth takes of the hand that takes more; 1 of flat tips."""
    taken = [(edge.hand, float((edge.thickness * edge.lever).sum())) for edge in edges]
    whole = sum(share for _, share in taken)
    if whole == 0.0:
        return 1.0
    by_all = sum(share for hand, share in taken if hand is None)
    return max(by_all + 2 * sum(share for hand, share in taken if hand == one) for one in (0, 1)) / whole
