"""The steps in which the saw's height can be set."""

from __future__ import annotations

from sweep.scene.model import Scene

FINEST = 1e-3
"""mm. The step of planned heights where a scene names none: finer than any wheel can be set."""


def height_grid(scene: Scene) -> float:
    """Return the step between heights that the maker can set, mm; 0 when any height can be."""
    plan = scene.plan
    return plan.round_to or (plan.turn * scene.saw.lift_per_turn if plan.turn else 0.0)


def height_step(scene: Scene) -> float:
    """Return the step between planned heights, mm: never finer than `FINEST`."""
    return max(height_grid(scene), FINEST)
