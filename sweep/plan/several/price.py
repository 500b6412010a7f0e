"""The time at the saw that cuts take, for one piece: setting it, and the passes."""

from __future__ import annotations

import math

from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.scene.defaults import default_of
from sweep.scene.model import Scene
from sweep.scene.order import Order
from sweep.units import TIME

ON_EDGE = 300.0
"""s. For a tall fence and more care where the stock stands on an edge; our choice."""


def setting_time(cut: Cut | RabbetCut, before: Cut | RabbetCut | None, scene: Scene) -> float:
    """Return how long it takes to set the saw for a cut after another one, or as the first, s."""
    plan = scene.plan
    blade, tilt, angle = _set(cut)
    total = plan.set_fence * (2 if isinstance(cut, RabbetCut) else 1)  # a rabbet's second rip is another fence
    if before is not None:
        blade_before, tilt_before, angle_before = _set(before)
        if isinstance(cut, Cut) and isinstance(before, Cut) and (angle, cut.place) == (angle_before, before.place):
            total = 0.0  # the fence stays as it stands
        total += plan.change_blade * (blade != blade_before) + plan.change_tilt * (tilt != tilt_before)
    return total + (0.0 if cut.lying.face in ("table", "top") else ON_EDGE)


def cutting_time(cut: Cut | RabbetCut, area: float, scene: Scene) -> float:
    """Return how long the passes of a cut take that takes so much from the section, mm2, of one piece, s."""
    passes, plan = passes_for(cut, area, scene), scene.plan
    order = scene.order
    handling = default_of(Order, "handling", TIME) if order is None else order.handling
    reset = default_of(Order, "reset", TIME) if order is None else order.reset
    return passes * (scene.stock.length / plan.feed_speed + handling) + (passes - cut.cost) * reset


def passes_for(cut: Cut | RabbetCut, area: float, scene: Scene) -> int:
    """Return about how many passes a cut takes: within the limits of rise and area, and a light last one for a cove.

    It is what `plan/heights.py` comes to where neither power nor push says otherwise; a rip is one pass.
    """
    if isinstance(cut, RabbetCut) or cut.family.is_rip:
        return cut.cost
    limits, last = scene.limits, min(scene.plan.last_rise, cut.height)
    by_rise, by_area = (cut.height - last) / limits.rise, area / limits.area
    return 1 + max(math.ceil(by_rise - 1e-9), math.ceil(by_area - 1e-9), 1)


def _set(cut: Cut | RabbetCut) -> tuple[int, float, float]:
    """Return blade, tilt and fence angle."""
    if isinstance(cut, RabbetCut):
        return cut.blade, 0.0, 0.0
    return cut.family.blade, cut.family.tilt, cut.family.fence_angle
