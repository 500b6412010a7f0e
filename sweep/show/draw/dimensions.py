"""Dimension lines of a drawing: extension lines, an oblique stroke at each end, and the figure beside the line."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from sweep.show.draw.colours import FAINT, INK


def across(
    axes: Axes, ends: tuple[float, float], start: float, level: float, label: str, per_pixel: float, text: float
) -> None:
    """Rule a dimension across, its extension lines from `start` to a little beyond `level`."""
    over = 8 * per_pixel * np.sign(level - start)
    for end in ends:
        axes.plot([end, end], [start + over, level + over], color=FAINT, lw=0.7)
    ticked(axes, np.array([[ends[0], level], [ends[1], level]]), per_pixel)
    below = level < start
    axes.text(
        sum(ends) / 2, level + (-1 if below else 1) * 10 * per_pixel, label,
        ha="center", va="top" if below else "bottom", fontsize=text, color=INK,
    )  # fmt: skip


def upright(axes: Axes, ends: tuple[float, float], start: float, level: float, per_pixel: float) -> None:
    """Rule a dimension upright, its extension lines from `start` to a little beyond `level`."""
    over = 8 * per_pixel * np.sign(level - start)
    for end in ends:
        axes.plot([start + over, level + over], [end, end], color=FAINT, lw=0.7)
    ticked(axes, np.array([[level, ends[0]], [level, ends[1]]]), per_pixel)


def ticked(axes: Axes, line: NDArray[np.float64], per_pixel: float) -> None:
    """Draw a dimension line with an oblique stroke at each end: it reads at any length, where arrowheads would not."""
    axes.plot(line[:, 0], line[:, 1], color=INK, lw=0.9)
    stroke = 8 * per_pixel
    for y, z in line:
        axes.plot([y - stroke, y + stroke], [z - stroke, z + stroke], color=INK, lw=1.6, solid_capstyle="round")
