"""Every cut worth looking at, each at the greatest height that keeps clear, with the cells of waste that it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.rips import above
from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.plan.several.family import AT_A_WALL, Family
from sweep.plan.several.on_face import OnFace
from sweep.plan.several.wanted import Wanted
from sweep.scene.model import Scene
from sweep.scene.setups import Ends, Face
from sweep.shape.frame import highest_setting

Array = NDArray[np.float64]
Cells = NDArray[np.bool_]

TILT_STEP = math.radians(15.0)
"""rad. Between the tilts that are tried first."""

ANGLES, LEAST_ANGLE = 14, math.radians(1.5)
"""How many fence angles are tried first, and the least, rad: below it the cove is no wider than a kerf."""

PLACE_STEP, PLACES = 1.0, 160
"""mm. Between the places that are tried first; and how many they are at most, further apart on wide stock."""

BLADES = 4
"""Above so many blades fewer angles and tilts are tried first."""

AT_ONCE = 30_000
"""How many cuts are held against one another at once, to spare memory."""

BESIDE = 12.0
"""mm. How far beside the stock the middle of a cove is tried."""

LEAST_HEIGHT = 0.3
"""mm. A lower cut is not worth a set-up."""

ON_EDGE = 40.0
"""mm (1 1/2 in). The deepest rip with the stock on its edge; our choice."""

FLAT = 3.0
"""mm. A straight piece of the profile so long is a flat, along which a rip is tried."""

ENDS: tuple[Ends, ...] = ("as it lay", "end for end")

BLOCK = 256
"""How many cuts are held against all others at once."""


@dataclass(frozen=True, eq=False)
class Pool:
    """Cuts to choose from.

    Parameters
    ----------
    cuts : tuple of Cut or RabbetCut
    takes : (n, p) bool
        Which cells of the waste each takes.
    """

    cuts: tuple[Cut | RabbetCut, ...]
    takes: Cells

    @property
    def costs(self) -> NDArray[np.int64]:
        """For how many set-ups each counts, (n,)."""
        return np.array([cut.cost for cut in self.cuts])


def pool_of(scene: Scene, wanted: Wanted) -> Pool:
    """Return the cuts that no other one betters: that takes all that they take, and counts for no more set-ups."""
    some = wanted.cells[::4]  # every fourth tells which cut betters which, in a quarter of the time
    pools = [_steps(scene, wanted, some)]
    for family in families_of(scene, wanted):
        pools += of_family(family, scene, wanted, places_of(family, wanted), some)
        if sum(len(pool.cuts) for pool in pools) > AT_ONCE:
            pools = [_undominated(joined(pools))]
    best = _undominated(joined(pools)).cuts
    return Pool(best, np.array([takes_of(cut, wanted, wanted.cells) for cut in best], bool))


def joined(pools: list[Pool]) -> Pool:
    """Return the cuts of several pools as one."""
    return Pool(tuple(cut for pool in pools for cut in pool.cuts), np.vstack([pool.takes for pool in pools]))


def families_of(scene: Scene, wanted: Wanted) -> Iterator[Family]:
    """Yield every blade at every angle and tilt that is tried, both ends first, on each face that may be down.

    Rips are tried at the slopes of the profile's own flats as well.
    """
    size = (scene.stock.width, scene.stock.thickness)
    low, high = scene.saw.tilts
    many = len(scene.choice) > BLADES
    step = TILT_STEP * (1.5 if many else 1.0)
    tilts = sorted({low, high, *(k * step for k in range(-3, 4) if low < k * step < high)})
    steepest = max(scene.limits.fence_angle, LEAST_ANGLE)
    angles = np.geomspace(LEAST_ANGLE, steepest, max(4, ANGLES * BLADES // len(scene.choice)) if many else ANGLES)
    faces: tuple[Face, ...] = ("table", "left edge", "right edge")
    for blade, one in enumerate(scene.choice):
        for face in faces:
            for tilt in tilts:
                symmetric = tilt == 0.0 and _is_symmetric(one.tool.profile)
                for ends in ENDS[:1] if symmetric else ENDS:
                    lying = OnFace(face, ends, size)
                    yield Family(lying, blade, one.tool, 0.0, tilt)
                    if face == "table":
                        yield from (Family(lying, blade, one.tool, float(angle), tilt) for angle in angles)
            for ends in ENDS:
                lying = OnFace(face, ends, size)
                slopes = {tilt for tilt in _slopes(lying, wanted) if low < tilt < high}.difference(tilts)
                yield from (Family(lying, blade, one.tool, 0.0, tilt) for tilt in sorted(slopes))


def places_of(family: Family, wanted: Wanted) -> Array:
    """Return the places that are tried first, (o,) mm: of a cove beside the stock too, of a rip along every wall."""
    half = family.lying.size[0] / 2
    if not family.is_rip:
        return _evenly(half + BESIDE)
    reach = max(0.0, half - family.tool.kerf / 2 / math.cos(family.tilt))
    places = np.concatenate([_evenly(reach), family.places_along(wanted.sides)])
    return np.unique(places[np.abs(places) <= reach])


def _evenly(reach: float) -> Array:
    """Return places at equal steps, the same to the left as to the right, (o,) mm."""
    return np.linspace(-reach, reach, 2 * min(math.ceil(reach / PLACE_STEP), PLACES // 2) + 1)


def of_family(family: Family, scene: Scene, wanted: Wanted, places: Array, cells: Array) -> Iterator[Pool]:
    """Yield the cuts of a family at some places, as high as may be, and which of some cells they take; rips through."""
    clear, most = family.greatest_heights(wanted.sides, places), highest_of(family, scene)
    heights, reached = np.minimum(clear, most), family.heights_to_reach(cells, places)
    takes = reached <= heights[:, None]
    # off an edge a cut may be clear however high: no higher than it takes more
    heights = np.minimum(heights, np.where(takes, reached, 0.0).max(axis=1, initial=0.0) + above(scene))
    yield _worth(family, places, heights, False, takes)
    if family.is_rip:
        through = family.heights_through(places) + above(scene)
        which = np.isinf(clear) & (through < most)
        takes = family.beyond(cells, places[which], wanted.sides[0, 0])
        yield _worth(family, places[which], through[which], True, takes)


def highest_of(family: Family, scene: Scene) -> float:
    """Return how high the blade may stand for a family, mm; in a cove it may not come out of the stock."""
    most = min(family.highest - 1e-3, math.inf if scene.saw.max_height is None else scene.saw.max_height)
    if not family.is_rip:
        most = min(most, family.lying.size[1] - LEAST_HEIGHT)
    return most if family.lying.face == "table" else min(most, ON_EDGE)


def takes_of(cut: Cut | RabbetCut, wanted: Wanted, cells: Array) -> Cells:
    """Return which cells a cut takes, (p,)."""
    if isinstance(cut, RabbetCut):
        y, z = cut.lying.laid(cells).T
        from_side = cut.lying.size[0] / 2 + (y if cut.left else -y)
        return np.asarray((from_side < cut.width) & (z < cut.depth), bool)
    place = np.array([cut.place])
    if cut.through:
        return np.asarray(cut.family.beyond(cells, place, wanted.sides[0, 0])[0], bool)
    return np.asarray(cut.family.heights_to_reach(cells, place)[0] <= cut.height, bool)


def _worth(family: Family, places: Array, heights: Array, through: bool, takes: Cells) -> Pool:
    worth = np.flatnonzero((heights > LEAST_HEIGHT) & takes.any(axis=1))
    cuts = [
        Cut(family, place, height, through)
        for place, height in zip(places[worth].tolist(), heights[worth].tolist(), strict=True)
    ]
    return Pool(tuple(cuts), takes[worth])


def _steps(scene: Scene, wanted: Wanted, cells: Array) -> Pool:
    """Return the rabbets on every corner, for each width as deep as may be, by the first blade that reaches."""
    size = (scene.stock.width, scene.stock.thickness)
    cuts = []
    faces: tuple[Face, ...] = ("table", "top")
    for face in faces:
        lying = OnFace(face, "as it lay", size)
        for left in (True, False):
            widths, depths = _deepest_steps(lying, left, wanted)
            for width, depth in zip(widths.tolist(), depths.tolist(), strict=True):
                blade = _reaching(scene, max(width, depth))
                if depth > LEAST_HEIGHT and blade is not None:
                    cuts.append(RabbetCut(lying, blade, left, width, depth))
    takes = np.array([takes_of(cut, wanted, cells) for cut in cuts], bool)
    return Pool(tuple(cuts), takes.reshape(len(cuts), len(cells)))


def _deepest_steps(lying: OnFace, left: bool, wanted: Wanted) -> tuple[Array, Array]:
    """Return widths from one edge, and for each how deep a step keeps clear of the body, (w,) mm each."""
    ends = lying.laid(wanted.sides)
    across = lying.size[0] / 2 + (ends[..., 0] if left else -ends[..., 0])
    widths = np.unique(np.concatenate([across[:, 0], np.arange(1.0, lying.size[0] / 2, PLACE_STEP)])) - AT_A_WALL
    widths = widths[(widths > LEAST_HEIGHT) & (widths < min(ON_EDGE, lying.size[0] - LEAST_HEIGHT))]
    (near, far), (low, high) = across.T, ends[..., 1].T
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.clip((widths[:, None] - near) / (far - near), 0.0, 1.0)
    at_end = np.where(near == far, np.minimum(low, high), low + share * (high - low))
    lowest = np.minimum(np.where(near < widths[:, None], low, np.inf), np.where(far < widths[:, None], high, np.inf))
    crossing = (near < widths[:, None]) != (far < widths[:, None])
    depths = np.minimum(lowest, np.where(crossing, at_end, np.inf)).min(axis=1)
    return widths, np.minimum(depths, lying.size[1] - LEAST_HEIGHT)


def _reaching(scene: Scene, height: float) -> int | None:
    """Return the first blade that can be raised so high, upright."""
    most = math.inf if scene.saw.max_height is None else scene.saw.max_height
    reaching = [k for k, one in enumerate(scene.choice) if height < min(most, highest_setting(one.tool, 0.0))]
    return reaching[0] if reaching else None


def _undominated(pool: Pool) -> Pool:
    """Return the cuts of which no other one takes all that they take for as little; of like ones, the first.

    The fewer set-ups the less, and a rip that comes out of the wood is less than a cove. The largest come first. Blocks
    of those still in the running are held against all behind them at once. It ends, for the first of a block stays.
    """
    ranks = np.array([2 * cut.cost - (isinstance(cut, Cut) and cut.through) for cut in pool.cuts], int)
    order = np.lexsort([ranks, -pool.takes.sum(axis=1)])
    _, first = np.unique(np.packbits(pool.takes[order], axis=1), axis=0, return_index=True)
    order = order[np.sort(first)]
    takes, ranks, start = pool.takes[order].astype(np.float32), ranks[order], 0
    while start < len(order):
        block = slice(start, start + BLOCK)
        common = takes[start:] @ takes[block].T
        all_taken = common >= takes[start:].sum(axis=1)[:, None] - 0.5
        places = np.arange(start, len(order))
        better = (places[:BLOCK] < places[:, None]) & (ranks[block] <= ranks[start:, None])
        alive = ~(all_taken & better).any(axis=1)
        kept = np.concatenate([np.arange(start), places[alive]])
        start += int(alive[:BLOCK].sum())
        order, takes, ranks = order[kept], takes[kept], ranks[kept]
    return Pool(tuple(pool.cuts[k] for k in order), pool.takes[order])


def _slopes(lying: OnFace, wanted: Wanted) -> set[float]:
    """Return the tilts at which a blade stands along a flat of the profile, rad."""
    ends = lying.laid(wanted.sides)
    run, rise = (ends[:, 1] - ends[:, 0]).T
    long = np.hypot(run, rise) > FLAT
    tilts = np.arctan2(run * np.sign(rise), np.abs(rise))[long]
    return set(tilts.round(6).tolist())


def _is_symmetric(profile: tuple[tuple[float, float], ...]) -> bool:
    return all(abs(a + b) + abs(r - s) < 1e-9 for (a, r), (b, s) in zip(profile, reversed(profile), strict=True))
