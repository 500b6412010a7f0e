"""The order of the cuts: so that each has something to ride on, and then so that the saw is set soonest."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.plan.several.price import cutting_time, setting_time
from sweep.plan.several.wanted import Wanted
from sweep.plan.several.wood_left import CHORD, left_by, unsupported
from sweep.scene.model import Scene
from sweep.shape import section

HOUR_PER_MM = 3600.0
"""s. What a mm too little to ride on is held to cost: more than any other order may save."""


@dataclass(frozen=True)
class Ordered:
    """Cuts in the order in which they are made.

    Parameters
    ----------
    cuts : tuple of Cut or RabbetCut
    unsupported : tuple of float, mm
        By how much each has too little to ride on; 0 where it has enough.
    seconds : tuple of float, s
        The time at the saw that each takes, for one piece.
    wood : Figure
        What is left at the end, in the planed stock's section.
    """

    cuts: tuple[Cut | RabbetCut, ...]
    unsupported: tuple[float, ...]
    seconds: tuple[float, ...]
    wood: section.Figure


@dataclass(frozen=True)
class _Way:
    """The best way to have made some of the cuts, the last of them last."""

    cost: float
    order: tuple[int, ...]
    unsupported: tuple[float, ...]
    seconds: tuple[float, ...]


def in_order(cuts: tuple[Cut | RabbetCut, ...], scene: Scene, wanted: Wanted) -> Ordered:
    """Return cuts in the best order there is: of every set the best way that ends with each (Held and Karp)."""
    planed = section.stock_section(*wanted.stock)
    wood = {0: planed}
    ways: dict[int, dict[int, _Way]] = {0: {-1: _Way(0.0, (), (), ())}}
    whole = (1 << len(cuts)) - 1
    for done in range(whole):  # every set comes after all sets within it
        for k in range(len(cuts)):
            if done >> k & 1:
                continue
            after = done | 1 << k
            if after not in wood:
                wood[after] = left_by(cuts[k], wood[done], wanted.kept)
            short = unsupported(cuts[k], wood[after], scene)
            area = section.area(section.within(cuts[k].figure(CHORD), wood[done]))
            cutting = cutting_time(cuts[k], area, scene)
            for last, way in ways[done].items():
                seconds = cutting + setting_time(cuts[k], cuts[last] if last >= 0 else None, scene)
                found = _Way(
                    way.cost + seconds + HOUR_PER_MM * short,
                    (*way.order, k),
                    (*way.unsupported, short),
                    (*way.seconds, seconds),
                )
                ends = ways.setdefault(after, {})
                if k not in ends or found.cost < ends[k].cost - 1e-9:
                    ends[k] = found
    best = min(ways[whole].values(), key=lambda way: way.cost)
    return Ordered(tuple(cuts[k] for k in best.order), best.unsupported, best.seconds, wood[whole])
