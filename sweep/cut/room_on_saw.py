"""What room the set-up takes on the saw: of the table for the fence, of the throat plate for the blade, for the stock.

All of the blade at its full height, mm, machine frame. What is too little is said in `check/table.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.cut.lines_on_table import along_box
from sweep.cut.stages import travel_range
from sweep.scene.model import WholeScene
from sweep.shape.frame import centre_height


@dataclass(frozen=True)
class TableRoom:
    """What fence and stock take of the table.

    Parameters
    ----------
    fence_length : float or None, mm
        The least that reaches both edges of the table with all its thickness; None where it misses the table.
    fence_missing : float, mm
        How much of the fence beside the cut has no table under it; 0 where all of it has.
    before, after : float, mm
        How far beyond the table's edges, along the feed, the stock must be carried so that its middle never stands
        in the air: as a pass begins, and as it ends. Not more than 0 where the table is enough.
    """

    fence_length: float | None
    fence_missing: float
    before: float
    after: float


def room_on_table(scene: WholeScene) -> TableRoom | None:
    """Return what fence and stock take of the table; None where the scene gives no table.

    Parameters
    ----------
    scene : WholeScene
        With a set-up and passes.
    """
    edges, feed, half = scene.saw.edges, scene.feed, scene.stock.width / 2
    if edges is None:
        return None
    ranges = [travel_range(scene, number) for number in range(1, len(scene.passes.heights) + 1)]
    reach, end = -min(start for start, _ in ranges), max(end for _, end in ranges)
    hand = 1 if scene.setup.fence_side == "near" else -1
    face = scene.setup.offset + hand * half
    sides = [along_box(edges, feed, across) for across in (face, face + hand * scene.fence.thickness)]
    missing = [2 * reach if ends is None else max(0.0, ends[0] + reach, reach - ends[1]) for ends in sides]
    crossed = [ends for ends in sides if ends is not None]
    length = max(last for _, last in crossed) - min(first for first, _ in crossed) if len(crossed) == 2 else None
    first, last = along_box(edges, feed, scene.setup.offset) or (0.0, 0.0)
    return TableRoom(
        fence_length=length,
        fence_missing=max(missing),
        before=first + reach + scene.stock.length / 2,
        after=end - scene.stock.length / 2 - last,
    )


def throat_needed(scene: WholeScene) -> tuple[float, float]:
    """Return the length and the width, mm, of the opening that the blade needs through the whole throat plate.

    The opening lies evenly about the blade's centre and plane. Below the table the rim is longer, and a tilted blade
    stands further to the side.
    """
    tool, tilt, below = scene.tool, scene.tilt, scene.saw.throat_thickness
    centre = centre_height(tool, tilt, scene.setup.blade_height)
    half_length = half_width = 0.0
    for a, r in tool.profile:
        sunk = max(0.0, a * math.sin(tilt) - centre - below) / math.cos(tilt)  # of the circle's centre, under the plate
        if sunk < r:
            half_length = max(half_length, math.sqrt(r * r - sunk * sunk))
            across = a / math.cos(tilt)
            half_width = max(half_width, abs(across), abs(across - below * math.tan(tilt)))
    return 2 * half_length, 2 * half_width
