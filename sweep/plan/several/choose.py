"""The set-ups for a whole moulding: for every number of them the choice that takes most, in order, with its time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sweep.errors import SceneError
from sweep.figure import length
from sweep.plan.several.candidates import BLADES, Pool, pool_of
from sweep.plan.several.cover import Offer, chosen_from
from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.plan.several.order import Ordered, in_order
from sweep.plan.several.price import cutting_time, setting_time
from sweep.plan.several.proof import best_choice
from sweep.plan.several.refine import Nearby, refined
from sweep.plan.several.wanted import Wanted, wanted_of
from sweep.plan.several.wood_left import left_by, unsupported
from sweep.scene.model import Scene
from sweep.shape import section

FURTHER, MOST = 2, 8
"""How many more set-ups than are asked for the curve goes on for, so that the maker sees what they would bring; and the
most that a scene may ask for, of which every order is looked at."""

WORTH_A_MINUTE, WITHOUT_FLAT = 5e-5, 0.003
"""Share of the waste that a minute at the saw is held to be worth, and that a cut must take more than others which
leaves too little to ride on even of whole stock. Waste comes first, for the maker says how many set-ups there may be:
a quarter of an hour saved is worth less than a thousandth of it, and a carrier to be made three thousandths; our
choice."""


@dataclass(frozen=True)
class BestOfCount:
    """The best choice of one number of set-ups.

    Parameters
    ----------
    setups : int
        How many it counts for.
    ordered : Ordered
    share : float
        Of the waste that it takes.
    proven : bool
        Whether none of the cuts that were tried first do better together; what they were moved by then comes on top.
    """

    setups: int
    ordered: Ordered
    share: float
    proven: bool

    @property
    def seconds(self) -> float:
        """The time at the saw, for one piece, s."""
        return sum(self.ordered.seconds)


@dataclass(frozen=True)
class Curve:
    """What each number of set-ups takes, and which was chosen.

    Parameters
    ----------
    rows : tuple of BestOfCount
        By number of set-ups; none that takes no more than the one before.
    chosen : int
        Which of them, from 0.
    tried : int
        How many cuts there were to choose from.
    is_thinned : bool
        Whether there were so many blades that fewer angles and tilts were tried first.
    """

    rows: tuple[BestOfCount, ...]
    chosen: int
    tried: int
    is_thinned: bool

    @property
    def choice(self) -> BestOfCount:
        """The one that was chosen."""
        return self.rows[self.chosen]


def curve_of(scene: Scene) -> Curve:
    """Return the best choice of every number of set-ups for the whole moulding of a scene, a few more than it asks for.

    Raises
    ------
    SceneError
        When no set-up takes anything.
    """
    wanted = wanted_of(scene)
    if not len(wanted.cells):
        raise _nothing_to_take(scene)
    pool = pool_of(scene, wanted)
    if not pool.cuts:
        raise _nothing_to_take(scene)
    offer = _offer(pool, scene, wanted)
    rows, nearby = list[BestOfCount](), Nearby(scene, wanted)
    for most in range(1, min(scene.plan.most_setups + FURTHER, MOST) + 1):
        found = best_choice(offer, chosen_from(offer, most), most)
        row = _row(tuple(pool.cuts[k] for k in found.chosen), found.is_proven, nearby)
        if not rows or row.share > rows[-1].share + 1e-4:
            rows.append(row)
    within = [k for k, row in enumerate(rows) if row.setups <= scene.plan.most_setups]
    if not rows[within[-1]].setups:
        raise _nothing_to_take(scene)
    return Curve(tuple(rows), within[-1], len(pool.cuts), len(scene.choice) > BLADES)


def _nothing_to_take(scene: Scene) -> SceneError:
    return SceneError(
        "target.points",
        "no set-up with the blades of the scene takes any of the waste and leaves {leave} above the profile",
        "write another profile, a smaller plan.leave, or other blades",
        leave=length(scene.plan.leave),
    )


def _offer(pool: Pool, scene: Scene, wanted: Wanted) -> Offer:
    weights = np.full(len(wanted.cells), wanted.cell)
    areas = pool.takes @ weights
    times = [
        setting_time(cut, None, scene) + cutting_time(cut, area, scene)
        for cut, area in zip(pool.cuts, areas.tolist(), strict=True)
    ]
    planed = section.stock_section(*wanted.stock)
    alone = [unsupported(cut, left_by(cut, planed, wanted.kept), scene) > 0 for cut in pool.cuts]
    shares = WORTH_A_MINUTE / 60 * np.array(times) + WITHOUT_FLAT * np.array(alone)
    return Offer(pool.takes, weights, pool.costs, section.area(wanted.waste) * shares)


def _row(cuts: tuple[Cut | RabbetCut, ...], proven: bool, nearby: Nearby) -> BestOfCount:
    wanted = nearby.wanted
    ordered = in_order(refined(cuts, nearby), nearby.scene, wanted)
    left = section.area(section.within(wanted.waste, ordered.wood))
    return BestOfCount(sum(cut.cost for cut in cuts), ordered, 1 - left / section.area(wanted.waste), proven)
