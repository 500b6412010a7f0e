"""The colours that every drawing shares: wood, passes, deviations, ink. No library is asked: a page needs them too."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.show.draw.colour_maps import DIVERGING, EVEN, WARMING

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
    return shades(EVEN, np.linspace(low, high, count) if count > 1 else (low + high) / 2).reshape(count, 3)


def cut_colours(count: int, finishing: int = 0) -> NDArray[np.float64]:
    """Return the colour of a face by what cut it: wood for the planed faces, each pass, one for all finishing."""
    return np.vstack([WOOD, pass_colours(count), *[FINISHED] * finishing])


def setup_colours(count: int) -> NDArray[np.float64]:
    """Return one colour a setting of the saw, (count, 3): those of as many passes."""
    return pass_colours(count)


def made_colours(passes: Sequence[int], finishing: int = 0) -> NDArray[np.float64]:
    """Return the colour of a face by what cut it, passes counted on through all settings; see `cut_colours`.

    Parameters
    ----------
    passes : sequence of int
        How many each setting has; all of them have its colour.
    finishing : int
        How many operations follow.
    """
    return np.vstack([WOOD, np.repeat(setup_colours(len(passes)), passes, axis=0), *[FINISHED] * finishing])


def deviation_colours(shares: ArrayLike) -> NDArray[np.float64]:
    """Return the colours of deviations, -1 the deepest and 1 the most wood left: red, pale at 0, blue; (..., 3)."""
    return shades(DIVERGING, (np.asarray(shares) + 1) / 2)


def chip_colours(shares: ArrayLike) -> NDArray[np.float64]:
    """Return the colours of chip loads, from 0 to 1 of the thickest: pale yellow to dark red, (..., 3)."""
    return shades(WARMING, 0.12 + 0.80 * np.asarray(shares))


def shades(colours: NDArray[np.uint8], places: ArrayLike) -> NDArray[np.float64]:
    """Return the colours of a map at places from 0 to 1, (..., 3), each 0 to 1; beyond them, those at its ends."""
    at = (np.asarray(places, float) * len(colours)).astype(int)
    shaded: NDArray[np.float64] = colours[np.clip(at, 0, len(colours) - 1)] / 255
    return shaded


def hexed(colour: ArrayLike) -> str:
    """Return a colour as it is written in pages and drawings, `#rrggbb`."""
    return "#" + "".join(f"{round(255 * float(part)):02x}" for part in np.asarray(colour))
