"""The section of a moulding of several set-ups, lying as it was planed: what each takes, what falls off, what is left.

`left_drawing` is what is left for planes and scrapers, against a whole moulding that is wanted.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from sweep.check.whole import WholeCheck
from sweep.cut.moulding import Made, Moulding
from sweep.shape import section
from sweep.show.draw.colours import FINISHED, deviation_colours, hexed, setup_colours
from sweep.show.draw.section import Frame
from sweep.show.draw.sketch import Drawing, Part, across, area, dot, drawing, path, upright, words
from sweep.units import Units

_LEFT, _TOP, _BOTTOM = 9.0, 8.0, 10.0  # room for the dimensions and for the numbers below the table, mm
_GAP = 4.5  # from the stock to a dimension, mm
_INSIDE = 1.9  # a number stands within what a set-up takes where a circle of this radius fits, mm of paper
_FINE = 0.01  # chords are drawn as fine as this, mm of paper: a tenth of a line's thickness
_APART = 4.0  # numbers below the table are so far apart, mm
_SHADES = 40  # a line in colours has so many
_SEEN = 0.005  # mm; what is left or cut is drawn from here on


@dataclass(frozen=True, eq=False)
class Taken:
    """What one setting of the saw takes, lying as it was planed.

    Parameters
    ----------
    cut : Figure
        What becomes shavings and dust.
    fallen : tuple of Figure
        What falls off.
    aside : tuple of Figure
        What is sawn off, laid aside and kept.
    """

    cut: section.Figure
    fallen: tuple[section.Figure, ...]
    aside: tuple[section.Figure, ...] = ()

    @cached_property
    def roomiest(self) -> tuple[section.Place, float]:
        """The middle of the largest circle in what is cut, and its radius, mm."""
        return section.roomiest(self.cut)


@lru_cache(maxsize=2)  # drawn at every width
def takings(moulding: Moulding) -> tuple[Taken, ...]:
    """Return what each setting of the saw takes."""
    found = []
    for place, setting in enumerate(moulding.settings):
        off = [one for one in moulding.fallen if one.setting is setting]
        fallen, aside = (
            tuple(section.laid(one.figure, setting.lying.back) for one in off if one.is_kept == kept)
            for kept in (False, True)
        )
        cut = section.minus(moulding.section_before(place), moulding.section_before(place + 1))
        for figure in (*fallen, *aside):
            cut = section.minus(cut, figure)
        found.append(Taken(cut, fallen, aside))
    return tuple(found)


def setups_frame(moulding: Made, width: float, height: float) -> Frame:
    """Return the frame in which the planed stock is as large as it fits in so much room, mm."""
    stock = moulding.scene.stock
    across = width - 2 * _LEFT
    scale = min(across / stock.width, (height - _TOP - _BOTTOM) / stock.thickness)
    return Frame(width, scale, width / 2, _TOP + stock.thickness * scale)


def setups_drawing(moulding: Moulding, units: Units, frame: Frame) -> Drawing:
    """Return the section of the planed stock, looking along the feed, what each setting takes in its colour."""
    colours = [hexed(colour) for colour in setup_colours(len(moulding.settings))]
    taken = takings(moulding)
    parts = _stock(moulding, units, frame)
    parts += [_area(frame, one, "hair", "taken") for each in taken for one in each.fallen]
    parts += [_area(frame, each.cut, "hair", colour) for each, colour in zip(taken, colours, strict=True)]
    after = _made(moulding)
    if moulding.finishing:
        begun = [moulding.section_before(len(moulding.settings)), *(one for each in taken for one in each.aside)]
        parts += [_area(frame, one, "", hexed(FINISHED)) for one in begun]
    parts += [_area(frame, figure, "edge", "wood") for figure in after]
    return drawing(frame.width, frame.base + _BOTTOM, [part for part in parts if part.get("rings", True)],
                   _numbers(frame, taken))  # fmt: skip


def left_drawing(moulding: Made, whole: WholeCheck, units: Units, frame: Frame) -> Drawing:
    """Return the finished section, its outline coloured by what stands above the moulding wanted, or is cut into it."""
    parts = _stock(moulding, units, frame)
    parts += [_area(frame, figure, "edge", "wood") for figure in _made(moulding)]
    pale = hexed(deviation_colours(0.3))
    parts += [_area(frame, section.minus(figure, whole.kept), "", pale) for figure in _made(moulding)]
    parts += _coloured(frame, whole)
    parts.append(_area(frame, whole.kept, "hair"))
    marks = [(whole.thickest_left, whole.thickest_at, 1.0), (whole.deepest_cut, whole.deepest_at, -1.0)]
    for much, where, sign in marks:
        if much > _SEEN:
            y, z = frame.at(where).tolist()
            parts.append(dot(y, z, 0.9, "edge", hexed(deviation_colours(sign * much / most_of(whole)))))
    return drawing(frame.width, frame.base + _BOTTOM, [part for part in parts if part.get("rings", True)])


def most_of(whole: WholeCheck) -> float:
    """Return what is left, or cut, at the ends of the colours, mm."""
    return max(whole.thickest_left, whole.deepest_cut, whole.tolerance)


def _made(moulding: Made) -> list[section.Figure]:
    return [piece.outline.figure for piece in moulding.pieces]


def _stock(moulding: Made, units: Units, frame: Frame) -> list[Part]:
    """Return the outline of the planed stock with its dimensions."""
    stock = moulding.scene.stock
    half = stock.width / 2
    corners = frame.at([(-half, 0), (half, 0), (half, stock.thickness), (-half, stock.thickness)])
    (left, base), (right, top) = corners[0].tolist(), corners[2].tolist()
    return [
        path(corners, "dotted", closed=True),
        *across((left, right), top, top - _GAP + 1, f"stock {units.length(stock.width)} wide"),
        *upright((top, base), left, left - _GAP + 1, units.length(stock.thickness)),
    ]


def _area(frame: Frame, figure: section.Figure, stroke: str, fill: str = "") -> Part:
    seen = section.simpler(figure, _FINE / frame.scale)
    return area([frame.at(ring) for ring in section.rings(seen)], stroke, fill)


def _numbers(frame: Frame, taken: tuple[Taken, ...]) -> list[Part]:
    """Return the number of each setting within what it takes, or below the table where that is too small for it."""
    parts, below = [], []
    for number, one in enumerate(taken, start=1):
        if not section.parts(one.cut):
            continue
        place, radius = one.roomiest
        x, y = frame.at(place).tolist()
        if radius * frame.scale >= _INSIDE:
            parts.append(words(str(number), x, y, bold=True, halo=True))
        else:
            below.append((x, y, number))
    least = -np.inf
    for x, y, number in sorted(below):
        least = max(x, least + _APART)
        level = frame.base + 3.0
        parts.append(path([(x, y), (x, frame.base + 1.0), (least, level)], "thin"))
        parts.append(words(str(number), least, level + 2.2, bold=True, halo=True))
    return parts


def _coloured(frame: Frame, whole: WholeCheck) -> list[Part]:
    """Return the outline of the body that must stay, where wood stands above it or is cut out of it, in colours."""
    ring = np.vstack([whole.outline, whole.outline[:1]])
    above = (whole.above + np.roll(whole.above, -1)) / 2
    shade: NDArray[np.int64] = np.round(above / most_of(whole) * _SHADES).astype(int)
    shade[np.abs(above) < _SEEN] = _SHADES + 1  # of no colour
    starts = [0, *(np.flatnonzero(np.diff(shade)) + 1).tolist(), len(shade)]
    parts = []
    for first, last in itertools.pairwise(starts):
        if shade[first] <= _SHADES:
            colour = hexed(deviation_colours(max(-1.0, shade[first] / _SHADES)))
            parts.append(path(frame.at(ring[first : last + 1]), "ribbon") | {"stroke_colour": colour})
    return parts
