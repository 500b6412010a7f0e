"""The section drawn in true proportion, with its dimensions, and the deviation from the target below it.

Both look along the feed: y to the right, z up, mm.
"""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path as Outline
from numpy.typing import NDArray

from sweep.check.judge import Outcome
from sweep.shape import section
from sweep.show.draw.colours import ALARM, FAINT, FINISHED, INK, WOOD, pass_colours
from sweep.show.draw.dimensions import across, upright
from sweep.units import Units

_ROOM = {"left": 190, "right": 330, "top": 84, "bottom": 96}
"""Pixels around the stock, for its dimensions."""

_GAP = 40
"""Pixels from the stock to a dimension line."""

_LINE_APART = 34
"""Pixels between the middles of two lines of text."""


def draw_section(axes: Axes, outcome: Outcome, units: Units, text: float) -> None:
    """Draw the stock, what each pass takes, the target and the dimensions.

    Parameters
    ----------
    axes : Axes
        Its size in pixels is taken as it stands; its limits are set to true proportion.
    text : float, points
    """
    job = outcome.job
    stock = job.scene.stock
    per_pixel = _true_proportion(axes, stock.width, stock.thickness)
    colours = pass_colours(len(job.passes))
    many = len(job.passes) > 14
    planed = (-stock.width / 2, 0), stock.width, stock.thickness
    axes.add_patch(Rectangle(*planed, fc=_pale(colours[0]), ec="none"))
    for number, taken in enumerate(job.sections):
        # what is left holds all that is left later: painted over it, only what each pass takes stays in its colour
        inside = WOOD if number + 1 == len(colours) else _pale(colours[number + 1])
        for outline in _outlines(taken.left):
            axes.add_patch(
                PathPatch(outline, fc=inside, ec=colours[number], lw=0.5 if many else 1.4, joinstyle="round")
            )
    # the mouth of the cove is no profile: the outlines there make way for a dotted line
    axes.plot([-stock.width / 2, stock.width / 2], [0, 0], color="white", lw=2.4, zorder=1.1, solid_capstyle="butt")
    axes.add_patch(Rectangle(*planed, fc="none", ec=FAINT, lw=0.8, ls=(0, (1, 2)), zorder=1.2))
    last = job.sections[-1].left
    if job.finishing:  # what finishing takes stays in its colour round the pieces
        for outline in _outlines(last):
            axes.add_patch(PathPatch(outline, fc=_pale(FINISHED), ec=FINISHED, lw=0.9, joinstyle="round", zorder=1.3))
    for figure in [piece.outline.figure for piece in job.pieces] if job.finishing else [last]:
        for outline in _outlines(figure):
            fill = WOOD if job.finishing else "none"
            axes.add_patch(PathPatch(outline, fc=fill, ec=INK, lw=1.3, joinstyle="round", zorder=1.4))
    if outcome.profile is not None:
        line = np.array(outcome.profile.target)
        axes.plot(line[:, 0], line[:, 1], color="black", lw=1.8, ls=(0, (5, 2.5)), label="target", zorder=5)
        axes.legend(
            loc="lower left", bbox_to_anchor=(stock.width / 2 + _GAP * per_pixel, -0.9 * _ROOM["bottom"] * per_pixel),
            bbox_transform=axes.transData, frameon=False, fontsize=text, handlelength=2.6, labelcolor=INK,
            borderaxespad=0.0, borderpad=0.0,
        )  # fmt: skip
    _dimensions(axes, outcome, units, per_pixel, text)


def height_for(outcome: Outcome, width: float) -> float:
    """Return how many pixels high the drawing of a section is that is some pixels wide."""
    stock = outcome.job.scene.stock
    across = width - _ROOM["left"] - _ROOM["right"]
    return across * stock.thickness / stock.width + _ROOM["top"] + _ROOM["bottom"]


def draw_deviation(axes: Axes, outcome: Outcome, units: Units, text: float) -> None:
    """Draw the deviation along y, magnified, over the tolerance band; x limits are the caller's."""
    profile = outcome.profile
    samples, deviation = np.array(profile.samples), np.array(profile.deviations)
    tolerance = profile.tolerance
    most = 1.3 * max(tolerance, profile.max_deviation)
    axes.axhspan(-tolerance, tolerance, color="#e4efe4", lw=0, zorder=0)
    for bound in (-tolerance, tolerance):
        axes.axhline(bound, color="#7fa883", lw=0.9)
    axes.axhline(0, color=FAINT, lw=0.9)
    axes.plot(samples[:, 0], deviation, color=INK, lw=1.5, clip_on=True)
    worst_y, _, worst = profile.worst
    axes.plot([worst_y], [worst], "o", ms=5, color=ALARM if not profile.within_tolerance else INK, clip_on=False)
    axes.set_ylim(-most, most)
    outside = profile.max_deviation > 1.4 * tolerance
    ticks = [-tolerance, 0.0, tolerance] + ([worst] if outside else [])
    near = 0.16 * most
    ticks = [t for k, t in enumerate(ticks) if all(abs(t - other) > near for other in ticks[k + 1 :])]
    axes.set_yticks(ticks, [signed(units, t) for t in ticks], fontsize=text)
    axes.set_xticks([])
    axes.tick_params(length=3, color=FAINT, labelcolor=INK)
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.spines["left"].set_color(FAINT)
    right = axes.get_xlim()[1]
    level = (0.5 if tolerance > 0.7 * most else 0.88) * most
    axes.text(right, level, "wood left", ha="right", va="center", fontsize=text, color=FAINT)
    axes.text(right, -level, "cut too deep", ha="right", va="center", fontsize=text, color=FAINT)


def signed(units: Units, value: float) -> str:
    """Return a deviation with its sign and unit."""
    return "0" if value == 0 else ("+" if value > 0 else "\N{MINUS SIGN}") + units.fine(abs(value))


def _true_proportion(axes: Axes, width: float, thickness: float) -> float:
    """Set limits so that the stock and its dimensions fill the axes in true proportion; return mm a pixel."""
    box = axes.get_window_extent()
    across, upright = box.width - _ROOM["left"] - _ROOM["right"], box.height - _ROOM["top"] - _ROOM["bottom"]
    per_pixel = max(width / across, thickness / upright)
    left = -width / 2 - _ROOM["left"] * per_pixel - (across * per_pixel - width) / 2
    low = -_ROOM["bottom"] * per_pixel - (upright * per_pixel - thickness) / 2
    axes.set_xlim(left, left + box.width * per_pixel)
    axes.set_ylim(low, low + box.height * per_pixel)
    axes.set_axis_off()
    return per_pixel


def _outlines(figure: section.Figure) -> list[Outline]:
    """Return a figure as one path, or none when nothing is left."""
    rings = section.rings(figure)
    if not rings:
        return []
    return [Outline.make_compound_path(*(Outline(np.vstack([ring, ring[:1]]), closed=True) for ring in rings))]


def _pale(colour: NDArray[np.float64]) -> NDArray[np.float64]:
    return 1 - 0.38 * (1 - np.asarray(colour))


def _dimensions(axes: Axes, outcome: Outcome, units: Units, per_pixel: float, text: float) -> None:
    job = outcome.job
    stock, last = job.scene.stock, job.sections[-1]
    half, gap = stock.width / 2, _GAP * per_pixel
    wide = f"stock {units.length(stock.width)} wide"
    across(axes, (-half, half), stock.thickness, stock.thickness + gap, wide, per_pixel, text)
    if last.edges is not None:
        across(axes, last.edges, 0.0, -gap, f"{units.length(last.width)} at the table", per_pixel, text)
    upright(axes, (0.0, stock.thickness), -half, -half - gap, per_pixel)
    axes.text(
        -half - 1.35 * gap, stock.thickness / 2, units.length(stock.thickness),
        rotation=90, ha="right", va="center", fontsize=text, color=INK,
    )  # fmt: skip
    if last.top <= 0:
        return
    outline = np.vstack(section.rings(last.left))
    highest = outline[np.argmin(np.abs(outline[:, 1] - last.top)), 0]
    upright(axes, (0.0, last.top), half, half + gap, per_pixel)
    upright(axes, (last.top, stock.thickness), half, half + gap, per_pixel)
    axes.plot([highest, half + gap], [last.top] * 2, color=FAINT, lw=0.7, zorder=6)
    apart = _LINE_APART * per_pixel
    low, high = last.top / 2, (last.top + stock.thickness) / 2
    push = max(0.0, apart - (high - low)) / 2
    labels = f"{units.length(last.top)} deep", f"{units.length(stock.thickness - last.top)} left above"
    for place, label in zip((low - push, high + push), labels, strict=True):
        axes.text(half + 1.45 * gap, place, label, ha="left", va="center", fontsize=text, color=INK)
