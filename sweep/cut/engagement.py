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
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.cut.passes import Pass
from sweep.scene.model import SetUpScene
from sweep.shape.frame import arbor_axis, blade_up, centre_height
from sweep.shape.section import Plane
from sweep.tolerance import ENGAGEMENT_ANGLES


@dataclass(frozen=True, eq=False)
class Edge:
    """One straight edge of a tooth, at many rim angles.

    Parameters
    ----------
    angles : (n,) float, rad
        Evenly spaced rim angles, each standing for a slice of `step`.
    step : float, rad
    thickness : (n,) float
        Uncut thickness for each unit of feed per tooth: -d . n, where it is positive.
    length : (n,) float, mm
        How much of the edge is in wood.
    lever : (n,) float, mm2
        The integral of the radius over that part: with the turning rate, its share of the speed.
    normal, motion, edge : (n, 3) float
        Outward normal, the way the tooth moves, and the way the edge runs, machine frame.
    grain : (n, 3) float
        Squares of the cosines of these three to the feed, along which the grain runs.
    hand : int or None
        0 or 1 where only the teeth bevelled to that hand cut; None where all do.
    side : bool
        Whether it is of the side edge, which faces the oncoming stock; else of the tip.
    """

    angles: NDArray[np.float64]
    step: float
    thickness: NDArray[np.float64]
    length: NDArray[np.float64]
    lever: NDArray[np.float64]
    normal: NDArray[np.float64]
    motion: NDArray[np.float64]
    edge: NDArray[np.float64]
    grain: NDArray[np.float64]
    hand: int | None = None
    side: bool = False

    @property
    def bites(self) -> int:
        """How many feeds per tooth lie between one tooth that cuts here and the next."""
        return 1 if self.hand is None else 2


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
        While the blade enters or leaves the stock only part of the edges has wood before it; of several
        travels every edge has all rim angles for the first, then for the second and so on; None for the steady middle.

    Returns
    -------
    list of Edge
    """
    tool, feed, tilt = scene.tool, scene.feed, scene.tilt
    plane = Plane(feed.fence_angle, tilt)
    centre = centre_height(tool, tilt, one.height)
    taken = []  # pairs of circles whose hulls hold no more wood
    if before is not None:
        low = centre_height(tool, tilt, before)
        taken = [tuple(plane.circle(a, r, low) for a, r in band) for band in tool.bands]

    sines = [(a * math.sin(tilt) - centre) / (r * math.cos(tilt)) for a, r in tool.profile]
    reach = max(math.acos(min(1.0, max(-1.0, sine))) for sine in sines)
    if reach == 0.0:
        return []
    step = 2 * reach / angles
    p = math.pi / 2 - reach + step * (np.arange(angles, dtype=float) + 0.5)
    if travel is not None:
        p, travel = np.tile(p, np.size(travel)), np.repeat(travel, angles)
    along = np.array([0.0, 1.0, 0.0])
    up, axis = blade_up(tilt), arbor_axis(tilt)
    radial = np.cos(p)[:, None] * along + np.sin(p)[:, None] * up
    motion = np.cos(p)[:, None] * up - np.sin(p)[:, None] * along

    edges = []
    for before, hand, ((a1, r1), (a2, r2)) in _outline(scene):
        run = math.hypot(a2 - a1, r2 - r1)
        if run == 0.0:
            continue
        normal = ((a2 - a1) * radial - (r2 - r1) * axis) / run
        thickness = np.maximum(0.0, -normal @ feed.direction)
        ends, stations = [], []
        for a, r in ((a1, r1), (a2, r2)):
            x, z, _ = plane.circle(a, 0.0, centre)
            ends.append(np.column_stack([x - r * np.cos(p), z + r * np.sin(p)]))
            stations.append((up * (centre / math.cos(tilt)) + a * axis + r * radial) @ feed.direction)
        # bands nearer the oncoming stock cut first; the side edge comes before them all
        ahead = [tuple(plane.circle(a, r, centre) for a, r in one) for one in tool.bands[: before or 0]]
        inside = _inside_stock(ends, plane, scene)
        if travel is not None:
            _keep_between(*inside, travel - stations[0], stations[0] - stations[1], 0.0, scene.stock.length)
        gone = [_inside_hull(ends, *pair) for pair in taken + ahead]
        length, middle = _left_over(inside, gone)
        in_wood = np.where(thickness > 0.0, length, 0.0)
        runs = ((a2 - a1) * axis + (r2 - r1) * radial) / run
        cosines = np.column_stack([way @ feed.direction for way in (normal, motion, runs)])
        edges.append(
            Edge(
                angles=p,
                step=step,
                thickness=thickness,
                length=in_wood * run,
                lever=np.where(in_wood > 0.0, r1 * length + (r2 - r1) * middle, 0.0) * run,
                normal=normal,
                motion=motion,
                edge=runs,
                grain=cosines**2,
                hand=hand,
                side=before is None,
            )
        )
    return edges


def _outline(scene: SetUpScene) -> list[tuple[int | None, int | None, Band]]:
    """Return the edges of the teeth: how many bands lie before each, None of the side edge; the hand; both ends."""
    blade, bands = scene.blade, scene.tool.bands
    a, r = scene.tool.profile[0]
    if blade.bevel is None or blade.kerf is None:  # flat tips, or a shaped cutter
        return [(None, None, ((a, 0.0), (a, r))), *((before, None, band) for before, band in enumerate(bands))]
    both = max(0.0, r - blade.kerf * math.tan(blade.bevel))
    sides = [(None, None, ((a, 0.0), (a, both))), (None, 0, ((a, both), (a, r)))]
    return [*sides, *((hand, hand, band) for hand, band in enumerate(bands))]


Array = NDArray[np.float64]

Band = tuple[tuple[float, float], tuple[float, float]]

Intervals = tuple[NDArray[np.float64], NDArray[np.float64]]
"""First and last parameter, 0 to 1 along each piece; empty where the last is not beyond the first."""


def _inside_stock(ends: list[NDArray[np.float64]], plane: Plane, scene: SetUpScene) -> Intervals:
    """Return which part of each straight piece lies in the section of the planed stock."""
    low, high = (plane.to_section(end[:, 0], end[:, 1]) for end in ends)
    low[:, 0] -= scene.feed.offset
    high[:, 0] -= scene.feed.offset
    first, last = np.zeros(len(low)), np.ones(len(low))
    half = scene.stock.width / 2
    for axis, least, most in ((0, -half, half), (1, 0.0, scene.stock.thickness)):
        _keep_between(first, last, low[:, axis], high[:, axis] - low[:, axis], least, most)
    return first, last


def _keep_between(first: Array, last: Array, start: Array, run: Array, least: float, most: float) -> None:
    """Narrow intervals, in place, to where start + run t lies between two values."""
    _keep(first, last, start - least, run)
    _keep(first, last, most - start, -run)


def _keep(
    first: NDArray[np.float64], last: NDArray[np.float64], value: NDArray[np.float64], slope: NDArray[np.float64]
) -> None:
    """Narrow intervals, in place, to where value + slope t is not negative."""
    rising, falling = slope > 0, slope < 0
    root = np.divide(-value, slope, out=np.zeros_like(value), where=rising | falling)
    np.maximum(first, root, out=first, where=rising)
    np.minimum(last, root, out=last, where=falling)
    last[~(rising | falling) & (value < 0)] = -1.0


def _inside_hull(
    ends: list[NDArray[np.float64]], one: tuple[float, float, float], two: tuple[float, float, float]
) -> Intervals:
    """Return which part of each straight piece lies in the hull of two circles.

    The hull is the two circles and, between their outer tangents, a quadrilateral. A straight line
    meets it in one interval, from the first to the last meeting with any of the three.
    """
    start, run = ends[0], ends[1] - ends[0]
    firsts, lasts = [], []
    for x, z, r in (one, two):
        offset = start - (x, z)
        square = np.maximum(np.einsum("ij,ij->i", run, run), 1e-30)  # fed square, a top edge projects to a point
        half = np.einsum("ij,ij->i", offset, run)
        inside = half**2 - square * (np.einsum("ij,ij->i", offset, offset) - r * r)
        root = np.sqrt(np.maximum(inside, 0.0))
        hit = inside > 0.0
        firsts.append(np.where(hit, (-half - root) / square, np.inf))
        lasts.append(np.where(hit, (-half + root) / square, -np.inf))
    gap = np.array([two[0] - one[0], two[1] - one[1]])
    apart = float(np.hypot(*gap))
    if apart > abs(one[2] - two[2]):
        along, side = gap / apart, np.array([-gap[1], gap[0]]) / apart
        cosine = (one[2] - two[2]) / apart
        sine = math.sqrt(1 - cosine * cosine)
        first, last = np.full(len(start), -np.inf), np.full(len(start), np.inf)
        centre = start - (one[0], one[1])
        for hand in (-1, 1):  # within both tangents
            normal = cosine * along + hand * sine * side
            _keep(first, last, one[2] - centre @ normal, -run @ normal)
        # and between the chords that join the points of touch of each circle
        _keep(first, last, centre @ along - one[2] * cosine, run @ along)
        _keep(first, last, apart + two[2] * cosine - centre @ along, -run @ along)
        hit = last > first
        firsts.append(np.where(hit, first, np.inf))
        lasts.append(np.where(hit, last, -np.inf))
    return np.minimum.reduce(firsts), np.maximum.reduce(lasts)


def _left_over(inside: Intervals, gone: list[Intervals]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the measure of what is inside and not gone, and the integral of t over it."""
    first, last = inside
    last = np.maximum(first, last)
    measure, moment = last - first, (last**2 - first**2) / 2
    if not gone:
        return measure, moment
    starts = np.clip(np.column_stack([f for f, _ in gone]), first[:, None], last[:, None])
    stops = np.clip(np.column_stack([s for _, s in gone]), first[:, None], last[:, None])
    stops = np.maximum(starts, stops)
    order = np.argsort(starts, axis=1)
    starts, stops = np.take_along_axis(starts, order, 1), np.take_along_axis(stops, order, 1)
    covered = np.maximum.accumulate(stops, axis=1)
    starts[:, 1:] = np.maximum(starts[:, 1:], covered[:, :-1])
    stops = np.maximum(starts, stops)
    return (
        np.maximum(0.0, measure - (stops - starts).sum(axis=1)),
        np.maximum(0.0, moment - ((stops**2 - starts**2) / 2).sum(axis=1)),
    )
