"""The wood that cuts leave, in the planed stock's section, and what of it the stock rides on."""

from __future__ import annotations

from sweep.plan.several.cuts import Cut, RabbetCut
from sweep.scene.model import Scene
from sweep.shape import section
from sweep.shape.resting import on_both_sides, rests_on

CHORD = 0.01
"""mm. Chord tolerance of cuts where only flats and areas are asked for."""


def left_by(cut: Cut | RabbetCut, wood: section.Figure, kept: section.Figure) -> section.Figure:
    """Return what a cut leaves of the wood: the part that holds the body; others fall off."""
    parts = section.parts(section.minus(wood, cut.figure(CHORD)))
    return parts[0] if len(parts) == 1 else max(parts, key=lambda part: section.area(section.within(part, kept)))


def unsupported(cut: Cut | RabbetCut, wood: section.Figure, scene: Scene) -> float:
    """Return by how much the wood that a cut leaves has too little to ride on as it lies, mm; 0 where it has enough.

    A cove wants a shoulder on both sides, and so much flat in all. A rip wants that on one side, with the wood's middle
    above it or within a shoulder of it: along its fence the stock is held.
    """
    riding, shoulder = rests_on(section.laid(wood, cut.lying.motion)), scene.limits.shoulder
    if not riding:
        return scene.stock.width
    left, _, right, _ = section.bounds_of(section.laid(cut.figure(CHORD), cut.lying.motion))
    on_left, on_right = on_both_sides(riding, (left + right) / 2)
    if isinstance(cut, Cut) and not cut.family.is_rip:
        short = max(0.0, shoulder - on_left) + max(0.0, shoulder - on_right)
        return max(short, scene.limits.contact - on_left - on_right)
    over = section.middle_of(section.laid(wood, cut.lying.motion))
    aside = max(riding[0][0] - over, over - riding[-1][1])
    return max(0.0, shoulder - max(on_left, on_right), aside - shoulder)
