"""The colours of a solid by how far it lies from what is wanted, and the bar that tells them."""

from __future__ import annotations

import numpy as np

from sweep.check.whole import WholeCheck, left_on
from sweep.cut.moulding import Made
from sweep.shape.mesh import UNCUT, joined
from sweep.show.draw.axes import Axes
from sweep.show.draw.colours import WOOD, deviation_colours
from sweep.show.draw.paint_png import Laid
from sweep.show.draw.section import signed
from sweep.show.draw.setups import most_of
from sweep.show.draw.sketch import Part, box, words
from sweep.show.pictures.layout import MM, TEXT
from sweep.show.solids.stock import Coloured
from sweep.units import Units

HEIGHT = 26
"""Pixels. Of the bar without its words."""


def by_what_is_left(made: Made, whole: WholeCheck) -> Coloured:
    """Return the finished moulding coloured by what stands above the one that is wanted, or is cut into it."""
    mesh = joined([piece.mesh for piece in made.pieces])
    cut = mesh.cut_by != UNCUT
    colours = np.empty((len(mesh.triangles), 3, 3))
    colours[:] = WOOD
    colours[cut] = deviation_colours(left_on(mesh, whole.kept)[mesh.triangles[cut]] / most_of(whole))
    return mesh, colours, cut


def deviation_bar(
    most: float, units: Units, left: int, top: int, width: int, tolerance: float | None = None
) -> tuple[list[Part], Laid]:
    """Return the bar from `most` too deep to `most` of wood left, mm: what is painted, and its colours laid on that.

    Parameters
    ----------
    most : float, mm
    units : Units
    left, top, width : int, pixels
    tolerance : float, mm, or None
        Where it is far from the ends, marks stand at it.
    """
    colours = np.round(255 * deviation_colours(np.linspace(-1, 1, width))).astype(np.uint8)
    pixels = np.broadcast_to(colours, (HEIGHT, width, 3))
    axes = Axes(left / MM, top / MM, width / MM, HEIGHT / MM, (-most, most), (0.0, 1.0))
    marks = [(-most, signed(units, -most)), (0.0, "0"), (most, signed(units, most))]
    if tolerance is not None and most > 2.5 * tolerance:
        marks += [(-tolerance, ""), (tolerance, "")]
    parts = [
        *axes.below(marks, TEXT),
        *(words(said, (left + x) / MM, (top + HEIGHT + 58) / MM, size=TEXT)
          for said, x in (("cut too deep", 0), ("wood left", width))),
        box(axes.left - 0.1, axes.top - 0.1, axes.width + 0.2, axes.height + 0.2, "faint"),
    ]  # fmt: skip
    return parts, Laid(left, top, np.ascontiguousarray(pixels))
