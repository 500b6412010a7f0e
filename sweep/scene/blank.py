"""What a set-up begins with where another one came before it: what that one left, as it lies now."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweep.shape.lying import Lying

if TYPE_CHECKING:
    from sweep.scene.model import WholeScene


@dataclass(frozen=True, eq=False)
class Blank:
    """Wood that a set-up left, turned over for the next; its section and solid are worked out in `cut/`.

    Parameters
    ----------
    before : WholeScene
        The set-up that left it, as its stock lay.
    lying : Lying
        From how it lay then to how it lies now.
    piece : int or None
        Which of the pieces that it left, counted from the left as they lay; None for the largest.
    first : float, mm
        Where a stretch begins, from the leading end, where only that is looked at.
    """

    before: WholeScene
    lying: Lying
    piece: int | None = None
    first: float = 0.0
