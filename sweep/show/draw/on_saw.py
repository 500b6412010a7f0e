"""The stock on the saw for one set-up, looking along the feed: on the table, at the fence, over the blade."""

from __future__ import annotations

import textwrap

import numpy as np
from numpy.typing import NDArray

from sweep.cut.blank import wood_section
from sweep.cut.moulding import Moulding
from sweep.cut.settings import Setting
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.show.draw.colours import STEEL, hexed, setup_colours
from sweep.show.draw.section import DRAWN_CHORD
from sweep.show.draw.sketch import Drawing, Part, area, box, drawing, path, words
from sweep.show.say.passes import set_up_of
from sweep.show.say.report import Report
from sweep.show.say.setups import how_it_lies

TALLEST = 50.0
"""mm. A fence is drawn no higher than this: only that it is there matters."""

WORDS_BELOW = 25.0
"""mm of paper. Room for the words below the table."""

_LINE = 3.7  # room for a line of them, mm of paper
_ABOVE = 1.0  # room above, mm of paper
_TABLE = 3.0  # the table's thickness, mm of paper
_BESIDE = 6.0  # table beyond stock and fence, mm of paper
_MOST_LINES = 5
_LETTER = 1.75  # width of a letter, mm


def fitting_scale(moulding: Moulding, width: float, height: float) -> float:
    """Return the one scale, mm of paper to a mm, at which the stock of every setting fits in so much room, mm."""
    wide = max(one.whole.stock.width + one.whole.fence.thickness for one in moulding.settings)
    return min((width - 2 * _BESIDE) / wide, (height - WORDS_BELOW - _TABLE - _ABOVE) / _tallest(moulding))


def height_at(moulding: Moulding, scale: float) -> float:
    """Return how high drawings at a scale are, mm, so that the tallest of all settings fits."""
    return _tallest(moulding) * scale + WORDS_BELOW + _TABLE + _ABOVE


def _tallest(moulding: Moulding) -> float:
    scenes = [setting.whole for setting in moulding.settings]
    return max(max(one.stock.thickness, one.setup.blade_height, _fence_height(one)) for one in scenes)


def _fence_height(scene: WholeScene) -> float:
    return min(TALLEST, max(0.8 * scene.stock.thickness, 25.0))


def on_saw_drawing(
    report: Report, moulding: Moulding, place: int, scale: float, width: float, height: float
) -> Drawing:
    """Return the stock on the saw for one setting, and words below it.

    Parameters
    ----------
    report : Report
        Of that setting.
    moulding : Moulding
    place : int
        Which of the settings, from 0.
    scale : float
        mm of paper to a mm.
    width, height : float, mm
        Of the drawing.
    """
    setting = moulding.settings[place]
    scene, stock, near = setting.whole, setting.whole.stock, setting.whole.setup.fence_side == "near"
    hand, half = (1.0, stock.width / 2) if near else (-1.0, stock.width / 2)
    base = height - WORDS_BELOW - _TABLE
    middle = width / 2 - hand * scale * scene.fence.thickness / 2
    at = np.array([middle, base])

    def placed(figure: section.Figure) -> list[NDArray[np.float64]]:
        return [at + ring * (scale, -scale) for ring in section.rings(figure)]

    wood = wood_section(stock, DRAWN_CHORD)
    swept = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.passes.heights[-1], DRAWN_CHORD)
    left, _, right, high = section.bounds_of(swept)
    swept = section.within(swept, section.stock_section(2 * max(abs(left), abs(right)), high))  # above the table
    colour = hexed(setup_colours(len(moulding.settings))[place])
    tall = _fence_height(scene) * scale
    face = middle + hand * half * scale
    beyond = hand * scene.fence.thickness * scale
    parts: list[Part] = [
        box(0.0, base, width, _TABLE, "", "table"),
        box(min(face, face + beyond), base - tall, abs(beyond), tall, "hair", "fence"),
        area(placed(swept), "hair", hexed(STEEL)),
        area(placed(wood), "hair", "wood"),
        *(
            area(placed(one.figure), "hair", "wood" if one.is_kept else "taken")
            for one in moulding.fallen
            if one.setting is setting
        ),
        area(placed(section.within(wood, swept)), "hair", colour),
        area(placed(swept), "thin"),
        path([(0.0, base), (width, base)], "edge"),
    ]
    return drawing(width, height, [part for part in parts if part.get("rings", True)],
                   _words(report, setting, colour, base + _TABLE, width))  # fmt: skip


def _words(report: Report, setting: Setting, colour: str, top: float, width: float) -> list[Part]:
    """Return what is below the table: number and name beside the colour, how the stock lies, how the saw is set."""
    letters = int(width / _LETTER)
    name = textwrap.shorten(f"{setting.asked.place}. {setting.name}", letters - 6, placeholder="...")
    lines = textwrap.wrap(f"stock {how_it_lies(setting)}", letters)
    lines += textwrap.wrap(set_up_of(report.outcome, report.units).replace(" deg", "\N{DEGREE SIGN}"), letters)
    parts = [
        box(0.0, top + 2.0, 3.4, 2.8, "hair", colour),
        words(name, 5.2, top + 3.4, "left", 8.5, bold=True),
    ]
    return parts + [
        words(line, 0.0, top + 3.4 + _LINE * (k + 1.15), "left") for k, line in enumerate(lines[:_MOST_LINES])
    ]
