"""A maker at a saw that is set a little wrong, who measures, asks, and does what the answer says.

The blade is discrete: thousands of teeth at their places on the rim, each a short straight edge that rides along the
feed. What it has taken of the section is the highest tooth over each place across. Nothing of `sweep` is used for it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sweep.plan.correct.correction import Correction, corrected
from sweep.plan.correct.found import FoundSetting, found_set_up
from sweep.plan.correct.measured import AfterPass, Sized
from sweep.plan.correct.moves import Move
from sweep.scene.model import WholeScene
from sweep.scene.read import scene_from

Array = NDArray[np.float64]

TEETH = np.radians(np.linspace(0.0, 180.0, 24_001))
ACROSS = np.linspace(-60.0, 60.0, 6001)
"""mm. Places across the stock at which it is asked how high it is cut."""


def tops(radius: float, kerf: float, angle: float, height: float, offset: float) -> Array:
    """How high each place across is cut, mm, below 0 where it is not: by teeth whose edges lie across the blade."""
    middles = -radius * np.cos(TEETH) * math.sin(angle) - offset
    heights = height - radius + radius * np.sin(TEETH)
    half = kerf / 2 * math.cos(angle)
    first, last = np.searchsorted(middles, ACROSS - half), np.searchsorted(middles, ACROSS + half) - 1
    top = len(TEETH) // 2
    best = np.clip(np.clip(top, first, last), 0, len(TEETH) - 1)
    return np.where(first <= last, heights[best], -1.0)


def edges_of(cut: Array) -> tuple[float, float]:
    """Where a cut meets the table, left and right, mm: between two places, where a straight line through them does."""
    above = np.flatnonzero(cut > 0)
    left, right = above[0], above[-1]

    def crossing(inside: int, outside: int) -> float:
        share = cut[inside] / (cut[inside] - cut[outside]) if cut[outside] > -1.0 else 0.5
        return float(ACROSS[inside] + share * (ACROSS[outside] - ACROSS[inside]))

    return crossing(left, left - 1), crossing(right, right + 1)


def apart(one: Array, other: Array) -> float:
    """The largest distance of two cut outlines from each other, mm, both ways: of points to points 0.02 mm apart."""
    lines = []
    for cut in (one, other):
        left, right = edges_of(cut)
        inside = (ACROSS > left) & (ACROSS < right)
        points = np.vstack([[left, 0.0], np.column_stack([ACROSS[inside], cut[inside]]), [right, 0.0]])
        lines.append(points)
    worst = 0.0
    for here, there in (lines, lines[::-1]):
        every = here[::25]
        gaps = np.hypot(every[:, None, 0] - there[None, ::2, 0], every[:, None, 1] - there[None, ::2, 1]).min(axis=1)
        worst = max(worst, float(gaps.max()))
    return worst


def beyond(cut: Array, target: Array) -> float:
    """How far a cut goes deeper than another anywhere, straight up, mm; across, where the other is not cut at all."""
    both = (cut > 0) & (target > 0)
    up = float((cut - target)[both].max(initial=0.0))
    (left, right), (own_left, own_right) = edges_of(cut), edges_of(target)
    return max(up, own_left - left, right - own_right)


@dataclass
class Saw:
    """A saw as it really stands, and the wood that it has cut."""

    radius: float
    kerf: float
    angle: float
    offset: float
    height: float = 0.0
    taken: Array = field(default_factory=lambda: np.full(len(ACROSS), -1.0))

    def cut(self) -> None:
        """One pass at the height at which the blade stands."""
        self.taken = np.maximum(self.taken, tops(self.radius, self.kerf, self.angle, self.height, self.offset))


def random_scene(chance: np.random.Generator) -> WholeScene:
    """A cove as a maker might set it up, with a target that its set-up cuts but for its rounding."""
    radius, kerf = float(chance.choice([127.0, 125.0, 100.0, 150.0])), float(chance.choice([2.4, 2.8, 3.2]))
    angle, height = math.radians(round(chance.uniform(16, 38), 1)), round(chance.uniform(8, 19), 1)
    width = 2 * math.sin(angle) * math.sqrt(2 * radius * height - height**2) + kerf * math.cos(angle)
    rises = np.append(np.full(math.ceil((height - 0.8) / 2.1), (height - 0.8) / math.ceil((height - 0.8) / 2.1)), 0.8)
    heights = [round(top, 1) for top in np.cumsum(rises)]
    heights[-1] = height
    scene = scene_from(
        {
            "stock": {"length": "900 mm", "width": f"{width + 30:.1f} mm", "thickness": f"{height + 7:.1f} mm"},
            "blade": {"teeth": 40, "diameter": f"{2 * radius} mm", "kerf": f"{kerf} mm"},
            "saw": {
                "speed": "4000 rpm",
                "table_depth": "690 mm",
                "table_width": "1020 mm",
                "front_to_blade": "375 mm",
                "left_to_blade": "410 mm",
            },
            "setup": {
                "fence_angle": f"{math.degrees(angle)} deg",
                "blade_height": f"{height} mm",
                "offset": f"{round(chance.uniform(-4, 4), 1)} mm",
                "fence_side": str(chance.choice(["near", "far"])),
            },
            "passes": {"heights": [f"{top} mm" for top in heights], "feed_speed": "2 m/min"},
            "target": {"shape": "points", "points": [[0, 0], [1, 1], [2, 0]]},
        }
    )
    setup = scene.setup
    target = tops(radius, kerf, setup.fence_angle, height, setup.offset)
    left, right = edges_of(target)
    inside = (ACROSS > left) & (ACROSS < right)
    points = [
        (left, 0.0),
        *zip(ACROSS[inside][::15].tolist(), target[inside][::15].tolist(), strict=True),
        (right, 0.0),
    ]
    known = scene.target.model_copy(update={"points": tuple(points)})
    return WholeScene.model_construct(**dict(scene) | {"target": known})


def saw_of(scene: WholeScene, chance: np.random.Generator, wrong: float = 1.0) -> tuple[Saw, float]:
    """A saw set for a scene, fence and blade set wrong, and by how much its scale shows the height too small."""
    setup = scene.setup
    saw = Saw(
        radius=scene.tool.radius,
        kerf=scene.tool.kerf,
        angle=setup.fence_angle + wrong * math.radians(chance.normal(0, 0.5)),
        offset=setup.offset + wrong * chance.normal(0, 0.4),
    )
    return saw, wrong * float(chance.normal(0, 0.2))


def measure(
    saw: Saw, scene: WholeScene, number: int, times: int, exactly: float, chance: np.random.Generator
) -> AfterPass:
    """Width, depth and flat of the wood as it is, each so often, with errors."""
    left, right = edges_of(saw.taken)
    half = scene.stock.width / 2
    flat = half - right if scene.setup.fence_side == "near" else half + left
    sizes = [
        Sized(tuple((true + chance.normal(0, exactly, times)).tolist()), exactly)
        for true in (right - left, float(saw.taken.max()), flat)
    ]
    return AfterPass(number, *sizes)


@dataclass
class Made:
    """What came of a job: the first answer, how far off the target the cove is, and how deep its advice would go."""

    first: Correction
    apart: float
    advised_beyond: float
    asked: int


def make(scene: WholeScene, chance: np.random.Generator, exactly: float = 0.1) -> Made:
    """Cut to a pass or other, then measure after each pass and do as the answer says, until none remains.

    The fence is moved by both marks with an error of a tenth of a mm at each, as callipers and a stop have. Where the
    answer says to measure finer before the fence is moved, everything is measured twelve times more.
    """
    saw, shows_less = saw_of(scene, chance)
    heights = scene.passes.heights
    stop = int(chance.integers(1, len(heights)))
    for height in heights[:stop]:
        saw.height = height + shows_less
        saw.cut()
    setup = scene.setup
    target = tops(saw.radius, saw.kerf, setup.fence_angle, setup.blade_height, setup.offset)
    number, first, advised, asked = stop, None, 0.0, 0
    for _ in range(20):
        times = 3
        found = corrected(scene, (measure(saw, scene, number, times, exactly, chance),))
        asked += 1
        if found.found.fence_angle.as_meant and found.found.offset.as_meant and found.perhaps_from is not None:
            found = corrected(scene, (measure(saw, scene, number, 12, exactly, chance),))
            asked += 1
        first = first or found
        for one in found.passes:
            cut = tops(saw.radius, saw.kerf, setup.fence_angle, one.height, setup.offset)
            advised = max(advised, beyond(cut, target))
        if not first.in_reach or not found.passes:
            break
        if not (found.found.fence_angle.as_meant and found.found.offset.as_meant):
            move_fence(saw, scene, [(move, move.by + chance.normal(0, 0.1)) for move in found.moves])
        saw.height += found.passes[0].rise
        saw.cut()
        number = min(number + 1, len(heights))
        if len(found.passes) == 1:
            break
    assert first is not None
    return Made(first, apart(saw.taken, target), advised, asked)


def move_fence(saw: Saw, scene: WholeScene, moves: Sequence[tuple[Move, float]]) -> None:
    """Both marks of the fence moved along their edges of the table, each so far, mm."""
    half = scene.stock.width / 2 * (1 if scene.setup.fence_side == "near" else -1)
    sin, cos = math.sin(saw.angle), math.cos(saw.angle)
    places = []
    for move, by in moves:
        mark = move.mark
        if mark.edge in ("front", "rear"):
            places.append((((saw.offset + half) + mark.y * sin) / cos + by, mark.y))
        else:
            places.append((mark.x, (mark.x * cos - (saw.offset + half)) / sin + by))
    (x1, y1), (x2, y2) = places
    saw.angle = math.atan2(x2 - x1, y2 - y1)
    saw.offset = x1 * math.cos(saw.angle) - y1 * math.sin(saw.angle) - half


def set_and_found(chance: np.random.Generator, times: int) -> list[tuple[FoundSetting, float]]:
    """A job set wrong and cut up to one of its passes: its angle, height and offset as measured, and as they are."""
    scene = random_scene(chance)
    saw, shows_less = saw_of(scene, chance)
    number = int(chance.integers(1, len(scene.passes.heights) + 1))
    for height in scene.passes.heights[:number]:
        saw.height = height + shows_less
        saw.cut()
    found = found_set_up(scene, (measure(saw, scene, number, times, 0.1, chance),))
    return [(found.fence_angle, saw.angle), (found.blade_height, saw.height), (found.offset, saw.offset)]
