"""The axes of a diagram: a rectangle on paper, the ranges it shows, and round figures along them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.show.draw.sketch import Part, path, words

_TICK = 0.4  # length of a mark, mm
_AWAY = 0.8  # from a mark to its words, mm
_DOWN = 1.6  # from a mark to the middle of the words below it, mm


@dataclass(frozen=True)
class Axes:
    """A rectangle of paper that shows a range of x, to the right, and of y, upwards.

    Parameters
    ----------
    left, top, width, height : float, mm
        Of paper.
    x, y : (float, float)
        The least and the greatest that it shows, in whatever is drawn.
    """

    left: float
    top: float
    width: float
    height: float
    x: tuple[float, float]
    y: tuple[float, float]

    def at(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points, (..., 2), lie on paper, mm."""
        low, high = np.array([self.x, self.y]).T
        across, up = np.moveaxis((np.asarray(points, float) - low) / (high - low), -1, 0)
        return np.stack([self.left + across * self.width, self.top + (1 - up) * self.height], axis=-1)

    def frame(self) -> list[Part]:
        """Return its left side and its foot."""
        bottom, right = self.top + self.height, self.left + self.width
        return [path([(self.left, self.top), (self.left, bottom), (right, bottom)], "faint")]

    def beside(self, ticks: Sequence[tuple[float, str]], size: float) -> list[Part]:
        """Return marks on the left side, each with its words, so many points large."""
        parts = []
        for y, said in ticks:
            level = float(self.at((self.x[0], y))[1])
            parts.append(path([(self.left - _TICK, level), (self.left, level)], "faint"))
            parts.append(words(said, self.left - _TICK - _AWAY, level, "right", size))
        return parts

    def below(self, ticks: Sequence[tuple[float, str]], size: float) -> list[Part]:
        """Return marks on the foot, each with its words; a mark without words is one alone."""
        parts, bottom = [], self.top + self.height
        for x, said in ticks:
            across = float(self.at((x, self.y[0]))[0])
            parts.append(path([(across, bottom), (across, bottom + _TICK)], "faint"))
            if said:
                parts.append(words(said, across, bottom + _TICK + _DOWN, size=size))
        return parts


def round_figures(low: float, high: float, most: int, least: float = 0.0) -> list[float]:
    """Return figures from `low` to `high`, at most so many, a step of 1, 2 or 5 tenfold apart, no step below `least`.

    `high` is greater than `low`. There is always one where zero lies between them.
    """
    rough = max((high - low) / most, least)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * times for times in (1, 2, 5, 10) if power * times >= rough * (1 - 1e-9))
    return [step * k for k in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)]
