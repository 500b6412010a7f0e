"""Where each edge of the teeth meets wood, rim angle by rim angle, and how thick a shaving it takes there.

At rim angle p an edge of the tooth's outline is a straight piece, and it projects along the feed to a
straight piece of the section plane. Of that piece, the part in wood lies inside the stock, outside what earlier
passes took, and outside what bands nearer the oncoming stock take first. In the plane in which the tool's circles are
true circles all of these are convex, so the part is found exactly.

With n the outward normal of the surface that the edge sweeps and d the feed, the uncut thickness is
f (-d . n): f cos(theta) |cos p| on a top edge and f sin(theta) on the side edge, untilted.

Teeth bevelled alternately stand proud on their own side. So only every second tooth cuts in half the tip and in the
topmost k tan(bevel) of the side edge, and takes twice the thickness there. Every tooth cuts in the rest of the side
edge. `tests/teeth.py` steps such teeth through wood one by one and finds the same.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sweep.cut.blank import wood_section
from sweep.cut.in_wood import (
    Array,
    Ends,
    Intervals,
    in_hull,
    in_rectangle,
    in_rings,
    keep_between,
    left_over,
    under_line,
)
from sweep.cut.passes import Pass
from sweep.scene.model import SetUpScene
from sweep.shape import section
from sweep.shape.frame import arbor_axis, blade_up, centre_height
from sweep.shape.plane import EdgeOn, Plane
from sweep.tolerance import ENGAGEMENT_ANGLES, ENGAGEMENT_CHORD


@dataclass(frozen=True, eq=False)
class Edge:
    """One straight edge of a tooth, at the rim angles at which it is in wood.

    Parameters
    ----------
    place : (k,) int
        Which rim angle: of all of the first pass or travel, then of the next.
    turn : (k,) int
        Which pass or travel.
    angles : (k,) float, rad
        The rim angles.
    step : (k,) float, rad
        For how much of the rim each stands.
    thickness : (k,) float
        Uncut thickness for each unit of feed per tooth: -d . n, which is positive.
    length : (k,) float, mm
        How much of the edge is in wood.
    lever : (k,) float, mm2
        The integral of the radius over that part: with the turning rate, its share of the speed.
    run : (float, float)
        The way the edge runs: along the arbor, and outwards.
    tilt : float, rad
    feed : (3,) float
        Along which the grain runs; machine frame.
    hand : int or None
        0 or 1 where only the teeth bevelled to that hand cut; None where all do.
    side : bool
        Whether it is of the side edge, which faces the oncoming stock; else of the tip.
    """

    place: NDArray[np.intp]
    turn: NDArray[np.intp]
    angles: NDArray[np.float64]
    step: NDArray[np.float64]
    thickness: NDArray[np.float64]
    length: NDArray[np.float64]
    lever: NDArray[np.float64]
    run: tuple[float, float]
    tilt: float
    feed: NDArray[np.float64]
    hand: int | None = None
    side: bool = False

    @property
    def bites(self) -> int:
        """How many feeds per tooth lie between one tooth that cuts here and the next."""
        return 1 if self.hand is None else 2

    @cached_property
    def cos(self) -> NDArray[np.float64]:
        """Cosines of the rim angles, (k,)."""
        return np.cos(self.angles)

    @cached_property
    def sin(self) -> NDArray[np.float64]:
        """Sines of the rim angles, (k,)."""
        return np.sin(self.angles)

    @cached_property
    def grain(self) -> NDArray[np.float64]:
        """Squares of the cosines to the grain, (k, 3): of the outward normal, the tooth's motion and the edge."""
        onward, upward = float(self.feed[1]), float(blade_up(self.tilt) @ self.feed)
        axial, (along, outward) = float(arbor_axis(self.tilt) @ self.feed), self.run
        radial = onward * self.cos + upward * self.sin
        motion = upward * self.cos - onward * self.sin
        ways = along * radial - outward * axial, motion, along * axial + outward * radial
        return np.column_stack(ways) ** 2

    def summed(self, each: NDArray[np.float64], count: int) -> NDArray[np.float64]:
        """Return the sums of one value a rim angle, (k,), over each of so many passes or travels, (count,)."""
        return np.asarray(np.bincount(self.turn, each, minlength=count), np.float64)


def engaged_edges(
    scene: SetUpScene,
    one: Pass,
    before: float | None,
    angles: int = ENGAGEMENT_ANGLES,
    travel: float | NDArray[np.float64] | None = None,
) -> list[Edge]:
    """Return the edges of the teeth that cut, in the steady middle of a pass or at one travel.

    Parameters
    ----------
    scene : SetUpScene
    one : Pass
    before : float or None, mm
        The greatest height of an earlier pass over the same wood; None for the first.
    angles : int
        How many rim angles to look at, over the part of the rim above the table.
    travel : float, (n,) float or None, mm
        While the blade enters or leaves the stock only part of the edges has wood before it; None for the steady
        middle.

    Returns
    -------
    list of Edge
    """
    return edges_of_passes(scene, [one.height], [before], angles, travel)


def edges_of_passes(
    scene: SetUpScene,
    heights: Sequence[float],
    befores: Sequence[float | None],
    angles: int = ENGAGEMENT_ANGLES,
    travel: float | NDArray[np.float64] | None = None,
) -> list[Edge]:
    """Return what `engaged_edges` does, of several passes at once.

    Parameters
    ----------
    scene : SetUpScene
    heights : sequence of float, mm
        Of the passes.
    befores : sequence of float or None, mm
        For each the greatest height of an earlier pass; None where there was none.
    angles, travel
        As there; a travel is that of a single pass.
    """
    tool, feed, tilt = scene.tool, scene.feed, scene.tilt
    seen = _EdgeOn(scene) if feed.along_blade else _Oblique(scene)
    centres = np.array([centre_height(tool, tilt, height) for height in heights])
    reaches = np.array([_reach(scene, centre) for centre in centres.tolist()])
    if not reaches.any():
        return []
    steps = 2 * reaches / angles
    all_angles = ((math.pi / 2 - reaches)[:, None] + steps[:, None] * (np.arange(angles) + 0.5)).ravel()
    lows = None
    if any(before is not None for before in befores):  # a blade that stands at the table takes nothing
        lows = np.array([centre_height(tool, tilt, before or 0.0) for before in befores])
    up, axis = blade_up(tilt), arbor_axis(tilt)
    onward, upward, axial = float(feed.direction[1]), float(up @ feed.direction), float(axis @ feed.direction)
    radial = onward * np.cos(all_angles) + upward * np.sin(all_angles)  # how far along the feed the radius points

    found: list[Edge] = []
    for bands_before, hand, ((a1, r1), (a2, r2)) in _outline(scene):
        run = math.hypot(a2 - a1, r2 - r1)
        if run == 0.0:
            continue
        thickness = ((r2 - r1) * axial - (a2 - a1) * radial) / run
        place = np.flatnonzero(thickness > 0.0)
        turn, p = place // angles, all_angles[place]
        centre = centres[turn]
        ends = seen.point(a1, r1, p, centre), seen.point(a2, r2, p, centre)
        across = tuple(seen.plane.to_section(*end.T) - (feed.offset, 0.0) for end in ends)
        inside = _wood_along((across[0], across[1]), scene)
        rows = np.flatnonzero(np.logical_or.reduce([last > first for first, last in inside]))  # the others end here
        place, turn, p, centre = place[rows], turn[rows], p[rows], centre[rows]
        ends, inside = (ends[0][rows], ends[1][rows]), _of(inside, rows)
        # bands nearer the oncoming stock cut first; the side edge comes before them all
        ahead = [] if feed.along_blade else tool.bands[: bands_before or 0]
        gone = [seen.taken_by(band, ends, centre) for band in ahead]
        if lows is not None:
            gone += [seen.taken_by(band, ends, lows[turn]) for band in tool.bands]
        if travel is not None:  # what lies in the section at all is the same at every travel
            middle = centre / math.cos(tilt) * upward
            stations = [middle + a * axial + r * radial[place] for a, r in ((a1, r1), (a2, r2))]
            turn, rows = (side.ravel() for side in np.indices((np.size(travel), len(place))))
            place, p, inside, gone = turn * angles + place[rows], p[rows], _of(inside, rows), _of(gone, rows)
            start, slope = np.ravel(travel)[turn] - stations[0][rows], (stations[0] - stations[1])[rows]
            for span in inside:
                keep_between(*span, start, slope, 0.0, scene.stock.length)
        length, moment = left_over(inside, gone)
        rows = np.flatnonzero(length > 0.0)
        place, length = place[rows], length[rows]
        found.append(
            Edge(
                place=place,
                turn=turn[rows],
                angles=p[rows],
                step=steps[turn[rows]] if travel is None else np.full(len(rows), steps[0]),
                thickness=thickness[place % len(thickness)],
                length=length * run,
                lever=(r1 * length + (r2 - r1) * moment[rows]) * run,
                run=((a2 - a1) / run, (r2 - r1) / run),
                tilt=tilt,
                feed=feed.direction,
                hand=hand,
                side=bands_before is None,
            )
        )
    return found


def _of(spans: list[Intervals], rows: NDArray[np.intp]) -> list[Intervals]:
    return [(first[rows], last[rows]) for first, last in spans]


def _reach(scene: SetUpScene, centre: float) -> float:
    """Return how far either way from the top some circle of the tool is above the table, rad."""
    tilt = scene.tilt
    sines = [(a * math.sin(tilt) - centre) / (r * math.cos(tilt)) for a, r in scene.tool.profile]
    return max(math.acos(min(1.0, max(-1.0, sine))) for sine in sines)


def _outline(scene: SetUpScene) -> list[tuple[int | None, int | None, Band]]:
    """Return the edges of the teeth: how many bands lie before each, None of the side edge; the hand; both ends."""
    blade, bands = scene.blade, scene.tool.bands
    a, r = scene.tool.profile[0]
    if blade.bevel is None or blade.kerf is None:  # flat tips, or a shaped cutter
        return [(None, None, ((a, 0.0), (a, r))), *((before, None, band) for before, band in enumerate(bands))]
    both = max(0.0, r - blade.kerf * math.tan(blade.bevel))
    sides = [(None, None, ((a, 0.0), (a, both))), (None, 0, ((a, both), (a, r)))]
    return [*sides, *((hand, hand, band) for hand, band in enumerate(bands))]


Band = tuple[tuple[float, float], tuple[float, float]]


def _wood_along(ends: Ends, scene: SetUpScene) -> list[Intervals]:
    """Return which parts of straight pieces, seen along the feed, lie in the wood that the set-up begins with."""
    stock = scene.stock
    if stock.blank is None:
        return in_rectangle(ends, stock.width / 2, stock.thickness)
    return in_rings(ends, section.rings(wood_section(stock, ENGAGEMENT_CHORD)))


class _Oblique:
    """A feed at an angle to the blade, in the plane of true circles: a band takes the hull of its two circles."""

    def __init__(self, scene: SetUpScene) -> None:
        self.plane = Plane(scene.feed.fence_angle, scene.tilt)

    def point(self, a: float, r: float, p: Array, centre: Array) -> Array:
        """Return a point of the tooth at rim angles, each with the centre's height, (n, 2)."""
        x, z, _ = self.plane.circle(a, 0.0, 0.0)
        return np.column_stack([x - r * np.cos(p), z + _raised(self.plane.tilt, centre) + r * np.sin(p)])

    def taken_by(self, band: Band, ends: Ends, centre: Array) -> Intervals:
        """Return which part of straight pieces a band of the tool takes, at the centre's height beside each piece."""
        one, two = (self.plane.circle(a, r, 0.0) for a, r in band)
        return in_hull(_lowered(ends, _raised(self.plane.tilt, centre)), one, two)


class _EdgeOn:
    """A feed along the blade, in the plane of the arbor and the way up: a band takes all below its edge."""

    def __init__(self, scene: SetUpScene) -> None:
        self.plane = EdgeOn(scene.tilt)

    def point(self, a: float, r: float, p: Array, centre: Array) -> Array:
        """Return a point of the tooth at rim angles, each with the centre's height, (n, 2)."""
        return np.column_stack([np.full(len(p), a), _raised(self.plane.tilt, centre) + r * np.sin(p)])

    def taken_by(self, band: Band, ends: Ends, centre: Array) -> Intervals:
        """Return which part of straight pieces a band of the tool takes, at the centre's height beside each piece."""
        one, two = ((a, float(self.plane.top(r, 0.0))) for a, r in band)
        return under_line(_lowered(ends, _raised(self.plane.tilt, centre)), one, two)


def _raised(tilt: float, centre: Array) -> Array:
    """Return how much higher all of the tool lies, in either plane, for the height of its centre."""
    return centre / math.cos(tilt)


def _lowered(ends: Ends, by: Array) -> Ends:
    """Return pieces as seen from a tool whose centre is at the table: a band then takes the same at every height."""
    down = np.column_stack([np.zeros(len(by)), by])
    return ends[0] - down, ends[1] - down
