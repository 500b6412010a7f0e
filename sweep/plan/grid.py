"""The steps in which the saw's height can be set."""

from __future__ import annotations

from sweep.scene.model import Scene
from sweep.units import MM_PER_INCH

FINEST = 1e-3
"""mm. The finest step of planned heights: no wheel can be set finer."""

TENTH, SIXTY_FOURTH = 0.1, MM_PER_INCH / 64
"""mm. The steps of planned heights where a scene names none, written in mm and in inches: what a rule's lines show."""


def height_grid(scene: Scene) -> float:
    """Return the step between heights that the maker can set, mm; 0 when any height can be."""
    plan, lift = scene.plan, scene.saw.lift_per_turn
    return plan.round_to or (plan.turn * lift if plan.turn and lift else 0.0)


def height_step(scene: Scene) -> float:
    """Return the step between planned heights, mm: the maker's, else one that a rule shows; never under `FINEST`."""
    return max(height_grid(scene) or (SIXTY_FOURTH if scene.stock.in_inches else TENTH), FINEST)
