"""What of a section lies on the table: the flats on which the stock rides."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from sweep.shape import section
from sweep.tolerance import ON_TABLE, SAME_POINT

Span = tuple[float, float]
"""From one y to another, mm."""


def rests_on(figure: section.Figure) -> tuple[Span, ...]:
    """Return the flats on which a figure rests that is not empty: what of its outline lies lowest, from left to right.

    Flats that touch are one.
    """
    low, found = section.bounds_of(figure)[1], list[Span]()
    for ring in section.rings(figure):
        ends = np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)
        on = np.sort(ends[(ends[..., 1] <= low + ON_TABLE).all(axis=1)][..., 0], axis=1)
        found += [(float(left), float(right)) for left, right in on]
    joined: list[Span] = []
    for left, right in sorted(found):
        if joined and left <= joined[-1][1] + SAME_POINT:
            before = joined.pop()
            left, right = before[0], max(right, before[1])
        joined.append((left, right))
    return tuple(span for span in joined if span[1] - span[0] > ON_TABLE)


def on_both_sides(spans: Iterable[Span], middle: float) -> tuple[float, float]:
    """Return how much of some spans lies left and right of a place, mm."""
    spans = list(spans)
    left = sum(max(0.0, min(end, middle) - start) for start, end in spans)
    return left, sum(max(0.0, end - max(start, middle)) for start, end in spans)
