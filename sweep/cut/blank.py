"""The section of the wood that a set-up begins with: the planed stock, or what the set-ups before it left.

Exact but for the chords of the cuts. Where passes stop short it is the section where all of them have cut in full.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TypeAlias

from sweep.errors import UnusableError
from sweep.figure import count
from sweep.scene.blank import Blank
from sweep.scene.keys import Passes, Stock
from sweep.scene.model import SetUpScene, WholeScene
from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import Tool
from sweep.tolerance import AREA_NOTHING, FINE_CHORD

COARSE, HALVINGS = 0.01, 14
"""mm, and how often: how finely it is asked where a blade first meets wood."""


Top: TypeAlias = Callable[[Passes], float | None]
"""Up to which height the passes of a set-up have cut where a section is looked at, mm; None where none has."""


def everywhere_cut(passes: Passes) -> float | None:
    """Return the height of the last pass: that of the section where all of them have cut in full."""
    return passes.heights[-1]


def cut_throughout(passes: Passes) -> float | None:
    """Return the height of the deepest pass that goes right through: that of the section where least is cut."""
    through = [height for height, stop in zip(passes.heights, passes.stops, strict=True) if stop is None]
    return max(through, default=None)


def wood_section(stock: Stock, chord: float = FINE_CHORD, top: Top = everywhere_cut) -> section.Figure:
    """Return the section of stock as it lies before its first pass; chords of earlier cuts err by `chord`, mm."""
    if stock.blank is None:
        return section.stock_section(stock.width, stock.thickness)
    return _as_it_lies(stock.blank, chord, top)


def section_left(scene: WholeScene, chord: float = FINE_CHORD, top: Top = everywhere_cut) -> section.Figure:
    """Return the section that a set-up leaves, as its stock lies; in several parts where it is sawn apart."""
    height = top(scene.passes)
    if height is None:
        return wood_section(scene.stock, chord, top)
    return _left(scene.stock, scene.tool, scene.feed, scene.tilt, height, chord, top)


@lru_cache(maxsize=128)  # what goes on, what falls off, and whether it is sawn apart are each asked for on their own
def _left(
    stock: Stock, tool: Tool, feed: StraightFeed, tilt: float, height: float, chord: float, top: Top
) -> section.Figure:
    return section.minus(wood_section(stock, chord, top), section.cut_section(tool, feed, tilt, height, chord))


def is_sawn_apart(scene: WholeScene) -> bool | None:
    """Return whether a set-up saws the stock apart along its whole length; None where it does so on a part of it only.

    A part only: where its own passes stop, or those of an earlier set-up that had taken the rest.
    """
    most, least = (len(section.parts(section_left(scene, top=top))) for top in (everywhere_cut, cut_throughout))
    return most > 1 if most == least else None


def pieces_left(
    scene: WholeScene, piece: int | None, chord: float = FINE_CHORD, top: Top = everywhere_cut
) -> tuple[section.Figure, ...]:
    """Return the pieces that a set-up leaves: the one that goes on, and then those that fall off, from left to right.

    Raises
    ------
    UnusableError
        Where nothing is left, or there is no such piece.
    """
    parts = _from_left(section_left(scene, chord, top))
    if not parts:
        raise UnusableError("nothing is left of the wood by then", "write less")
    if piece is not None and piece > len(parts):
        if chord > FINE_CHORD:  # it is there, only drawn so coarsely it is not
            raise UnusableError(
                "what is sawn apart before it hangs together by a sliver too thin to tell",
                "move that cut, or change its height, a little",
            )
        raise UnusableError(
            "there is no piece {value} then", "write at most {limit}", value=count(piece), limit=count(len(parts))
        )
    kept = _largest(parts) if piece is None else piece - 1
    return parts[kept], *parts[:kept], *parts[kept + 1 :]


def piece_that_goes_on(scene: WholeScene, piece: int | None, falls: section.Figure | None = None) -> int | None:
    """Return which piece goes on, from 1, the largest where none is named; None where there is but one.

    What lies in `falls` for its greater part is none of those.
    """
    parts = _from_left(section_left(scene))
    if piece is not None or len(parts) < 2:
        return piece
    stay = [part for part in parts if falls is None or not section.mostly_in(part, falls)] or parts
    return parts.index(stay[_largest(stay)]) + 1


def _from_left(figure: section.Figure) -> list[section.Figure]:
    return sorted(section.parts(figure), key=section.middle_of)


def _largest(parts: list[section.Figure]) -> int:
    """Return the place of the largest, of equal ones that of the leftmost."""
    most = max(map(section.area, parts))
    return next(k for k, part in enumerate(parts) if section.area(part) > most - AREA_NOTHING)


def first_met(scene: SetUpScene) -> float:
    """Return the height up to which the raised blade meets no wood, mm: 0 in planed stock, more under a hollow.

    Found by halving, to the finest height there is; it ends, for it halves a counted number of times.
    """
    blank, setup = scene.stock.blank, scene.setup
    return 0.0 if blank is None else _first_met(blank, scene.tool, scene.feed, setup.blade_tilt, setup.blade_height)


@lru_cache(maxsize=128)
def _first_met(blank: Blank, tool: Tool, feed: StraightFeed, tilt: float, top: float) -> float:
    wood, low, high = _as_it_lies(blank, COARSE, everywhere_cut), 0.0, top

    def is_met(height: float) -> bool:
        cut = section.cut_section(tool, feed, tilt, height, COARSE)
        return section.area(section.within(cut, wood)) > AREA_NOTHING

    if is_met(top / 2**HALVINGS):  # most wood lies on the table where the blade comes: halving would end there
        return 0.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if is_met(middle) else (middle, high)
    return low


@lru_cache(maxsize=128)  # asked for by every pass, and by every angle at which one is looked at
def _as_it_lies(blank: Blank, chord: float, top: Top) -> section.Figure:
    return section.laid(pieces_left(blank.before, blank.piece, chord, top)[0], blank.lying)
