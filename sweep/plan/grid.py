"""The steps in which the saw's height can be set."""

from __future__ import annotations

from sweep.scene.model import Scene


def height_grid(scene: Scene) -> float:
    """Return the step between heights that the maker can set, mm; 0 when any height can be."""
    plan = scene.plan
    return plan.round_to or (plan.turn * scene.saw.lift_per_turn if plan.turn else 0.0)
