"""`surface.png`: how high the tooth marks stand along the profile, and a close-up of the highest in true proportion.

The close-up is one feed from tooth to tooth, worked out once and laid side by side. Equal, sharp, rigid teeth.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from matplotlib.figure import Figure
from numpy.typing import NDArray

from sweep.cut.surface import Surface, surface_of
from sweep.scene.keys import Stock
from sweep.show.draw.colours import ALARM, FAINT, INK, WOOD
from sweep.show.draw.paint_png import DPI, axes_at, blank, paint, save, write
from sweep.show.draw.sketch import across, drawing, path, upright, words
from sweep.show.say.cautions import LINE
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.units import Units

SIZE = (2200, 1360)
"""Pixels."""

MARKS = 5
"""How many marks the close-up shows."""

NO_RIDGE = 1e-3
"""Share of the spacing under which marks are drawn as none."""

_MM = 1.125 * DPI / 25.4  # pixels to a mm of a drawing: its words of 8 points come out at 9
_TITLE, _HEADING, _TEXT = 15.0, 10.5, 9.0  # points
_LEFT, _RIGHT = (250, 760), (1230, 640)  # left side and width of the two halves, pixels
_RELIEF, _SLICE = (290, 430), (800, 300)  # top and height of the two close-ups
_BESIDE = 270  # room for the height of the ridges, pixels
_FINE = 2  # so many times finer is the view square on worked out than drawn


def write_surface(path: Path, report: Report) -> None:
    """Draw `surface.png`.

    Parameters
    ----------
    path : Path
    report : Report
    """
    scene, units = report.scene, report.units
    surface = surface_of(scene, runout=0.0, wobble=0.0)
    figure = blank(SIZE[0], SIZE[1])
    write(figure, 60, 62, "Tooth marks after the last pass", _TITLE, weight="bold")
    facts = [
        title_of(scene, 60),
        f"last pass at {units.feed(report.job.passes[-1].feed_speed)}",
        f"{units.minute(surface.feed_per_tooth)} a tooth",
        f"highest ridge {units.minute(surface.largest)}",
    ]
    if report.surface.largest > surface.largest:
        facts.append(f"with run-out and wobble {units.fine(report.surface.largest)}, not drawn")
    write(figure, 60, 122, "   ·   ".join(facts), _TEXT, color=FAINT)
    highest, pictures = surface.where, []
    if highest is not None:
        _along_profile(figure, scene.stock, surface, highest, units)
        _close_up(figure, surface, highest, units)
        pictures.append((_RIGHT[0], _RELIEF[0], _relief(surface, highest)))
    else:
        write(figure, SIZE[0] / 2, 600, "the last pass misses the stock", _HEADING, ha="center")
    second = ", each corner by every second tooth" if scene.blade.stagger == 2 else ""
    lines = (
        f"Sharp, equal teeth{second}. Half the last feed leaves half the ridge.",
        f"Tear-out, run-out, wobble and vibration are not in it. {LINE}",
    )
    for k, line in enumerate(lines):
        write(figure, SIZE[0] / 2, SIZE[1] - 88 + 44 * k, line, _TEXT, ha="center", color=FAINT, style="italic")
    save(figure, path, pictures)


def _along_profile(figure: Figure, stock: Stock, surface: Surface, place: tuple[float, float], units: Units) -> None:
    """Draw the ridges over the width and, to the same scale across, the section in true proportion."""
    left, width = _LEFT
    y, z = np.array(surface.points).T
    half = stock.width / 2
    write(figure, left + width / 2, 222, "height of the ridges, from side to side", _HEADING, ha="center")
    upper = axes_at(figure, left, 290, width, 480)
    most = max(surface.largest, NO_RIDGE * surface.spacing)
    upper.fill_between(y, 0.0, surface.ridges, color=WOOD, lw=0)
    upper.plot(y, surface.ridges, color=INK, lw=1.6)
    upper.set(xlim=(-half, half), ylim=(0.0, 1.12 * most))
    ticks = [0.0, most / 2, most]
    upper.set_yticks(ticks, ["0", *(units.minute(t) for t in ticks[1:])], fontsize=_TEXT)
    upper.set_xticks([])
    for side in ("top", "right"):
        upper.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        upper.spines[side].set_color(FAINT)
    upper.tick_params(length=4, color=FAINT, labelcolor=INK)
    upper.grid(axis="y", color=FAINT, alpha=0.25, lw=0.7)

    deep = min(300, width * stock.thickness / stock.width)
    across = deep * stock.width / stock.thickness  # thick stock is drawn smaller
    lower = axes_at(figure, left + (width - across) / 2, 850 + (300 - deep) / 2, across, deep)
    lower.set(xlim=(-half, half), ylim=(0.0, stock.thickness))
    lower.set_axis_off()
    y[[0, -1]] = np.where(z[[0, -1]] > 0.0, (-half, half), y[[0, -1]])  # run off a side
    lower.fill_between([-half, *y, half], [0.0, *z, 0.0], stock.thickness, color=WOOD, lw=0)
    lower.plot(y, z, color=INK, lw=1.3, clip_on=False)
    for axes, high in ((upper, surface.largest), (lower, place[1])):
        axes.plot([place[0]], [high], "o", ms=5, color=ALARM, clip_on=False, zorder=5)
    level = "at the table" if place[1] < 0.005 else f"{units.nearest(place[1])} above the table"
    note = f"the highest, at y = {units.nearest(place[0])}, {level}: drawn beside"
    write(figure, left + width / 2, 1190, note.replace("-", "\N{MINUS SIGN}"), _TEXT, ha="center", color=ALARM)
    write(figure, left + width / 2, 820, "section, looking along the feed", _TEXT, ha="center", color=FAINT)


def _close_up(figure: Figure, surface: Surface, place: tuple[float, float], units: Units) -> None:
    """Draw the highest ridges seen square on and cut along the feed, both to one scale."""
    left, width = _RIGHT
    middle = left + width / 2
    scale, hand = _scale(surface), _hand(surface, place)
    write(figure, middle, 222, "the highest ridges, in true proportion", _HEADING, ha="center")

    top = _RELIEF[0]
    write(figure, left, top - 26, "seen square on, the table below", _TEXT, color=FAINT)
    arrow = "feed \N{RIGHTWARDS ARROW}" if hand < 0 else "\N{LEFTWARDS ARROW} feed"
    write(figure, left + width, top - 26, arrow, _TEXT, ha="right", color=FAINT)

    top, height = _SLICE
    cut = axes_at(figure, left, top, width + _BESIDE, height)
    cut.set_axis_off()
    x = np.linspace(0.0, width * scale, MARKS * 400 + 1)
    ridge = _ridge(surface, hand * x)
    floor = -90 * scale
    cut.set(xlim=(0.0, (width + _BESIDE) * scale), ylim=(floor, floor + height * scale))
    cut.fill_between(x, floor, ridge, color=WOOD, lw=0)
    cut.plot(x, ridge, color=INK, lw=1.4, solid_joinstyle="miter")
    write(figure, left, top + height + 28, "cut along the feed, square to the surface; wood below", _TEXT, color=FAINT)

    def at(along: float, high: float) -> tuple[float, float]:
        """Return where a place in the cut lies in a drawing laid over it, mm of paper."""
        return along / scale / _MM, (height - (high - floor) / scale) / _MM

    level = 110 * scale if surface.largest < 80 * scale else surface.largest + 40 * scale
    (first, base), (second, high) = at(2 * surface.spacing, 0.0), at(3 * surface.spacing, level)
    parts = across((first, second), base, high, f"{units.minute(surface.spacing)} from mark to mark")
    if surface.largest < NO_RIDGE * surface.spacing:
        parts.append(words("the ridges are too low to be drawn", *at(MARKS / 2 * surface.spacing, -40 * scale)))
    else:  # the height, beside the last mark; its upper end is drawn out from the last crest
        crest = (MARKS - 1 + (surface.crest if hand > 0 else 1 - surface.crest)) * surface.spacing
        (right, top_of_ridge), (end, _) = at((width + 40) * scale, surface.largest), at(width * scale, 0.0)
        parts += upright((top_of_ridge, base), end, right, "")
        parts.append(path([at(crest, surface.largest), (end, top_of_ridge)], "faint"))
        label = f"{units.minute(surface.largest)} high"
        parts.append(words(label, right + 2.5, (top_of_ridge + base) / 2, "left"))
    paint(figure, drawing((width + _BESIDE) / _MM, height / _MM, parts), left, top, _MM)


def _bottom(surface: Surface) -> float:
    """Return the y of the highest point of the profile, mm: the bottom of the cove."""
    return max(surface.points, key=lambda point: point[1])[0]


def _scale(surface: Surface) -> float:
    """Return how many mm a pixel of the close-up shows."""
    return MARKS * surface.spacing / _RIGHT[1]


def _hand(surface: Surface, place: tuple[float, float]) -> int:
    """Return -1 where the feed is to the right: so it is as seen from within the cove, on its left flank; else 1."""
    return -1 if place[0] <= _bottom(surface) else 1


def _ridge(surface: Surface, x: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how high the wood stands at places along the feed, mm: one triangle, laid side by side."""
    return np.interp(x / surface.spacing % 1.0, (0.0, surface.crest, 1.0), (0.0, surface.largest, 0.0))


def _relief(surface: Surface, place: tuple[float, float]) -> NDArray[np.uint8]:
    """Return the highest ridges seen square on, lit from the left across the marks, (rows, columns, 3)."""
    (width, height), hand, scale = (_RIGHT[1], _RELIEF[1]), _hand(surface, place), _scale(surface) / _FINE
    run = hand * scale * (np.arange(_FINE * width) + 0.5)
    up = scale * (np.arange(_FINE * height)[::-1, None] + 0.5)
    rising = (run - surface.slant * up) / surface.spacing % 1.0 < surface.crest
    # of a mark's two slopes each is one plane and so one tone; a slope without width is not seen
    shares = np.array([min(surface.crest - 1.0, -1e-9), max(surface.crest, 1e-9)])
    slopes = surface.largest / (surface.spacing * shares)
    normals = np.column_stack([-hand * slopes, surface.slant * slopes, np.ones(2)])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    light = np.array([-1.0, hand * surface.slant, 0.0])
    light = 0.6 * light / np.linalg.norm(light) + (0.0, 0.0, 0.8)
    shades = 0.48 + 0.56 * np.clip(normals @ light, 0.0, None)
    tones = 255 * np.clip(np.array(WOOD) * shades[:, None], 0.0, 1.0)
    share = rising.reshape(height, _FINE, width, _FINE).mean(axis=(1, 3))[..., None]  # of a pixel
    relief: NDArray[np.uint8] = np.round(tones[0] + share * (tones[1] - tones[0])).astype(np.uint8)
    return relief
