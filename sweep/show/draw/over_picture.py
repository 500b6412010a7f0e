"""What is written over a picture that is looked at square on: of the section, and of the saw from above.

Each drawing lies over the picture as it is: `Over` says where on paper the thing's own origin is, and the scale.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from numpy.typing import ArrayLike

from sweep.check.judge import Outcome
from sweep.cut.fence import FenceLayout
from sweep.cut.load import Load
from sweep.cut.stages import travel_range
from sweep.scene.model import WholeScene
from sweep.show.draw.dimensioned_plan import lines_of_measurement
from sweep.show.draw.fence_sketch import set_by, table_in
from sweep.show.draw.forces import force_arrows, lettered_arrows
from sweep.show.draw.guards import boards_at_the_edge, cage, cage_named
from sweep.show.draw.saw_from_above import FromAbove, blade_at_table
from sweep.show.draw.section import Frame, cove_dimensions, stock_dimensions, target_named, wanted_of
from sweep.show.draw.sketch import Drawing, Part, drawing, path, words
from sweep.show.say.fence import aside, where_of
from sweep.units import Units

_ROOMY = 130.0
"""mm. A narrower drawing tells of the fence only what sets it."""


@dataclass(frozen=True)
class Over:
    """Drawings over one picture, all of one size.

    Parameters
    ----------
    origin : (float, float), mm
        Of paper: where the origin of the picture is. That of the section is the stock's centreline on the table, that
        of the saw from above the blade's centre.
    scale : float
        mm of paper to a mm.
    always : Drawing
    passes : tuple of Drawing
        What is added after each pass, or in it.
    """

    origin: tuple[float, float]
    scale: float
    always: Drawing
    passes: tuple[Drawing, ...]


def over_section(outcome: Outcome, units: Units, frame: Frame) -> Over:
    """Return the target and the stock's size, and the cove's after each pass."""
    job, stock = outcome.job, outcome.job.scene.stock
    wanted = wanted_of(outcome)
    parts = stock_dimensions(stock, units, frame)
    if wanted is not None:
        parts += [path(frame.at(wanted), "target", closed=outcome.whole is not None), *target_named(stock, frame)]
    coves = tuple(drawing(*frame.size, cove_dimensions(stock, one, units, frame)) for one in job.sections)
    return Over((frame.middle, frame.base), frame.scale, drawing(*frame.size, parts), coves)


def over_table(
    scene: WholeScene, layout: FenceLayout, loads: tuple[Load, ...], units: Units, width: float, height: float
) -> Over:
    """Return the fence by tape, what holds and covers the work, where it enters and leaves, and each pass's forces.

    Parameters
    ----------
    scene : WholeScene
    layout : FenceLayout
        Measured `beside` the blade.
    loads : tuple of Load
        Of the passes.
    units : Units
    width, height : float, mm
        Of the room for the drawing.
    """
    view, size = table_in(scene, layout, units, width, height, above=11.0)
    reach = max(1.8 * blade_at_table(scene) / 2, 26.0 / view.scale)
    more = [*_measured_from(view, units), *_here(view, width)] if width >= _ROOMY else []
    pulled = (lettered_arrows(view, force_arrows(scene, load, units), reach) for load in loads)
    return Over(
        view.spot((0.0, 0.0)),
        view.scale,
        drawing(*size, lines_of_measurement(view), _held(view), _entering(view), set_by(view, units), more),
        tuple(drawing(*size, parts) for parts in pulled),
    )


def _measured_from(view: FromAbove, units: Units) -> list[Part]:
    """Return how far each mark of the fence lies from the nearest slot, or without a table at which line it lies."""
    parts = []
    for mark in view.layout.face.marks:
        if mark.from_slots:
            said = f"{aside(min(mark.from_slots, key=abs), units)} of the slot"
        elif not view.layout.on_table and mark.edge in ("front", "rear"):
            said = where_of(mark, view.layout, units)
        else:
            continue
        x, y = view.spot((mark.x, mark.y))
        parts.append(words(said, x, y + (8.2 if mark.edge == "front" else -8.2), size=7.0, halo=True))
    return parts


def _here(view: FromAbove, width: float) -> list[Part]:
    """Return where the operator stands, in the corner of the drawing that is further from the fence's front mark."""
    _, top, _, high = view.table
    front = [view.spot((mark.x, mark.y))[0] for mark in view.layout.face.marks if mark.edge == "front"]
    x, end = (1.0, "left") if front and front[0] > width / 2 else (width - 1.0, "right")
    return [words("operator's side", x, top + high + 4.2, end, size=8.0, bold=True)]


def _held(view: FromAbove) -> list[Part]:
    """Return the cage over the blade, and featherboards at the stock's other edge where no second fence stands."""
    parts = [_block(view, cage(view)), cage_named(view, 7.0)]
    for board in [] if view.layout.has_second else boards_at_the_edge(view):
        x, y = view.at(board).mean(axis=0).tolist()
        parts.append(_block(view, board))
        parts.append(words("featherboard", x, y, size=7.0, turn=view.turn, halo=True))
    return parts


def _block(view: FromAbove, corners: ArrayLike) -> Part:
    return path(view.at(corners), "dashed hair", closed=True)


def _entering(view: FromAbove) -> list[Part]:
    """Return lines across the stock where its end comes to the blade, and where the blade has left it."""
    scene, half = view.scene, view.scene.stock.width / 2
    start, _ = travel_range(scene, len(scene.passes.heights))
    parts = []
    for said, run in (("enters", start), ("leaves", -start)):
        line = [view.along(scene.setup.offset + side * half, run) for side in (-1, 1)]
        parts.append(path(view.at(line), "dashed hair"))
        out = run + math.copysign(4.0 / view.scale, run)
        x, y = view.spot(view.along(scene.setup.offset, out))
        parts.append(words(said, x, y, size=7.0, turn=view.turn + 90, halo=True))
    return parts
