"""What is left above a whole moulding that is wanted: the colours of the solid, and the bar that tells them."""

from __future__ import annotations

import numpy as np
from matplotlib.cm import ScalarMappable
from matplotlib.colors import ListedColormap, Normalize
from matplotlib.figure import Figure

from sweep.check.whole import WholeCheck, left_on
from sweep.cut.moulding import Made
from sweep.shape.mesh import UNCUT, joined
from sweep.show.draw.colours import FAINT, INK, WOOD, deviation_colours
from sweep.show.draw.paint_png import axes_at
from sweep.show.draw.section import signed
from sweep.show.draw.setups import most_of
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


def bar_of_what_is_left(figure: Figure, whole: WholeCheck, units: Units, left: float, top: float, width: float) -> None:
    """Draw the bar of these colours, its corner so many pixels from the left and the top."""
    most = most_of(whole)
    scale = ScalarMappable(Normalize(-most, most), ListedColormap(deviation_colours(np.linspace(-1, 1, 256))))
    drawn = figure.colorbar(scale, cax=axes_at(figure, left, top, width, HEIGHT), orientation="horizontal")
    labels = [f"{signed(units, -most)}\ncut too deep", "0", f"{signed(units, most)}\nwood left"]
    drawn.set_ticks([-most, 0.0, most], labels=labels, fontsize=9.0)
    drawn.outline.set_linewidth(0.5)
    drawn.ax.tick_params(length=4, color=FAINT, labelcolor=INK)
