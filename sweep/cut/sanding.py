"""The cove turned inside out: a sanding block that leaves room for its paper, and a scraper that leaves none.

Both fill the cove as it comes from the last pass and stand out of it by a back to hold. Where the cove runs off an edge
of the stock they end at that edge.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sweep.scene.model import WholeScene
from sweep.shape import section, solid
from sweep.shape.mesh import Mesh
from sweep.tolerance import CHORD

SMALLEST = 1.0
"""mm. Anything narrower or lower than this can neither be printed nor held against wood."""


def sanding_block(scene: WholeScene, chord: float = CHORD) -> Mesh | None:
    """Return the block as it is printed, or None where there is no cove that it would fit.

    It stands on one end, so that every layer is the whole section, nothing hangs over, and no steps are left on the
    face. x is y of the stock, y is its z with 0 at the block's back, z runs from 0 up along the block; mm.
    """
    outline = filling(scene, scene.sanding.paper, chord)
    if outline is None:
        return None
    body = solid.prism([outline], scene.sanding.block_length)
    lying = solid.to_mesh(body, {})
    return Mesh(lying.vertices[:, [1, 2, 0]], lying.triangles, lying.cut_by)


def filling(scene: WholeScene, clearance: float, chord: float = CHORD) -> NDArray[np.float64] | None:
    """Return the outline of what fills the cove and keeps clear of the wood.

    Parameters
    ----------
    scene : WholeScene
        With its set-up and passes.
    clearance : float, mm
        Least distance to the wood, square to its surface.
    chord : float, mm
        Of the rim: by so much the cove may be drawn too small.

    Returns
    -------
    (n, 2) float, mm, or None
        Looking along the feed: y of the stock, and height above the back; the back lies at height 0.
    """
    half, thickness, back = scene.stock.width / 2, scene.stock.thickness, scene.sanding.back
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.passes.heights[-1], chord)
    hollow = section.within(cut, section.stock_section(scene.stock.width, thickness))
    outlines = section.rings(hollow)
    mouth = [y for outline in outlines for y, z in outline if z == 0.0]
    if not mouth:
        return None
    below = -back - clearance - SMALLEST
    throat = _box(min(mouth), below, max(mouth), 0.0)  # the block goes straight down from the edges of the cove
    wood = section.minus(section.together(_box(-half, below, half, thickness)), section.together(*outlines, throat))
    room = section.together(_box(-half, -back, half, thickness))
    pieces = section.rings(section.minus(room, section.grown(wood, clearance)))
    outline = max(pieces, key=lambda ring: float(np.ptp(ring[:, 0])), default=np.zeros((1, 2)))
    width, height = np.ptp(outline, axis=0)
    if width < SMALLEST or height < back + SMALLEST:
        return None
    return outline + (0.0, back)


def _box(left: float, low: float, right: float, high: float) -> NDArray[np.float64]:
    return np.array([[left, low], [right, low], [right, high], [left, high]])
