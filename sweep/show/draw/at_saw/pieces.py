"""The pieces of an order, to be cut off and mitred: the longest of each kind, drawn as they lie on the bench."""

from __future__ import annotations

from collections import Counter

from sweep.plan.cutlist import CutList, PieceWanted
from sweep.show.draw.at_saw.room import HEIGHT, LARGE, WIDTH, WORDS
from sweep.show.draw.sketch import Drawing, Part, drawing, path, words
from sweep.units import Units

_MOST = 4  # kinds of pieces that are drawn; the words have all of them
_HIGH = 4.6  # of a piece, mm of drawing


def pieces(cut: CutList, units: Units, mitred: bool = False) -> Drawing:
    """Return the pieces by length, as they are cut off or as they are mitred, seen from above."""
    kinds: dict[str, list[PieceWanted]] = {}
    for piece in sorted(cut.pieces, key=lambda one: -one.rough):
        kinds.setdefault(units.tape(piece.rough), []).append(piece)
    shown = list(kinds.items())[:_MOST]
    longest = max(piece.rough for piece in cut.pieces)
    apart = (HEIGHT - 2.0) / len(shown)
    parts: list[Part] = []
    for row, (rough, alike) in enumerate(shown):
        count = Counter(piece.name for piece in alike).total()
        level = 1.0 + apart * row + (apart - _HIGH - 4.6) / 2 + 4.6
        size = LARGE if len(shown) < 4 else WORDS
        parts += _bar(alike[0], longest, level, mitred)
        long = units.tape(alike[0].length) if mitred else rough
        parts.append(words(f"{count} x {long}", WIDTH / 2, level - 2.6, size=size))
        if mitred:
            parts.append(words(units.tape(alike[0].inner_length), WIDTH / 2, level + _HIGH + 2.8, size=WORDS))
    return drawing(WIDTH, HEIGHT, parts)


def _bar(piece: PieceWanted, longest: float, top: float, mitred: bool) -> list[Part]:
    """Return a piece at the length that it is cut off at, or within that with its mitred ends."""
    wide = (WIDTH - 8.0) * piece.rough / longest
    left = (WIDTH - wide) / 2
    spare = (piece.rough - piece.length) / 2 / piece.rough * wide
    slant = min((piece.length - piece.inner_length) / 2 / piece.rough * wide, wide / 3)
    first, last = left + spare, left + wide - spare
    ends = (slant if piece.mitres > 0 else 0.0, slant if piece.mitres > 1 else 0.0)
    outline = [(first, top), (last, top), (last - ends[1], top + _HIGH), (first + ends[0], top + _HIGH)]
    whole = [(left, top), (left + wide, top), (left + wide, top + _HIGH), (left, top + _HIGH)]
    if not mitred:
        return [path(whole, "edge", "wood", closed=True)]
    return [path(whole, "dotted", closed=True), path(outline, "edge", "wood", closed=True)]
