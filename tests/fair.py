"""How often what has a chance comes about in so many tries: the library of statistics takes long to load."""

from __future__ import annotations

import math
from itertools import accumulate


def fair(tries: int, chance: float, sure: float = 0.999) -> tuple[int, int]:
    """Return the least and the greatest count between which it lies so surely, half of the doubt on either side."""
    ways = [math.comb(tries, k) * chance**k * (1 - chance) ** (tries - k) for k in range(tries + 1)]
    up_to = list(accumulate(ways))
    ends = (1 - sure) / 2, (1 + sure) / 2
    least, most = (next(k for k, share in enumerate(up_to) if share >= end or k == tries) for end in ends)
    return least, most
