"""Parts put into strips, and the least that is bought for them, by trying every way: it shares no code with `sweep`."""

from __future__ import annotations

import itertools
from collections.abc import Sequence


def fits(parts: Sequence[float], rooms: Sequence[float], kerf: float) -> bool:
    """Whether parts, the longest first, go into strips with so much room, every way tried."""
    if not parts:
        return True
    tried = set()
    for place, room in enumerate(rooms):
        if room in tried or parts[0] > room + 1e-6:
            continue
        tried.add(room)
        if fits(parts[1:], [*rooms[:place], room - parts[0] - kerf, *rooms[place + 1 :]], kerf):
            return True
    return False


def least_bars(parts: Sequence[float], lengths: Sequence[float], kerf: float, side_by_side: int) -> tuple[float, ...]:
    """The bars of least total length, and of those the fewest, that hold all parts: every choice, shortest first."""
    choices = [
        choice
        for count in range(1, len(parts) + 1)
        for choice in itertools.combinations_with_replacement(sorted(set(lengths)), count)
    ]
    choices.sort(key=lambda choice: (round(sum(choice), 6), len(choice)))
    wanted = sorted(parts, reverse=True)
    return next(choice for choice in choices if fits(wanted, [x for x in choice for _ in range(side_by_side)], kerf))
