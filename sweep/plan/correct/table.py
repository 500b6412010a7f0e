"""What `sweep correct` would say after any pass, as a table that a phone at the saw reads without the program.

The page knows no formula of the trade: it looks up, interpolates straight between neighbours, and adds. How it reads
the table is written in `from_table.py`, line for line as a script would. Here is what the table holds. It is plain
data, fit for JSON: lengths are whole numbers of thousandths of a mm, angles are in degrees.

    heights       [p]     blade height of each pass, as it was meant
    top                   height of the last pass that remains: the set-up's, or less where the target is less deep
    half_step             half of the finest step in which a height is set: what is nearer to the top leaves no pass
    tolerance             how far the cove may be from the target
    closest               how far the cove lies off the target at most, cut to the top as it was meant
    stock_width
    meant_angle           fence angle, degrees;  meant_offset  where the stock's centreline is meant to run
    measured              standard deviation of a measured length, unless the maker says another
    set_height            of a height that is set and not measured;  set_angle  the same of the fence angle, degrees
    kerf_width            what one standard deviation of the kerf does to a width
    flat_sign             1 or -1: the offset is larger by so many times what a flat is wider than the table has it

    angles        [a]     fence angles, degrees, rising, the meant one among them
    depths        [d]     depths of the cove (which are heights of the blade), rising
    widths        [d][a]  width of the cove at the table; it rises with the angle
    flats         [d][a]  flat beside the cove at the fence, the offset as it was meant

    marks         [0 or 2] of the fence's face, each
        edge              "front", "rear", "left" or "right", where it is measured
        meant             where it belongs along that edge: to the right of the blade's plane, or beyond its centre
        now       [a]     where it stands along that edge at each fence angle, the offset as it was meant
        by_offset [a]     how much further it stands for an offset that is larger by 1
        alone     [a]     how far right of its place the cove comes to lie if this mark alone sets the angle right
        alone_by_offset [a]  how much further for an offset that is larger by 1

    off_angles    [i]     fence angles, degrees
    off_heights   [j]     blade heights, from well below the top to beyond it
    off_offsets   [k]     offsets less the meant one
    off           [i][j][k][s]  how far a cove so cut lies off the target at some places s along it; below 0 it goes
                          deeper than the target. The largest of all, signs left aside, is the deviation; the largest
                          below 0 is how far it goes beyond.

    left          [n][3]  a height up to which all is cut, rising; the heights of the passes that remain from there,
                          null where none keep within the limits; and how high one pass may reach from there. The last
                          row not above counts; how high one may reach lies on the line to the next. Of its heights
                          those above the cove's depth by half a step remain, or the last one where none is. That is so
                          where all is cut up to the depth but for `sliver`, and the first of them may be reached from
                          half way between, to half a step. Otherwise the passes begin again at the depth, where that
                          may be reached and is no higher than the top; else with those above the height up to which
                          all is cut
    sliver
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.errors import UnusableError
from sweep.plan.correct.measured import highest_looked_at, require_cove
from sweep.plan.correct.moves import moves_of_fence
from sweep.plan.correct.reach import ProfileWanted
from sweep.plan.correct.remaining import SLIVER, Remaining
from sweep.plan.grid import height_step
from sweep.plan.setting_errors import setting_errors
from sweep.scene.model import WholeScene
from sweep.shape.outline import edges, settings
from sweep.units import degrees

Array = NDArray[np.float64]

ANGLES = (-6.0, -4.0, -3.0, -2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0)
"""Degrees beside the fence angle that was meant: further off a fence is seen to be wrong. Between two of them a width
60 mm wide is within 0.01 mm of the straight line."""

DEPTHS = 41
"""Rows of depths, their square roots evenly apart: so the width is within 0.02 mm of the straight line."""

DEEPER = 1.5
"""mm. How far the depths go beyond the last pass."""

OFF_ANGLES = (-6.0, -3.0, -1.5, -0.5, 0.0, 0.5, 1.5, 3.0, 6.0)
OFF_HEIGHTS = (0.5, 0.7, 0.85, 0.95, 1.0)
"""Shares of the last height; above it stand two more, to `DEEPER`."""
OFF_OFFSETS = (-5.0, -2.0, -0.6, 0.0, 0.6, 2.0, 5.0)
STATIONS = 11
"""Places along the target; the cove's two edges are looked at as well."""


def correction_table(scene: WholeScene, beside: float) -> dict[str, Any] | None:
    """Return the table of a set-up; None of one whose cove tells nothing.

    Parameters
    ----------
    scene : WholeScene
    beside : float, mm
        Where the scene has no table: how far from the blade's centre the fence's marks are.
    """
    try:
        require_cove(scene)
    except UnusableError:
        return None
    setup, tool, tilt = scene.setup, scene.tool, scene.tilt
    wanted, errors = ProfileWanted(scene), setting_errors(scene)
    top = wanted.highest
    angles = _angles(scene, ANGLES)
    depths = _depths(scene)
    left, right = _edges(scene, angles, depths)
    half = scene.stock.width / 2
    near = setup.fence_side == "near"
    wider = edges(tool, settings(setup.fence_angle, tilt, setup.blade_height, 0.0, errors.kerf))
    return {
        "heights": _micrometres(scene.passes.heights),
        "top": _micrometres(top),
        "half_step": _micrometres(height_step(scene) / 2),
        "sliver": _micrometres(SLIVER),
        "tolerance": _micrometres(wanted.tolerance),
        "closest": _micrometres(wanted.deviation(setup.fence_angle, top, setup.offset)),
        "stock_width": _micrometres(scene.stock.width),
        "meant_angle": round(degrees(setup.fence_angle), 5),
        "meant_offset": _micrometres(setup.offset),
        "measured": _micrometres(scene.accuracy.measured),
        "set_height": _micrometres(errors.blade_height),
        "set_angle": round(degrees(errors.fence_angle), 5),
        "kerf_width": _micrometres(
            float((wider[1] - wider[0])[0] - wanted.width(setup.fence_angle, setup.blade_height)[0])
        ),
        "flat_sign": 1 if near else -1,
        "angles": [round(degrees(angle), 5) for angle in angles.tolist()],
        "depths": _micrometres(depths),
        "widths": _micrometres(right - left),
        "flats": _micrometres(half - right if near else half + left),
        "marks": _marks(scene, angles, beside),
        **_off(wanted, scene),
        "left": [
            [_micrometres(start), None if heights is None else _micrometres(heights), _micrometres(furthest)]
            for start, heights, furthest in Remaining(scene, top).rows()
        ],
    }


def _angles(scene: WholeScene, beside: tuple[float, ...]) -> Array:
    """Return fence angles about the one that was meant, rad, as far as the cove grows wider with them."""
    angles = scene.setup.fence_angle + np.radians(beside)
    angles = angles[(angles > math.radians(0.2)) & (angles < math.pi / 2)]
    left, right = _edges(scene, angles, np.array([0.5, 1.0]) * scene.setup.blade_height)
    rising: NDArray[np.bool_] = np.all(np.diff(right - left, axis=1) > 0, axis=0)
    here = int(np.argmin(np.abs(angles - scene.setup.fence_angle)))
    stops = np.flatnonzero(~rising)
    first = max((int(stop) + 1 for stop in stops if stop < here), default=0)
    last = min((int(stop) for stop in stops if stop >= here), default=len(rising))
    kept: Array = angles[first : last + 1]
    return kept


def _depths(scene: WholeScene) -> Array:
    low = max(0.05, scene.passes.heights[0] / 2)
    high = min(scene.setup.blade_height + DEEPER, highest_looked_at(scene.tool, scene.tilt))
    depths: Array = np.linspace(math.sqrt(low), math.sqrt(high), DEPTHS) ** 2
    return depths


def _edges(scene: WholeScene, angles: Array, depths: Array) -> tuple[Array, Array]:
    """Return where coves meet the table, y, (d, a) each, mm."""
    angle, depth = (axis.ravel() for axis in np.meshgrid(angles, depths))
    left, right = edges(scene.tool, settings(angle, scene.tilt, depth, scene.setup.offset))
    shape = len(depths), len(angles)
    return left.reshape(shape), right.reshape(shape)


def _marks(scene: WholeScene, angles: Array, beside: float) -> list[dict[str, Any]]:
    """Return the marks of the fence; none where it does not cross the same edges at all angles."""
    offset = scene.setup.offset
    meant = [moves_of_fence(scene, angle, offset, beside) for angle in angles.tolist()]
    moved = [moves_of_fence(scene, angle, offset + 1.0, beside) for angle in angles.tolist()]
    if not all(meant) or not all(moved):
        return []
    return [
        {
            "edge": meant[0][k].mark.edge,
            "meant": _micrometres(meant[0][k].mark.along_edge),
            "now": _micrometres([one[k].now for one in meant]),
            "by_offset": [round(one[k].now - own[k].now, 5) for one, own in zip(moved, meant, strict=True)],
            "alone": _micrometres([one[k].alone for one in meant]),
            "alone_by_offset": [round(one[k].alone - own[k].alone, 5) for one, own in zip(moved, meant, strict=True)],
        }
        for k in (0, 1)
    ]


def _off(wanted: ProfileWanted, scene: WholeScene) -> dict[str, Any]:
    setup = scene.setup
    angles = _angles(scene, OFF_ANGLES)
    highest = highest_looked_at(scene.tool, scene.tilt)
    above = [setup.blade_height + share * DEEPER for share in (1 / 3, 1.0)]
    heights = np.array([*(share * setup.blade_height for share in OFF_HEIGHTS), *above])
    heights = heights[heights < highest]
    grid = np.meshgrid(angles, heights, setup.offset + np.array(OFF_OFFSETS), indexing="ij")
    angle, height, offset = (axis.ravel() for axis in grid)
    off = wanted.off_at_stations(angle, height, offset, STATIONS)
    return {
        "off_angles": [round(degrees(angle), 5) for angle in angles.tolist()],
        "off_heights": _micrometres(heights),
        "off_offsets": _micrometres(OFF_OFFSETS),
        "off": _micrometres(off.reshape(*grid[0].shape, -1)),
    }


def _micrometres(mm: ArrayLike) -> Any:
    """Return lengths as whole numbers, thousandths of a mm, in lists as they came."""
    return np.rint(1000 * np.asarray(mm, float)).astype(int).tolist()
