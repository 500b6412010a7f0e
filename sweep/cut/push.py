"""What the hands push with: against the teeth, and against the friction of the stock and of what holds it.

Nothing was measured: the coefficient and what featherboards press with are told wherever the friction is.
"""

from __future__ import annotations

from sweep.cut.blank import wood_section
from sweep.cut.forces import Forces
from sweep.cut.wood_table import wood_of
from sweep.scene.model import SetUpScene
from sweep.shape import section
from sweep.tolerance import ENGAGEMENT_CHORD

SLIDING = 0.3
"""Friction over pressure of planed wood that slides on a table, a fence or a featherboard. Oven-dry pine on steel had
0.10 to 0.25 (Lemoine, McMillin, Manwiller 1970, *Wood variables affecting the friction coefficient of spruce pine on
steel*, Wood Science 2(3) 144-148, abstract read); a table that is not waxed has more, 0.2 to 0.6 (from memory)."""

HOLD = 20.0
"""N. What featherboards press with, down on the stock and in against the fence, each: so that two fingers just cannot
draw the stock back; our choice."""

_GRAVITY = 9.81  # m/s2


def weight_of(scene: SetUpScene) -> float:
    """Return the weight of the stock as its first pass begins, N; 0 where nothing is known of the wood."""
    stock, wood = scene.stock, wood_of(scene.stock)
    if wood is None:
        return 0.0
    planed = stock.blank is None
    area = stock.width * stock.thickness if planed else section.area(wood_section(stock, ENGAGEMENT_CHORD))
    return wood.density * stock.length * area * 1e-9 * _GRAVITY


def friction_of(scene: SetUpScene, forces: Forces | None = None) -> float:
    """Return the friction of the stock along the feed under the forces of one pass, or away from the teeth, N.

    It rubs on the table with its weight and what holds it down, less what the teeth lift; on the fence with what holds
    it in, and what the teeth press into it; and under both featherboards.
    """
    lift, fence = (0.0, 0.0) if forces is None else (forces.lift, forces.fence)
    on_table, on_fence = max(0.0, weight_of(scene) + HOLD - lift), max(0.0, HOLD + fence)
    return SLIDING * (on_table + on_fence + 2 * HOLD)


def push_of(scene: SetUpScene, forces: Forces) -> float:
    """Return what the hands push with along the feed, N: against the teeth and the friction."""
    return forces.feed + friction_of(scene, forces)
