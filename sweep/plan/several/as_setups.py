"""Cuts in the planed stock's section as the `[[setups]]` of a scene: settings of the saw for the stock as it lies then.

A set-up's places are told from the middle of the wood as it lies, which earlier cuts may have made narrower, and its
heights from the table, on which a face that was cut away no longer lies.
"""

from __future__ import annotations

import math
from typing import Any

from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.plan.several.order import Ordered
from sweep.plan.several.wanted import Wanted
from sweep.plan.several.wood_left import CHORD, left_by
from sweep.scene.model import Scene
from sweep.scene.setups import CoveSetup, RabbetSetup, RipSetup, SetupOfSeveral
from sweep.shape import section


def as_setups(ordered: Ordered, scene: Scene, wanted: Wanted) -> tuple[SetupOfSeveral, ...]:
    """Return cuts as set-ups, in the same order."""
    wood, found = section.stock_section(*wanted.stock), []
    for cut in ordered.cuts:
        found.append(_setup(cut, wood, scene, wanted))
        wood = left_by(cut, wood, wanted.kept)
    return tuple(found)


def _setup(cut: Cut | RabbetCut, wood: section.Figure, scene: Scene, wanted: Wanted) -> SetupOfSeveral:
    lying = cut.lying
    left, low, right, _ = section.bounds_of(section.laid(wood, lying.motion))
    told: dict[str, Any] = {
        "do": "rabbet" if isinstance(cut, RabbetCut) else "rip" if cut.family.is_rip else "cove",
        "name": "",
        "blade": _blade(cut, scene),
        "face": lying.face,
        "ends": lying.ends,
        "piece": _piece(cut, wood, wanted),
        "fence": None,
    }
    if isinstance(cut, RabbetCut):
        gone = left + lying.size[0] / 2 if cut.left else lying.size[0] / 2 - right
        told |= {"edge": "left" if cut.left else "right", "width": cut.width - gone, "depth": cut.depth - low}
        return RabbetSetup.model_construct(**told)
    family = cut.family
    lean = math.tan(family.tilt) * math.cos(family.fence_angle)
    place = cut.place - (left + right) / 2 + lean * low
    height = None if cut.through else cut.height - low
    told |= {"blade_height": height, "blade_tilt": family.tilt, "passes": None}
    if family.is_rip:
        at = place + family.tool.middle / math.cos(family.tilt)
        body = section.middle_of(section.laid(wanted.kept, lying.motion)) - (left + right) / 2
        return RipSetup.model_construct(**told | {"at": at, "fence_side": "right" if body > at else "left"})
    told |= {"fence_angle": family.fence_angle, "offset": -place, "fence_side": scene.plan.fence_side}
    return CoveSetup.model_construct(**told)


def _blade(cut: Cut | RabbetCut, scene: Scene) -> str:
    if not scene.blades:
        return ""
    return scene.blades[cut.blade if isinstance(cut, RabbetCut) else cut.family.blade].name


def _piece(cut: Cut | RabbetCut, wood: section.Figure, wanted: Wanted) -> int | None:
    """Return which of the pieces that a cut leaves holds the body, from 1, where it is not the largest; else None."""
    parts = section.parts(section.laid(section.minus(wood, cut.figure(CHORD)), cut.lying.motion))
    body = section.laid(wanted.kept, cut.lying.motion)
    parts.sort(key=section.middle_of)
    holding = max(range(len(parts)), key=lambda k: section.area(section.within(parts[k], body)))
    largest = max(range(len(parts)), key=lambda k: section.area(parts[k]))
    return None if holding == largest else holding + 1
