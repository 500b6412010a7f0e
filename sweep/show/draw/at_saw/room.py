"""The size of a picture on a phone, the sizes of its words, and where a section lies in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.scene.keys import Stock
from sweep.shape import section
from sweep.show.draw.sketch import Part, area

WIDTH, HEIGHT = 72.0, 43.0
"""mm of drawing; a screen of 380 px shows a millimetre in 5 of them."""

LARGE, WORDS = 11.0, 9.0
"""Points. Of a figure, and of other words."""

FINE = 0.03
"""mm of drawing. Within so much a curve is drawn by fewer points: a sixth of a pixel."""

_WIDE = 6.0
"""A stock wider than so many times its thickness is drawn in part only, about the cut."""

BELOW = 11.0  # below the foot of a section, for words, mm of drawing
_BESIDE, _TOP = 3.0, 8.0  # room round a section, and for words above it


@dataclass(frozen=True)
class Place:
    """The place of a section in a picture: its scale, and where the middle of its foot is, mm of drawing.

    `clip` is what is seen of it, left, top, width and height, mm of drawing; None for all.
    """

    scale: float
    middle: float
    base: float
    clip: tuple[float, float, float, float] | None = None

    def at(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the section, (..., 2) mm in (y, z), lie."""
        return (self.middle, self.base) + np.asarray(points, float) * (self.scale, -self.scale)

    def figure(self, figure: section.Figure, stroke: str, fill: str = "", number: int = 0) -> list[Part]:
        """Return a figure of the section, drawn by no more points than are seen; nothing for an empty one."""
        seen = section.rings(section.simpler(figure, FINE / self.scale))
        return [area([self.at(ring) for ring in seen], stroke, fill, clip=self.clip, number=number)] if seen else []

    def line(self, points: ArrayLike) -> list[tuple[float, float]]:
        """Return places as pairs."""
        return [(float(x), float(y)) for x, y in self.at(points)]


def placed(left: float, right: float, high: float, aside: Sequence[float] = (0.0, 0.0)) -> Place:
    """Return where something from `left` to `right` and so high, mm, lies, with so much more room on either side."""
    wide, tall = WIDTH - 2 * _BESIDE - sum(aside), HEIGHT - _TOP - BELOW
    scale = min(wide / (right - left), tall / high)
    start = _BESIDE + aside[0] + (wide - (right - left) * scale) / 2
    return Place(scale, start - left * scale, HEIGHT - BELOW - (tall - high * scale) / 2)


def is_flat(stock: Stock) -> bool:
    """Return whether a stock is so wide for its thickness that only a part of its section is drawn."""
    return stock.width > _WIDE * stock.thickness


def window(half: float, thickness: float, middle: float, fence: float) -> tuple[float, float]:
    """Return from where to where across a stock is drawn, mm: all of it, or the part about a cut in a wide one.

    The part reaches to the edge at the fence where that is near the cut.
    """
    reach = _WIDE * thickness / 2
    if half <= reach:
        return -half, half
    left, right = middle - reach, middle + reach
    shift = min(0.0, half - right) + max(0.0, -half - left)
    near = (fence - middle) / (2 * reach)
    if abs(near) < 1:  # the fence's edge at the end of the part
        shift = fence - right if fence > 0 else fence - left
    return left + shift, right + shift


def seen(left: float, right: float, high: float) -> Place:
    """Return where the part of a section from `left` to `right`, and so high, lies; what is beyond it is left out."""
    whole = placed(left, right, high)
    (start, top), (end, base) = whole.line([(left, high), (right, 0.0)])
    return Place(whole.scale, whole.middle, whole.base, (start - 0.3, top - 0.3, end - start + 0.6, base - top + 0.6))
