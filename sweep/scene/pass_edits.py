"""Passes as a page changes them: one between two, one less, even rises; the last height is the blade's."""

from __future__ import annotations

from typing import Any

from sweep.quantity import in_inches, read_quantity
from sweep.scene.places import value_at
from sweep.shown import MM_PER_INCH, inch_fraction
from sweep.tolerance import SAME_HEIGHT
from sweep.units import LENGTH, Units

FINEST_MM, FINEST_IN = 0.1, MM_PER_INCH / 64
"""Steps, mm, in which heights are proposed where they are written in mm and in inches."""


def change(passes: dict[str, Any], place: str, do: str) -> None:
    """Change a table of passes in place.

    Parameters
    ----------
    passes : dict
        With `heights`, as written.
    place : str
        ``.2`` for the third pass; empty for all.
    do : str
        ``add`` one before that pass, or above the last but one where none is named; ``remove`` it; ``even`` the rises
        of all but the last, which stays as light as it is.
    """
    heights, stop = passes["heights"], passes.get("stop")
    number = int(place[1:]) if place[1:].isdecimal() else len(heights) - 1
    if do == "even":
        passes["heights"] = _even(heights)
    elif do == "add" and 0 <= number < len(heights):
        heights.insert(number, _between(heights[number - 1] if number else None, heights[number]))
        if isinstance(stop, list) and len(stop) > 1:
            stop.insert(number, stop[min(number, len(stop) - 1)])
    elif do == "remove" and number < len(heights) and len(heights) > 1:
        del heights[number]
        if isinstance(stop, list) and len(stop) > 1:
            del stop[min(number, len(stop) - 1)]


def follow(data: dict[str, Any], path: str) -> None:
    """Keep the last height and the blade's height one value, in place, after an edit at a path.

    A blade set lower lets the passes above it fall away; set higher, the last pass takes the rest.
    """
    table, _, name = path.rpartition(".")
    if "heights" in path.split("."):
        passes_at = path.partition("heights")[0].rstrip(".")
        setup, passes = _setup_of(data, passes_at), value_at(data, passes_at)
        heights = passes.get("heights") if isinstance(passes, dict) else None
        if isinstance(setup, dict) and isinstance(heights, list) and heights:
            setup["blade_height"] = heights[-1]
    elif name == "blade_height" and table.partition(".")[0] in ("setup", "setups"):
        setup = value_at(data, table)
        if not isinstance(setup, dict):
            return
        passes = data.get("passes") if table == "setup" else setup.get("passes")
        if isinstance(passes, dict) and isinstance(passes.get("heights"), list) and "blade_height" in setup:
            _up_to(passes, setup["blade_height"])


def _setup_of(data: dict[str, Any], passes_at: str) -> Any:
    return data.get("setup") if passes_at == "passes" else value_at(data, passes_at.rpartition(".")[0])


def _up_to(passes: dict[str, Any], top: object) -> None:
    """Keep the heights that stay below a new last one, and let that one follow; stops go with their passes."""
    heights, stop = passes["heights"], passes.get("stop")
    if not heights or heights[-1] == top:
        return
    highest = _mm(top)
    below = [_mm(height) for height in heights[:-1]]
    if highest is None or None in below:
        return  # the sentence about a height comes when the scene is read
    kept = [text for text, mm in zip(heights, below, strict=False) if mm is not None and mm < highest - SAME_HEIGHT]
    passes["heights"] = [*kept, top]
    if isinstance(stop, list) and len(stop) > 1:
        passes["stop"] = [*stop[: len(kept)], stop[-1]]


def _between(low: object, high: object) -> Any:
    """Return a height half-way, on the step where one lies between; the upper one again where there is no room."""
    below, above = (0.0 if low is None else _mm(low)), _mm(high)
    if below is None or above is None:
        return high
    return _written((below + above) / 2, high, below, above)


def _even(heights: list[Any]) -> list[Any]:
    """Return heights of even rises, the last kept as it is, and its rise where that was the lightest."""
    mm = [_mm(height) for height in heights]
    if len(mm) < 3 or None in mm:
        return heights
    known = [height for height in mm if height is not None]
    top, count = known[-2], len(known) - 1
    even = [
        _written(top * k / count, heights[-1], top * (k - 1) / count, top * (k + 1) / count) for k in range(1, count)
    ]
    return [*even, *heights[-2:]]


def _written(mm: float, like: object, below: float, above: float) -> str:
    """Return a height in the notation of another, on the step of that notation where it stays between two others."""
    step = FINEST_IN if in_inches(like) else FINEST_MM
    stepped = round(mm / step) * step
    mm = stepped if below < stepped < above else mm
    return str(inch_fraction(mm)) if in_inches(like) else str(Units("mm").written(round(mm, 3)))


def _mm(text: object) -> float | None:
    try:
        return read_quantity(text, LENGTH)
    except ValueError:
        return None
