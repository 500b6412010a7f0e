"""The chip load of each pass: how much wood, in how thick shavings, at what power."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sweep.cut.engagement import engaged_edges
from sweep.cut.passes import Pass, PassSection
from sweep.cut.power import cutting_power
from sweep.scene.model import Scene

IN_WOOD = 1e-6
"""mm. An edge with less than this in wood is not in wood."""


@dataclass(frozen=True)
class Load:
    """What one pass does to the teeth, in the steady middle of the stock.

    Parameters
    ----------
    feed_per_tooth : float, mm
        f = v / (n z).
    chip_volume : float, mm3
        What one tooth takes in one turn: the pass's area times f.
    chip_thickness_max, chip_thickness_mean : float, mm
        Over the edges in wood; uncut thickness, square to the surface that the edge sweeps.
    teeth_in_wood : float
        How many teeth are in wood at once, on average.
    power : float or None, W
        An estimate; None when nothing is published for the species.
    """

    feed_per_tooth: float
    chip_volume: float
    chip_thickness_max: float
    chip_thickness_mean: float
    teeth_in_wood: float
    power: float | None


def load_of(scene: Scene, one: Pass, before: float | None, taken: PassSection) -> Load:
    """Return the chip load of a pass.

    Parameters
    ----------
    scene : Scene
    one : Pass
    before : float or None, mm
        The greatest height of an earlier pass.
    taken : PassSection
        What the pass takes from the section.

    Notes
    -----
    Teeth bevelled alternately share the work of their tips, so a tip takes with every second tooth a
    shaving of twice the thickness.
    """
    feed_per_tooth = one.feed_speed / (scene.saw.speed / (2 * math.pi) * scene.blade.teeth)
    bite = feed_per_tooth * scene.blade.stagger
    edges = engaged_edges(scene, one, before)
    cutting = [np.where(edge.length > IN_WOOD, edge.thickness, 0.0) for edge in edges]
    length = sum(float((edge.length * (edge.thickness > 0)).sum()) for edge in edges)
    shaved = sum(float((edge.length * edge.thickness).sum()) for edge in edges)
    in_wood = np.any([thickness > 0 for thickness in cutting], axis=0) if edges else np.zeros(1, bool)
    step = edges[0].step if edges else 0.0
    return Load(
        feed_per_tooth=feed_per_tooth,
        chip_volume=taken.area * feed_per_tooth,
        chip_thickness_max=bite * max((float(thickness.max()) for thickness in cutting), default=0.0),
        chip_thickness_mean=bite * shaved / length if length else 0.0,
        teeth_in_wood=scene.blade.teeth * float(in_wood.sum()) * step / (2 * math.pi),
        power=cutting_power(scene, edges, feed_per_tooth),
    )
