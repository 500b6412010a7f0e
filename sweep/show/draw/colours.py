"""The colours that every picture shares: wood, passes, deviations, ink."""

from __future__ import annotations

import numpy as np
from matplotlib import colormaps
from matplotlib.colors import Colormap
from numpy.typing import NDArray

RGB = tuple[float, float, float]

WOOD: RGB = (0.90, 0.77, 0.58)
FINISHED: RGB = (0.79, 0.53, 0.38)
PAPER: RGB = (0.98, 0.96, 0.93)
INK: RGB = (0.16, 0.17, 0.19)
FAINT: RGB = (0.45, 0.47, 0.50)
ALARM: RGB = (0.76, 0.13, 0.10)
STEEL: RGB = (0.36, 0.40, 0.45)
TIP: RGB = (0.95, 0.62, 0.14)
CAST_IRON: RGB = (0.80, 0.81, 0.82)
THROAT: RGB = (0.68, 0.69, 0.71)
SLOT: RGB = (0.12, 0.12, 0.13)
FENCE: RGB = (0.42, 0.50, 0.58)
ARROW: RGB = (0.35, 0.38, 0.42)

_PASS_RANGE = (0.10, 0.80)
"""Share of the map that passes use: its black end hides the light, its yellow end looks like wood."""


def pass_colours(count: int) -> NDArray[np.float64]:
    """Return one colour a pass, evenly spaced to the eye, (count, 3), each 0 to 1."""
    low, high = _PASS_RANGE
    places = np.linspace(low, high, count) if count > 1 else np.array([(low + high) / 2])
    return np.asarray(colormaps["viridis"](places))[:, :3]


def cut_colours(count: int, finishing: int = 0) -> NDArray[np.float64]:
    """Return the colour of a face by what cut it: wood for the planed faces, each pass, one for all finishing."""
    return np.vstack([WOOD, pass_colours(count), *[FINISHED] * finishing])


def deviation_map() -> Colormap:
    """Return the map for deviations: red where the cut is too deep, blue where wood is left, pale at zero."""
    return colormaps["RdBu"]
