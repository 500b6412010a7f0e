"""How much a board's width changes with its moisture: the handbook's two formulas.

*Wood Handbook*, Forest Products Laboratory, FPL-GTR-282 (and 190), ch. 13. It warns that boards are seldom quite
flat-sawn or quarter-sawn, so that their width moves rather less than this and their thickness more.
"""

from __future__ import annotations

from sweep.cut.wood import Wood

COEFFICIENTS_HOLD = (0.06, 0.14)
"""Moisture between which the dimensional change coefficients of table 13-5 hold."""

SATURATED = 0.30
"""Moisture above which wood is taken not to move."""


def change_of_width(wood: Wood, grain: str, width: float, start: float, end: float) -> float:
    """Return how much a board grows across the grain as its moisture changes, mm; negative when it shrinks.

    Parameters
    ----------
    wood : Wood
        With its movement and shrinkage.
    grain : str
        ``"radial"`` or ``"tangential"``: the way across the width.
    width : float, mm
        At the start.
    start, end : float
        Moisture as a share of the dry weight, at most `SATURATED`.

    Notes
    -----
    Eq. 13-2, while both moistures are from 6 to 14 %: D C (M_end - M_start), C for each per cent. Else eq. 13-3,
    D (M_end - M_start) / (30 * 100 / S - 30 + M_start), S the shrinkage from green to oven-dry in per cent: the
    straight line from 30 % down, in terms of the size at hand.
    """
    place = ("radial", "tangential").index(grain)
    assert wood.movement is not None and wood.shrinkage is not None  # only woods of the table come here
    first, last = 100 * start, 100 * end
    low, high = COEFFICIENTS_HOLD
    if low <= min(start, end) and max(start, end) <= high:
        return width * wood.movement[place] * (last - first)
    wet = 100 * SATURATED
    return width * (last - first) / (wet * 100 / wood.shrinkage[place] - wet + first)
