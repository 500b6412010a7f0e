"""Passes as a page changes them: one between two, one less, even rises; the last height is the blade's."""

from __future__ import annotations

import re
from typing import Any

from sweep.quantity import in_inches, read_quantity
from sweep.scene.places import value_at
from sweep.scene.written import TurnWritten
from sweep.shown import MM_PER_INCH
from sweep.tolerance import SAME_HEIGHT
from sweep.units import LENGTH, Units

FINEST_MM, FINEST_IN = 0.1, MM_PER_INCH / 64
"""Steps, mm, in which heights are proposed where they are written in mm and in inches, unless the plan has its own."""

_A_FEED = re.compile(r"(.*passes)\.feeds\.\d+")


def change(passes: dict[str, Any], place: str, do: str, step: float | None) -> None:
    """Change a table of passes in place; stops and feeds go with their passes.

    Parameters
    ----------
    passes : dict
        With `heights`, as written.
    place : str
        ``.2`` for the third pass; empty for all.
    do : str
        ``add`` one before that pass, or above the last but one where none is named; ``remove`` it; ``even`` the rises
        of all but the last, which stays as light as it is; ``more`` or ``fewer``, one, with even rises.
    step : float or None, mm
        Of heights; None for the finest that is proposed.
    """
    heights = passes["heights"]
    number = int(place[1:]) if place[1:].isdecimal() else len(heights) - 1
    if do == "even":
        passes["heights"] = _even(heights, len(heights), step)
    elif do == "add" and 0 <= number < len(heights):
        heights.insert(number, _between(heights[number - 1] if number else None, heights[number], step))
        _with_it(passes, number, 1)
    elif do == "remove" and number < len(heights) and len(heights) > 1:
        del heights[number]
        _with_it(passes, number, -1)
    elif do == "more" or (do == "fewer" and len(heights) > 1):
        by = 1 if do == "more" else -1
        passes["heights"] = _even(heights, len(heights) + by, step)
        if len(passes["heights"]) != len(heights):
            _with_it(passes, max(0, len(heights) - 2), by)


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


def tell_feeds(data: dict[str, Any], path: str) -> None:
    """Write down the feed of every pass, in place, before that of one is changed at a path."""
    found = _A_FEED.fullmatch(path)
    passes = value_at(data, found[1]) if found else None
    if isinstance(passes, dict) and "feeds" not in passes and isinstance(passes.get("heights"), list):
        passes["feeds"] = feeds_of(passes)


def feeds_of(passes: dict[str, Any]) -> list[Any]:
    """Return the feed of every pass, as it is written."""
    feeds, feed = passes.get("feeds"), passes.get("feed_speed", "")
    if isinstance(feeds, list):
        return feeds
    return [feed] * (len(passes["heights"]) - 1) + [passes.get("last_feed_speed", feed)]


def step_in(data: dict[str, Any]) -> float | None:
    """Return the step of heights that a scene's tables ask for, mm; None where they ask for none."""
    lift, turn, step = (value_at(data, path) for path in ("saw.lift_per_turn", "plan.turn", "plan.round_to"))
    try:
        found = read_quantity(lift, LENGTH) * TurnWritten().read(turn) if turn else read_quantity(step, LENGTH)
    except ValueError:
        return None
    return found if found > SAME_HEIGHT else None


def step_as(step: float | None, like: object) -> tuple[float, str]:
    """Return a step of heights, mm or None for the finest, in the unit in which a height is written, and that unit."""
    inches = in_inches(like)
    step = step or (FINEST_IN if inches else FINEST_MM)
    return (round(step / MM_PER_INCH, 9), "in") if inches else (round(step, 9), "mm")


def _setup_of(data: dict[str, Any], passes_at: str) -> Any:
    return data.get("setup") if passes_at == "passes" else value_at(data, passes_at.rpartition(".")[0])


def _with_it(passes: dict[str, Any], number: int, by: int) -> None:
    """Let what is told of each pass go with one that is new at a place, or is gone from there."""
    for name in ("stop", "feeds"):
        told = passes.get(name)
        if isinstance(told, list) and len(told) > 1:
            place = min(number, len(told) - 1)
            if by > 0:
                told.insert(number, told[place])
            else:
                del told[place]


def _up_to(passes: dict[str, Any], top: object) -> None:
    """Keep the heights that stay below a new last one, and let that one follow; what is told of each goes with it."""
    heights = passes["heights"]
    if not heights or heights[-1] == top:
        return
    highest = _mm(top)
    below = [_mm(height) for height in heights[:-1]]
    if highest is None or None in below:
        return  # the sentence about a height comes when the scene is read
    kept = [text for text, mm in zip(heights, below, strict=False) if mm is not None and mm < highest - SAME_HEIGHT]
    passes["heights"] = [*kept, top]
    for name in ("stop", "feeds"):
        told = passes.get(name)
        if isinstance(told, list) and len(told) > 1:
            passes[name] = [*told[: len(kept)], told[-1]]


def _between(low: object, high: object, step: float | None) -> Any:
    """Return a height half-way, on the step where one lies between; the upper one again where there is no room."""
    below, above = (0.0 if low is None else _mm(low)), _mm(high)
    if below is None or above is None:
        return high
    return _written((below + above) / 2, high, below, above, step)


def _even(heights: list[Any], count: int, step: float | None) -> list[Any]:
    """Return so many heights of even rises, the last kept as it is, and its rise where that was the lightest."""
    mm = [_mm(height) for height in heights]
    if None in mm or (len(mm) < 3 and count == len(mm)):
        return heights
    known = [height for height in mm if height is not None]
    if count < 2 or len(known) < 3:  # there is no light last pass, or will be none
        top, many, kept = known[-1], count, heights[-1:]
    else:
        top, many, kept = known[-2], count - 1, heights[-2:]
    rises = [
        _written(top * k / many, heights[-1], top * (k - 1) / many, top * (k + 1) / many, step) for k in range(1, many)
    ]
    return [*rises, *kept]


def _written(mm: float, like: object, below: float, above: float, step: float | None) -> str:
    """Return a height in the notation of another, on the step where it stays between two others."""
    step = step or (FINEST_IN if in_inches(like) else FINEST_MM)
    stepped = round(mm / step) * step
    mm = stepped if below < stepped < above else mm
    return str(Units("in").written(mm)) if in_inches(like) else str(Units("mm").written(round(mm, 3)))


def _mm(text: object) -> float | None:
    try:
        return read_quantity(text, LENGTH)
    except ValueError:
        return None
