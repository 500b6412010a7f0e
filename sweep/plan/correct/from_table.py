"""The answers of `sweep correct`, read from the table that a phone carries (`table.py`): looked up, not worked out.

This is how the page's script reads it, step by step: numbers and lists alone, no library, no formula of the trade. A
test holds these answers to those of `correction.py`. Lengths are in thousandths of a mm, angles in degrees, as they are
in the table.

Measured more than once after one pass, a size is the mean, and its accuracy that of one divided by the square root of
how often. What was not measured is None. Where a measurement lies outside the table there is no answer, but None: the
cove is further off than the table reaches, or was measured after another pass.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, TypeAlias

from sweep.tolerance import IN_95

Spot: TypeAlias = tuple[int, float]
"""A place among rising numbers: which of them is next below, and how far on towards the one above, 0 to 1."""


def answer(
    table: dict[str, Any],
    number: int,
    width: float | None,
    depth: float | None,
    flat: float | None,
    accuracy: tuple[float, float, float],
) -> dict[str, Any] | None:
    """Return what measurements after one pass tell.

    Parameters
    ----------
    table : dict
        See `table.py`.
    number : int
        The pass, from 1.
    width, depth, flat : float or None
    accuracy : (float, float, float)
        Standard deviations of the three.

    Returns
    -------
    dict or None
        ``angle``, ``height``, ``offset``: value, half of the 95 % interval (None where it is not told), and whether it
        may be as it was meant; ``marks``: for each, how far it is to be moved and what it does alone; ``end``: width,
        depth and deviation if nothing is moved; ``in_reach``, ``out_from``, ``perhaps_from``; ``start`` and ``passes``.
    """
    set_to = table["heights"][number - 1]
    height = set_to if depth is None else depth
    height_error = table["set_height"] if depth is None else accuracy[1]
    found = _angle(table, width, height, math.hypot(accuracy[0], table["kerf_width"]), height_error)
    if found is None:
        return None
    angle, angle_error = found
    own_flat = _in_grid(table["flats"], table, height, angle)
    if own_flat is None:
        return None
    shift = 0.0 if flat is None else table["flat_sign"] * (flat - own_flat)
    shift_error = None if flat is None else _flat_error(table, width, height, angle, accuracy, height_error)
    end = table["heights"][-1] + height - set_to
    end_width, end_off = _in_grid(table["widths"], table, end, angle), _off(table, angle, end, shift)
    top = max(end, table["top"])
    if end_width is None or end_off is None:
        return None
    halves = [IN_95 * (angle_error if width is not None else 0.0), IN_95 * (shift_error or 0.0)]
    corners = [_out_from(table, angle + a, shift + b) for a in (-halves[0], halves[0]) for b in (-halves[1], halves[1])]
    out_from = _out_from(table, angle, shift)
    perhaps = min([out_from, *corners])
    start, beyond = _cut_up_to(table, angle, height, shift), max(0.0, _beyond(table, angle, height, shift))
    return {
        "angle": _told(angle, table["meant_angle"], angle_error if width is not None else None),
        "height": _told(height, set_to, accuracy[1] if depth is not None else None),
        "offset": _told(table["meant_offset"] + shift, table["meant_offset"], shift_error),
        "marks": [_moved(table, mark, angle, shift) for mark in table["marks"]],
        "end": {"width": end_width, "depth": end, "deviation": max(abs(off) for off in end_off)},
        "beyond": beyond,
        "closest": max(beyond, table["closest"]),
        "in_reach": height <= out_from,
        "out_from": out_from if out_from < top else None,
        "perhaps_from": perhaps if perhaps < top else None,
        "start": start,
        "passes": _passes(table, start, height),
    }


def _angle(
    table: dict[str, Any], width: float | None, height: float, width_error: float, height_error: float
) -> tuple[float, float] | None:
    """Return the fence angle and its standard deviation, degrees."""
    if width is None:
        return table["meant_angle"], table["set_angle"]
    here = _angle_of(table, width, height)
    if here is None:
        return None
    by_width = _slope(lambda by: _angle_of(table, width + by, height), width_error)
    by_height = _slope(lambda by: _angle_of(table, width, height + by), height_error)
    return here, math.hypot(by_width, by_height)


def _flat_error(
    table: dict[str, Any],
    width: float | None,
    height: float,
    angle: float,
    accuracy: tuple[float, float, float],
    height_error: float,
) -> float:
    """Return the standard deviation of the offset: of the flat, and of the cove's edge for what else was measured."""

    def edge(width_by: float, height_by: float, angle_by: float) -> float | None:
        at = angle + angle_by if width is None else _angle_of(table, width + width_by, height + height_by)
        return None if at is None else _in_grid(table["flats"], table, height + height_by, at)

    by_width = _slope(lambda by: edge(by, 0.0, 0.0), accuracy[0]) if width is not None else 0.0
    by_height = _slope(lambda by: edge(0.0, by, 0.0), height_error)
    by_angle = _slope(lambda by: edge(0.0, 0.0, by), table["set_angle"]) if width is None else 0.0
    return math.hypot(accuracy[2], by_width, by_height, by_angle)


def _slope(of: Callable[[float], float | None], error: float) -> float:
    """Return how much something changes for one standard deviation: the mean of both ways, one at the table's end."""
    less, here, more = of(-error), of(0.0), of(error)
    if less is not None and more is not None:
        return abs(more - less) / 2
    other = more if less is None else less
    return 0.0 if other is None or here is None else abs(other - here)


def _told(value: float, meant: float, error: float | None) -> dict[str, Any]:
    half = None if error is None else IN_95 * error
    return {"value": value, "half": half, "as_meant": half is None or abs(value - meant) <= half}


def _angle_of(table: dict[str, Any], width: float, height: float) -> float | None:
    """Return the fence angle of a width at a depth."""
    spot = _spot(table["depths"], height)
    if spot is None:
        return None
    widths = [_along([row[k] for row in table["widths"]], spot) for k in range(len(table["angles"]))]
    at = _spot(widths, width)
    return None if at is None else _along(table["angles"], at)


def _in_grid(grid: Any, table: dict[str, Any], height: float, angle: float) -> float | None:
    """Return a figure of the grid of depths and angles."""
    down, across = _spot(table["depths"], height), _spot(table["angles"], angle)
    if down is None or across is None:
        return None
    return _along([_along(grid[down[0]], across), _along(grid[down[0] + 1], across)], (0, down[1]))


def _moved(table: dict[str, Any], mark: dict[str, Any], angle: float, shift: float) -> dict[str, Any]:
    """Return how far a mark is to be moved along its edge, and where the cove comes to lie if it alone is."""
    across = _spot(table["angles"], angle)
    assert across is not None  # the angle is from the table
    now = _along(mark["now"], across) + shift * _along(mark["by_offset"], across)
    alone = _along(mark["alone"], across) + shift * _along(mark["alone_by_offset"], across)
    return {"edge": mark["edge"], "by": mark["meant"] - now, "alone": alone}


def _off(table: dict[str, Any], angle: float, height: float, shift: float) -> list[float] | None:
    """Return how far a cove lies off the target at some places."""
    spots = [
        _spot(table[nodes], value)
        for nodes, value in (("off_angles", angle), ("off_heights", height), ("off_offsets", shift))
    ]
    if any(spot is None for spot in spots):
        return None
    (i, a), (j, b), (k, c) = (spot for spot in spots if spot is not None)
    found = []
    for s in range(len(table["off"][0][0][0])):
        corners = [
            (a if di else 1 - a) * (b if dj else 1 - b) * (c if dk else 1 - c) * table["off"][i + di][j + dj][k + dk][s]
            for di in (0, 1)
            for dj in (0, 1)
            for dk in (0, 1)
        ]
        found.append(sum(corners))
    return found


def _beyond(table: dict[str, Any], angle: float, height: float, shift: float) -> float:
    """Return how far a cove goes beyond the target, less than 0 where it does not; outside the table as at its ends."""
    nodes = ((angle, table["off_angles"]), (height, table["off_heights"]), (shift, table["off_offsets"]))
    angle, height, shift = (min(max(value, rising[0]), rising[-1]) for value, rising in nodes)
    return -min(_off(table, angle, height, shift) or [0.0])


def _out_from(table: dict[str, Any], angle: float, shift: float) -> float:
    """Return the height from which a cove goes beyond the target by more than the tolerance; the last one if never."""
    before = None
    for height in table["off_heights"]:
        beyond = _beyond(table, angle, height, shift)
        if beyond > table["tolerance"]:
            if before is None:
                return float(height)
            low, less = before
            return float(low + (height - low) * (table["tolerance"] - less) / (beyond - less))
        before = height, beyond
    return float(table["off_heights"][-1])


def _cut_up_to(table: dict[str, Any], angle: float, height: float, shift: float) -> float:
    """Return up to which height the fence put right takes nothing that the cove has not taken."""
    flat, width = (_in_grid(table[name], table, height, angle) for name in ("flats", "widths"))
    meant = _spot(table["angles"], table["meant_angle"])
    assert flat is not None and width is not None and meant is not None  # both are from the table
    near = flat + table["flat_sign"] * shift
    far = table["stock_width"] - width - near
    flats = [_along(row, meant) for row in table["flats"]]
    fars = [table["stock_width"] - _along(row, meant) - own for row, own in zip(table["widths"], flats, strict=True)]
    reached = [height]
    for now, falling in ((near, flats), (far, fars)):
        at = _spot([-flat for flat in falling], -now)
        if at is not None:
            reached.append(_along(table["depths"], at))
        elif now > falling[0]:
            reached.append(0.0)
    return float(min(reached))


def _passes(table: dict[str, Any], start: float, height: float) -> list[dict[str, float]] | None:
    """Return the passes that remain: the height of each, how far it rises, and the cove's width after it."""
    if start > table["top"] - table["half_step"]:
        return []
    heights = next(row[1] for row in reversed(table["left"]) if row[0] <= start + 1)
    if heights is None:
        return None
    above = [one for one in heights if one > height + table["half_step"] or one == table["top"]]
    if height - start <= table["sliver"] and above[0] <= _furthest(table, (start + height) / 2) + table["half_step"]:
        left = above
    elif start + 1 < height <= min(_furthest(table, start), table["top"]):
        left = [height, *above]
    else:
        left = [one for one in heights if one > start + 1]
    passes: list[dict[str, float]] = []
    before = height
    for one in left:
        width = _in_grid(table["widths"], table, one, table["meant_angle"]) or 0.0
        passes.append({"height": one, "rise": one - before, "width": width})
        before = one
    return passes


def _furthest(table: dict[str, Any], start: float) -> float:
    """Return how high one pass may reach from a height."""
    on, reached = _spot([row[0] for row in table["left"]], start), [row[2] for row in table["left"]]
    return float(reached[-1]) if on is None else _along(reached, on)


def _spot(rising: Any, value: float) -> Spot | None:
    """Return where a value lies among rising numbers; None where it lies beyond them."""
    for k in range(len(rising) - 1):
        if rising[k] <= value <= rising[k + 1]:
            apart = rising[k + 1] - rising[k]
            return k, (value - rising[k]) / apart if apart > 0 else 0.0
    return None


def _along(values: Any, spot: Spot) -> float:
    """Return what stands at a place among values."""
    k, on = spot
    return float((1 - on) * values[k] + on * values[k + 1])
