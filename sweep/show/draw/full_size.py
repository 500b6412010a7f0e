"""The drawings at 1:1: the end of a set-up block with what is marked on it, the check profile, and bars to check with.

Both look along the feed. Where the stock is wider than the page they are turned by a right angle; where it is larger
than the page either way they are drawn smaller, say so, and have no bar.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.cut.blank import wood_section
from sweep.cut.fence import touches_of_block
from sweep.cut.sanding import filling
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.show.draw.section import DRAWN_CHORD, coves
from sweep.show.draw.sketch import Drawing, area, box, cross, drawing, path, words
from sweep.units import MM_PER_INCH, Units

_CAPTION, _NOTE, _GAP = 6.0, 20.0, 6.0  # heights of a caption and of the words on the marks, and between drawings, mm
_BESIDE = 6.0  # room beside the block's end for the word at the fence, mm
_BELOW = 6.0  # room below it for the numbers of the marks, mm
_LETTERS = 8.0  # half of the width that letters for left and right want, mm
_UPRIGHT = 11.0  # width of the upright bar with its figure, mm
_BAR = 8.5  # height of a bar with its figures, mm


def full_size(
    scene: WholeScene, units: Units, width: float, height: float, left: Sequence[section.Figure] = ()
) -> dict[str, Any]:
    """Return the drawings for a page of some room.

    Parameters
    ----------
    scene : WholeScene
        With its set-up and passes.
    units : Units
        In inches there are bars of 6 in and 2 in, and that of 150 mm with them.
    width, height : float, mm
        Of the page within its margins.
    left : sequence of Figure
        What a set-up of several leaves, the piece that goes on first: drawn as the end is after it. None for one set-up
        alone.

    Returns
    -------
    dict
        ``block``, ``after`` and ``card``, each None or a drawing; ``bars`` and ``upright``, drawings; ``scale``, 1 but
        for stock larger than the page, where there are no bars; ``turned``, whether all of it is to be turned by a
        right angle; ``beside``, whether they stand beside one another; ``width``, mm, of all of it before it is turned.
    """
    bars = bars_across(units)
    upright = _upright_bar("mm", 1.0, (50, 10)) if units.metric else _upright_bar("in", MM_PER_INCH, (2, 1))
    drawn = _drawn(scene, left, 1.0)
    sizes = [(one["width"], one["height"] + _CAPTION) for one in drawn.values() if one is not None]
    full = drawn | {"bars": bars, "upright": upright, "scale": 1.0}
    for turned, wide, high in ((False, width, height), (True, height, width)):
        beside = sum(w for w, _ in sizes) + _GAP * (len(sizes) - 1) <= wide - _UPRIGHT
        # upright on the page they may come on pages of their own; turned they are one
        tall = sum(h for _, h in sizes) if turned and not beside else max(h for _, h in sizes)
        if max(w for w, _ in sizes) <= wide - _UPRIGHT and tall + _NOTE + _BAR * len(bars) <= high:
            return full | {"turned": turned, "beside": beside, "width": wide}
    room = width - 2 * _BESIDE, height / max(2, len(sizes)) - 2 * _CAPTION - _NOTE
    scale = min(room[0] / scene.stock.width, room[1] / (scene.stock.thickness + scene.sanding.back))
    return (
        full
        | _drawn(scene, left, scale)
        | {"scale": scale}
        | {"bars": [], "upright": None, "turned": False, "beside": False, "width": width}
    )


def _drawn(scene: WholeScene, left: Sequence[section.Figure], scale: float) -> dict[str, Drawing | None]:
    return {
        "block": block_end(scene, scale),
        "after": end_after(scene, left, scale) if left else None,
        "card": None if scene.feed.along_blade else check_profile(scene, scale),
    }


def end_after(scene: WholeScene, left: Sequence[section.Figure], scale: float) -> Drawing:
    """Return the end as a set-up leaves it: what goes on, what falls off dashed, and where the stock reached dotted."""
    stock = scene.stock
    half, thick = stock.width / 2 * scale, stock.thickness * scale
    middle, base = _BESIDE + half, thick + 1
    parts = [box(_BESIDE, 1, 2 * half, thick, "dotted")]
    for number, figure in enumerate(left):
        rings = [(middle, base) + ring * (scale, -scale) for ring in section.rings(figure)]
        parts.append(area(rings, "dashed hair" if number else "edge"))
    parts.append(path([[middle, -0.5], [middle, base + 3]], "axis"))
    return drawing(2 * half + 2 * _BESIDE, base + _BELOW, parts)


def block_end(scene: WholeScene, scale: float) -> Drawing:
    """Return the end of a set-up block: its outline, the cut, and a numbered cross wherever the rim just touches it.

    The numbers are those of `touches_of_block`, from 1.
    """
    stock, near = scene.stock, scene.setup.fence_side == "near"
    half, thick = stock.width / 2 * scale, stock.thickness * scale
    middle, base = _BESIDE + half, thick + 1

    def at(points: ArrayLike) -> NDArray[np.float64]:
        return (middle, base) + np.asarray(points, float) * (scale, -scale)

    hand = 1 if near else -1
    if stock.blank is None:
        parts = [box(_BESIDE, 1, 2 * half, thick, "edge")]
    else:
        wood = section.rings(wood_section(stock, DRAWN_CHORD))
        parts = [box(_BESIDE, 1, 2 * half, thick, "dotted"), area([at(ring) for ring in wood], "edge")]
    parts += [path(at(line), "edge") for line in coves(scene, scene.setup.blade_height)]
    parts.append(path([[middle, -0.5], [middle, base + 3]], "axis"))
    if half > _LETTERS:
        parts += [words(letter, middle + side * (half - 3.5), 4.5) for letter, side in (("L", -1), ("R", 1))]
    parts.append(words("to the fence", middle + hand * (half + 3), base - thick / 2, turn=-90 * hand, size=7.5))
    touches = () if scene.feed.along_blade else touches_of_block(scene)
    bottoms = [touch for touch in touches if touch.where == "bottom"]
    for number, touch in enumerate(touches, start=1):
        y = hand * (stock.width / 2 - touch.from_fence)
        x, level = at([(y, touch.height)])[0].tolist()
        aside = 0.0
        if touch.where == "bottom" and len(bottoms) > 1:  # a flat bottom has two, a kerf apart
            aside = 2.6 * hand if touch is min(bottoms, key=lambda one: one.from_fence) else -2.6 * hand
        below = -2.8 if touch.where == "bottom" and level > 7 else 3.8  # into the hollow where the wood above is thin
        parts += [*cross(x, level), words(str(number), x + aside, level + below, size=9, bold=True)]
    return drawing(2 * half + 2 * _BESIDE, base + _BELOW, parts)


def check_profile(scene: WholeScene, scale: float) -> Drawing | None:
    """Return the card that fills the cove and stands out of it, to be cut out; None where there is nothing to fill."""
    outline = filling(scene, 0.0, DRAWN_CHORD)
    if outline is None:
        return None
    low, high = outline.min(axis=0), outline.max(axis=0)
    wide, tall = ((high - low) * scale).tolist()
    placed = (1 - low[0] * scale, 1 + high[1] * scale) + outline * (scale, -scale)
    face = 1 + (high[1] - scene.sanding.back) * scale
    parts = [path(placed, "edge", closed=True), path([[1, face], [1 + wide, face]], "dotted")]
    if wide > 2 * _LETTERS:
        parts += [words(letter, x, tall - 2.5) for letter, x in (("L", 5.0), ("R", wide - 3.0))]
    return drawing(wide + 2, tall + 2, parts)


def bars_across(units: Units) -> list[Drawing]:
    """Return the bars to check a printer by: of 150 mm, and in inches one of 6 in before it."""
    return [_bar("in", MM_PER_INCH, (6, 1, 1))] * (not units.metric) + [_bar("mm", 1.0, (150, 10, 50))]


def _bar(unit: str, step: float, counts: tuple[int, int, int]) -> Drawing:
    """Return a bar across, from 0: so many units of `step` mm, a tick every so many, a figure every so many."""
    count, tick, figure = counts
    start, level = 2.0, 2.8
    parts = [path([[start, level], [start + count * step, level]], "edge")]
    for number in range(0, count + 1, tick):
        x, numbered = start + number * step, number % figure == 0
        parts.append(path([[x, level - (2.4 if numbered else 1.4)], [x, level]], "edge"))
        if numbered:
            shown = f"{number} {unit}" if number == count else str(number)
            parts.append(words(shown, x, level + 2.3, size=7.5))
    return drawing(start + count * step + 8, _BAR, parts)


def _upright_bar(unit: str, step: float, counts: tuple[int, int]) -> Drawing:
    """Return a bar that stands upright: a printer may stretch the paper's length alone."""
    count, tick = counts
    right, top = _UPRIGHT - 1, 1.0
    parts = [path([[right, top], [right, top + count * step]], "edge")]
    for number in range(0, count + 1, tick):
        level = top + number * step
        parts.append(path([[right - (2.4 if number in (0, count) else 1.4), level], [right, level]], "edge"))
    parts.append(words(f"{count} {unit}", right - 5, top + count * step / 2, size=7.5, turn=-90))
    return drawing(_UPRIGHT, count * step + 2, parts)
