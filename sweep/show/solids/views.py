"""Where one stands to look at the saw: in the operator's place, along the feed, above, or close to the section."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.stages import travel_range
from sweep.scene.model import Scene
from sweep.show.pictures.over_the_saw import outermost
from sweep.show.solids.saw import Window, whole_table


@dataclass(frozen=True, eq=False)
class Stand:
    """A place for the camera.

    Parameters
    ----------
    name : str
    towards : (3,) float
        From the blade's centre on the table to the camera, machine frame.
    distance : float, mm
    points : (n, 3) float, mm
        What must be seen.
    sawn : bool
        Whether the stock is sawn through where the blade leaves it, to show its section.
    """

    name: str
    towards: NDArray[np.float64]
    distance: float
    points: NDArray[np.float64]
    sawn: bool = False


def stands(scene: Scene, window: Window) -> dict[str, Stand]:
    """Return the places to look from, each under the key that goes there."""
    along, across, up = scene.feed.direction, scene.feed.across, np.array([0.0, 0.0, 1.0])
    away_from_fence = -1.0 if scene.setup.fence_side == "near" else 1.0
    cutting, table, stock = outermost(scene, window), whole_table(scene).points, scene.stock
    behind_blade = -travel_range(scene, len(scene.passes.heights))[0]
    y = scene.setup.offset + np.array([-0.5, 0.5, -0.5, 0.5]) * stock.width
    z = np.array([0, 0, 1, 1]) * max(stock.thickness, scene.setup.blade_height)
    section = behind_blade * along + np.outer(y, across) + np.outer(z, up)
    return {
        "1": Stand("operator", np.array([0.5 * away_from_fence, -1.0, 0.85]), 6 * window.half, cutting),
        "2": Stand("end-on", along + 0.3 * up, stock.length + 4 * window.half, cutting),
        "3": Stand("from above", np.array([0.0, -1e-3, 1.0]), 2 * float(np.ptp(table, axis=0).max()), table),
        "4": Stand("section", along + 0.05 * up, 8 * stock.width, section, sawn=True),
    }
