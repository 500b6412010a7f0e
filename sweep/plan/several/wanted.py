"""What is asked of the set-ups: the body that must stay, grown by what is left for planes, and the waste as cells."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.scene.model import Scene
from sweep.scene.whole import kept_body
from sweep.shape import section

Array = NDArray[np.float64]

CELLS = 2500
"""About how many cells the waste is counted in: half a millimetre wide in a moulding 70 mm wide."""

ROUNDED, SIDES = 2e-4, 400
"""mm. How far the outline that is kept clear of may lie off that of the body grown: it saves most of its points. And
how many sides it may have: round a profile full of points it is grown a little more and made simpler."""


@dataclass(frozen=True, eq=False)
class Wanted:
    """What is asked of the set-ups.

    Parameters
    ----------
    stock : (width, thickness), mm
    kept : Figure
        The body that must stay.
    clear_of : Figure
        The body grown by what is to be left, within the stock: no cut may touch it.
    sides : (n, 2, 2) float, mm
        Both ends of each side of its outlines.
    waste : Figure
        The rest of the stock.
    cells : (p, 2) float, mm
        Middles of the cells that lie in the waste.
    cell : float, mm2
        Area of one.
    """

    stock: tuple[float, float]
    kept: section.Figure
    clear_of: section.Figure
    sides: Array
    waste: section.Figure
    cells: Array
    cell: float


def wanted_of(scene: Scene) -> Wanted:
    """Return what a scene with a whole moulding asks for."""
    width, thickness = scene.stock.width, scene.stock.thickness
    planed = section.stock_section(width, thickness)
    kept = kept_body(scene.wanted, scene.stock)
    clear_of = section.within(_simpler(kept, scene.plan.leave), planed)
    waste = section.minus(planed, clear_of)
    side = max((section.area(waste) / CELLS) ** 0.5, 0.01)
    wide, high = width / math.ceil(width / side), thickness / math.ceil(thickness / side)
    across = np.arange(-width / 2 + wide / 2, width / 2, wide)
    up = np.arange(high / 2, thickness, high)
    cells = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)
    rings = section.rings(clear_of)
    sides = np.concatenate([np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings])
    return Wanted((width, thickness), kept, clear_of, sides, waste, cells[section.inside(cells, waste)], wide * high)


def _simpler(kept: section.Figure, leave: float) -> section.Figure:
    """Return the body grown by what is to be left, with few enough sides.

    Each turn makes it four times simpler, and grows it so much more that it keeps its distance. It ends: after eight
    turns it is simpler by 3 mm, and is taken with however many sides are left.
    """
    rounded = ROUNDED
    while True:
        plain = section.simpler(kept, rounded)  # first, for growing a line of thousands of points takes seconds
        more = 2 * rounded if rounded > ROUNDED else 0.0
        grown = section.simpler(section.grown(plain, leave + more), rounded)
        if sum(map(len, section.rings(grown))) <= SIDES or rounded > 1.0:
            return grown
        rounded *= 4
