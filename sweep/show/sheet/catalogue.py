"""`shop.pdf`: a printed catalogue of a folder of profiles, their sections at 1:1, for the wall."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from sweep.shop.row import Answer, Row
from sweep.show.draw.full_size import bars_across
from sweep.show.draw.profile import ROUND, profile_drawing
from sweep.show.say.cautions import SENTENCE
from sweep.show.say.shop import alarm_of, blade_and_saw, counted
from sweep.show.sheet.pages import write_parts
from sweep.show.sheet.pdf import MARGINS, PAPERS, breakable, typeset
from sweep.units import Units, minutes
from sweep.words import visible

GAP = 6.0
"""mm. Between two profiles side by side."""

PART = 100
"""Profiles that are set together: their pages are counted, and in memory, by themselves."""

WORDS = 55.0
"""mm. Room that the words below a section want."""

TALLEST = 200.0
"""mm. The highest section that a page holds at 1:1 with its words."""


def write_catalogue(path: Path, title: str, answers: Iterable[Answer], units: Units, paper: str) -> None:
    """Write the catalogue.

    Parameters
    ----------
    path : Path
    title : str
    answers : iterable of Answer
        Those without a drawing are left out.
    units : Units
    paper : str
        ``"a4"`` or ``"letter"``.
    """
    sheet = PAPERS[paper]
    width = sheet.width - MARGINS["left"] - MARGINS["right"]
    data = {
        "paper": sheet.name,
        "margins": MARGINS,
        "title": breakable(title),
        "bars": bars_across(units),
        "gap": GAP,
        "words": WORDS,
    }
    entries = (_entry(answer, units, width) for answer in answers if answer.wanted)
    said = ({"first": SENTENCE, "part": part, "rows": _side_by_side(lot, width)} for part, lot in _in_parts(entries))
    write_parts(path, "catalogue.typ", (data | typeset(one) for one in said))


def _in_parts(entries: Iterator[dict[str, Any]]) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Yield profiles a part at a time, the only one even if it is empty, and which of them these are."""
    first = 1
    while (lot := list(islice(entries, PART))) or first == 1:
        last = first + len(lot) - 1
        yield counted(last) if last < PART else f"profiles {first:,} to {last:,}", lot
        first = last + 1
        if not lot:
            return


def _entry(answer: Answer, units: Units, width: float) -> dict[str, Any]:
    wide, high = answer.stock_mm
    scale = min(1.0, (width - 2 * ROUND) / wide, TALLEST / high)
    best = answer.best
    return {
        "name": breakable(visible(answer.profile)),
        "drawing": profile_drawing(answer, scale),
        "scale": "" if scale == 1.0 else f"not at 1:1: drawn at {scale:.3f} of its size",
        "lines": list(_lines(best, units)),
        "alarm": breakable(visible(alarm_of(best))),
        "note": breakable(visible(best.reason)) if best.within_tolerance else "",
    }


def _lines(row: Row, units: Units) -> Iterable[str]:
    if row.rank is None:
        return
    yield breakable(visible(blade_and_saw(row)))
    if row.fence_angle_deg is not None and row.blade_height_mm is not None and row.blade_tilt_deg is not None:
        tilted = f", tilted {row.blade_tilt_deg:.2f} deg" if row.blade_tilt_deg else ""
        yield f"fence {row.fence_angle_deg:.2f} deg, blade {units.length(row.blade_height_mm)} high{tilted}"
    off = "" if row.deviation_mm is None else f"within {units.fine(row.deviation_mm)}"
    if row.passes is not None and row.minutes is not None:
        off += f"; {row.passes} passes, {minutes(60 * row.minutes)} a piece"
    yield off


def _side_by_side(entries: list[dict[str, Any]], width: float) -> list[list[dict[str, Any]]]:
    """Return the profiles in rows of as many as stand side by side, in their order."""
    rows: list[list[dict[str, Any]]] = []
    taken = 2 * width
    for entry in entries:
        wide = max(entry["drawing"]["width"], WORDS)
        if taken + GAP + wide <= width:
            rows[-1].append(entry)
            taken += GAP + wide
        else:
            rows.append([entry])
            taken = wide
    return rows
