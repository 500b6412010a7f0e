"""The section of the wood that a set-up begins with: the planed stock, or what the set-ups before it left.

Exact but for the chords of the cuts. Where passes stop short it is the section where all of them have cut in full.
"""

from __future__ import annotations

from functools import lru_cache

from sweep.errors import UnusableError
from sweep.figure import count
from sweep.scene.blank import Blank
from sweep.scene.keys import Stock
from sweep.scene.model import SetUpScene, WholeScene
from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import Tool
from sweep.tolerance import AREA_NOTHING, FINE_CHORD

COARSE, HALVINGS = 0.01, 14
"""mm, and how often: how finely it is asked where a blade first meets wood."""


def wood_section(stock: Stock, chord: float = FINE_CHORD) -> section.Figure:
    """Return the section of stock as it lies before its first pass; chords of earlier cuts err by `chord`, mm."""
    if stock.blank is None:
        return section.stock_section(stock.width, stock.thickness)
    return _as_it_lies(stock.blank, chord)


def section_left(scene: WholeScene, chord: float = FINE_CHORD) -> section.Figure:
    """Return the section that a set-up leaves, as its stock lies; in several parts where it is sawn apart."""
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, scene.passes.heights[-1], chord)
    return section.minus(wood_section(scene.stock, chord), cut)


def pieces_left(scene: WholeScene, piece: int | None, chord: float = FINE_CHORD) -> tuple[section.Figure, ...]:
    """Return the pieces that a set-up leaves: the one that goes on, and then those that fall off, from left to right.

    Raises
    ------
    UnusableError
        Where nothing is left, or there is no such piece.
    """
    parts = sorted(section.parts(section_left(scene, chord)), key=section.middle_of)
    if not parts:
        raise UnusableError("nothing is left of the wood by then", "write less")
    if piece is not None and piece > len(parts):
        raise UnusableError(
            "there is no piece {value} then", "write at most {limit}", value=count(piece), limit=count(len(parts))
        )
    kept = max(range(len(parts)), key=lambda k: section.area(parts[k])) if piece is None else piece - 1
    return parts[kept], *parts[:kept], *parts[kept + 1 :]


def first_met(scene: SetUpScene) -> float:
    """Return the height up to which the raised blade meets no wood, mm: 0 in planed stock, more under a hollow.

    Found by halving, to the finest height there is; it ends, for it halves a counted number of times.
    """
    blank, setup = scene.stock.blank, scene.setup
    return 0.0 if blank is None else _first_met(blank, scene.tool, scene.feed, setup.blade_tilt, setup.blade_height)


@lru_cache(maxsize=128)
def _first_met(blank: Blank, tool: Tool, feed: StraightFeed, tilt: float, top: float) -> float:
    wood, low, high = _as_it_lies(blank, COARSE), 0.0, top
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        cut = section.cut_section(tool, feed, tilt, middle, COARSE)
        met = section.area(section.within(cut, wood)) > AREA_NOTHING
        low, high = (low, middle) if met else (middle, high)
    return low


@lru_cache(maxsize=128)  # asked for by every pass, and by every angle at which one is looked at
def _as_it_lies(blank: Blank, chord: float) -> section.Figure:
    return section.laid(pieces_left(blank.before, blank.piece, chord)[0], blank.lying)
