"""What is done after the cove, as settings of the saw where it is sawn, and said plainly where it is not.

Router, plane and rabbet plane where no saw is set are common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import assert_never

import numpy as np

from sweep.cut.fence import fence_on_table
from sweep.cut.finish import Change, Finishing
from sweep.cut.straight_cuts import MOST_TILT, StraightCut, held, straight_cuts
from sweep.scene.finish import Bevel, Chamfer, Rabbet, Rip, RoundOver, SecondCove
from sweep.scene.model import SetUpScene
from sweep.shape import section
from sweep.show.say.fence import beside, leans_to, measure_of, runs_of, where_of
from sweep.units import Units, degrees

UPRIGHT = 1e-9
"""rad. A blade that leans less stands upright."""

NOT_JUDGED = (
    "Faces and edges are named as the stock lay for the cove, looking along the feed. The rip fence is parallel again, "
    "guard and riving knife are back. Forces, and how the piece is held, are not judged here."
)
"""For the foot of the list."""

NARROW = 40.0
"""mm. Nearer to the blade the fence leaves no room for a hand or a push stick; our choice."""


def after_the_cove(finishing: Sequence[Finishing], scene: SetUpScene, units: Units) -> list[str]:
    """Return what is done after the cove, a paragraph for each operation, in the order in which they are done."""
    return [f"{name}: {words}" for name, words in each_after_the_cove(finishing, scene, units)]


def each_after_the_cove(finishing: Sequence[Finishing], scene: SetUpScene, units: Units) -> list[tuple[str, str]]:
    """Return the same as what each is called and how it is done."""
    return [_told(one, scene, units) for one in finishing]


def _told(one: Finishing, scene: SetUpScene, units: Units) -> tuple[str, str]:
    operation = one.operation
    match operation:
        case Rip():
            return _on_pieces("Rip", one, lambda changes: _rip(changes, one.kerf, units))
        case Bevel():
            name = f"Bevel the back, {degrees(operation.spring):.2f} deg to the wall"
            return _on_pieces(name, one, lambda changes: _flats(operation, changes[0], one.kerf, units))
        case Chamfer():
            name = f"Chamfer the edge {operation.edge}, {units.length(operation.size)} back along both faces"
            return _on_pieces(name, one, lambda changes: _chamfer(changes[0], one.kerf, units))
        case RoundOver():
            name = f"Round over the edge {operation.edge}, radius {units.length(operation.radius)}"
            return _on_pieces(name, one, lambda changes: "with a router or a plane, not at the saw.")
        case Rabbet():
            size = f"{units.length(operation.width)} wide and {units.length(operation.depth)} deep"
            name = f"Rabbet along {operation.edge}, {size}"
            return _on_pieces(name, one, lambda changes: "with a router or a rabbet plane; no saw is set for it here.")
        case SecondCove():
            return _second_cove(operation, scene, units)
        case other:
            assert_never(other)


def _on_pieces(name: str, one: Finishing, said: Callable[[Sequence[Change]], str]) -> tuple[str, str]:
    """Return what is done, piece by piece where it is done on one of several or not alike on all of them."""
    told = {piece: said(list(changes)) for piece, changes in groupby(one.changes, key=lambda change: change.piece)} or {
        None: "it takes nothing."
    }
    if len(set(told.values())) == 1 and one.operation.piece is None:
        return name, next(iter(told.values()))
    return name, " ".join(f"piece {piece}, {words}" if piece else words for piece, words in told.items())


def _rip(changes: Sequence[Change], kerf: float, units: Units) -> str:
    """Return how a piece is ripped; where both parts are kept the larger one lies between fence and blade."""
    wide = [units.length(np.diff(section.sides_of(change.after))[0]) for change in changes]
    left = f"Both parts are kept, {' and '.join(wide)} wide" if len(wide) > 1 else f"What is kept is {wide[0]} wide"
    cuts = straight_cuts(held(changes), kerf)
    sawn = _sawn(cuts[0], units) if cuts else "it only takes dust off a side."
    return f"{sawn} {left} at the widest; kerf {units.length(kerf)}."


def _flats(bevel: Bevel, change: Change, kerf: float, units: Units) -> str:
    """Return how the flats of a bevelled back are cut: each lies opposite the edge at the fence."""
    told = []
    for cut in straight_cuts(change, kerf):
        name = "ceiling" if cut.edge == bevel.wall else "wall"
        told.append(f"flat for the {name}, {units.length(cut.face)} wide: {_sawn(cut, units)}")
    return " ".join([*told[:1], *(one[0].upper() + one[1:] for one in told[1:])]) or "with a plane."


def _chamfer(change: Change, kerf: float, units: Units) -> str:
    cuts = straight_cuts(change, kerf)
    if len(cuts) == 1 and cuts[0].can_be_sawn:
        return f"with a plane, or {_sawn(cuts[0], units)}"
    return "with a plane."


def _sawn(cut: StraightCut, units: Units) -> str:
    """Return how a saw is set for a face."""
    if cut.tilt > MOST_TILT:
        return f"with a plane; it lies {degrees(cut.tilt):.2f} deg from upright, and a saw tilts to 45."
    if not cut.is_clear:
        return "with a plane; a blade would cut into what stays."
    lies = "table face down" if cut.down == "table" else "back down"
    return (
        f"{lies}, {cut.edge} edge at the fence, {units.tape(cut.distance)} from the blade at the saw's table; blade "
        f"{_leaning(cut.tilt, 'away from the fence')}, just through {units.length(cut.height)} of wood."
        f"{'' if cut.is_steady else ' It does not lie steady so: fix it to a carrier.'}"
        f"{' Narrow: push it with a block as wide as the piece.' if cut.distance < NARROW else ''}"
    )


def _leaning(tilt: float, way: str) -> str:
    return "upright" if abs(tilt) < UPRIGHT else f"tilted {abs(degrees(tilt)):.2f} deg {way}"


def _second_cove(cove: SecondCove, scene: SetUpScene, units: Units) -> tuple[str, str]:
    """Return how the saw is set for a second cove: as for the first, the fence by tape."""
    settings = {
        "fence_angle": cove.fence_angle,
        "blade_height": cove.blade_height,
        "blade_tilt": cove.blade_tilt,
        "offset": cove.offset,
    }
    again = scene.model_copy(update={"setup": scene.setup.model_copy(update=settings)})
    layout = fence_on_table(again, beside(units))
    places = [f"{measure_of(again, at, layout, units)} {where_of(at, layout, units)}" for at in layout.face.marks]
    stands = " and ".join(places) or "beside the table"
    at_right = (layout.side == "near") == (cove.turn == "end for end")
    edge, leaning = "right" if at_right else "left", _leaning(cove.blade_tilt, f"to the {leans_to(cove.blade_tilt)}")
    return "Second cove", (
        f"turn the stock over {cove.turn}, its {edge} edge now at the fence, and set the saw in the same "
        f"order of work: the fence at {degrees(cove.fence_angle):.2f} deg {runs_of(layout)}, its face {stands}; blade "
        f"{leaning}, raised in passes to {units.length(cove.blade_height)}. These passes are not planned here."
    )
