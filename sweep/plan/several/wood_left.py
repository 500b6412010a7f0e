"""The wood that cuts leave, in the planed stock's section, and what of it the stock rides on."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sweep.plan.several.cuts import Cut, Step
from sweep.plan.several.on_face import OnFace
from sweep.scene.model import Scene
from sweep.shape import section

Array = NDArray[np.float64]

ON_TABLE = 1e-6
"""mm. A side of the outline this close to the lowest point lies on the table: rounding."""

CHORD = 0.01
"""mm. Chord tolerance of cuts where only flats and areas are asked for."""


def left_by(cut: Cut | Step, wood: section.Figure, kept: section.Figure) -> section.Figure:
    """Return what a cut leaves of the wood: the part that holds the body; others fall off."""
    parts = section.parts(section.minus(wood, cut.figure(CHORD)))
    return parts[0] if len(parts) == 1 else max(parts, key=lambda part: section.area(section.within(part, kept)))


def flats(wood: section.Figure, lying: OnFace) -> tuple[tuple[float, float], ...]:
    """Return the flats on which the stock rides as it lies, (from, to) across it, mm, from left to right."""
    found = []
    laid = section.laid(wood, lying.motion)
    low = section.bounds_of(laid)[1]
    for ring in section.rings(laid):
        ends = np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)
        on = ends[(ends[..., 1] <= low + ON_TABLE).all(axis=1)][..., 0]
        found += [(float(flat.min()), float(flat.max())) for flat in on]
    return tuple(sorted(flat for flat in found if flat[1] - flat[0] > ON_TABLE))


def unsupported(cut: Cut | Step, wood: section.Figure, scene: Scene) -> float:
    """Return by how much the wood that a cut leaves has too little to ride on as it lies, mm; 0 where it has enough.

    A cove wants a shoulder on both sides, and so much flat in all. A rip wants that on one side, with the wood's middle
    above it or within a shoulder of it: along its fence the stock is held.
    """
    riding, shoulder = flats(wood, cut.lying), scene.limits.shoulder
    if not riding:
        return scene.stock.width
    left, _, right, _ = section.bounds_of(section.laid(cut.figure(CHORD), cut.lying.motion))
    middle = (left + right) / 2
    on_left = sum(max(0.0, min(end, middle) - start) for start, end in riding)
    on_right = sum(max(0.0, end - max(start, middle)) for start, end in riding)
    if isinstance(cut, Cut) and not cut.family.is_rip:
        short = max(0.0, shoulder - on_left) + max(0.0, shoulder - on_right)
        return max(short, scene.limits.contact - on_left - on_right)
    over = section.middle_of(section.laid(wood, cut.lying.motion))
    aside = max(riding[0][0] - over, over - riding[-1][1])
    return max(0.0, shoulder - max(on_left, on_right), aside - shoulder)
