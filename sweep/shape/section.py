"""The exact section of a cut, seen along the feed, as plane polygons.

A circle of radius r at axial offset a, tilted by beta, its centre at height zc, projects along the feed to

    u(p) = (zc tan beta + r sin p sin beta + a cos beta) cos theta - r cos p sin theta
    z(p) =  zc          + r sin p cos beta - a sin beta

With u' = u - z tan(beta) cos(theta), X = u' / sin(theta) and Z = z / cos(beta) that is the true circle of
radius r about (a cos(theta) / (cos(beta) sin(theta)), (zc - a sin(beta)) / cos(beta)). A band of the tool, a
frustum, projects to the convex hull of its two circles, and the tool to the union of its bands. This
derivation shares nothing with `solid.py`: the two check each other. The one door to shapely in `shape/`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon
from shapely.affinity import affine_transform, translate
from shapely.geometry.base import BaseGeometry

from sweep.shape.feed import StraightFeed
from sweep.shape.frame import centre_height
from sweep.shape.tool import Tool
from sweep.tolerance import AREA_NOTHING, BELOW_TABLE, FINE_CHORD, SAME_POINT

Figure: TypeAlias = BaseGeometry
"""A plane figure in (y, z), mm, stock frame: a polygon, several, or none."""


@dataclass(frozen=True)
class Plane:
    """The plane in which every circle of the tool projects to a true circle.

    Parameters
    ----------
    fence_angle, tilt : float, rad
    """

    fence_angle: float
    tilt: float

    def to_section(self, x: NDArray[np.float64], z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return points of this plane as (u, z), (n, 2), mm."""
        height = z * math.cos(self.tilt)
        u = x * math.sin(self.fence_angle) + height * math.tan(self.tilt) * math.cos(self.fence_angle)
        return np.column_stack([u, height])

    def circle(self, a: float, r: float, centre: float) -> tuple[float, float, float]:
        """Return (x, z, r) of one circle of the tool in this plane, mm."""
        x = a * math.cos(self.fence_angle) / (math.cos(self.tilt) * math.sin(self.fence_angle))
        return x, (centre - a * math.sin(self.tilt)) / math.cos(self.tilt), r


def cut_section(tool: Tool, feed: StraightFeed, tilt: float, blade_height: float, chord: float = FINE_CHORD) -> Figure:
    """Return the section that one through pass cuts, from a little below the table up.

    Parameters
    ----------
    tool, feed : Tool, StraightFeed
    tilt : float, rad
    blade_height : float, mm
    chord : float, mm
        The outline's vertices lie on the exact curve, the highest point among them; its chords fall
        inside by no more than this. At one chord it is the projection of the rim that `solid.py` hulls.

    Returns
    -------
    Figure
        In (y, z), mm, stock frame.
    """
    plane = Plane(feed.fence_angle, tilt)
    centre = centre_height(tool, tilt, blade_height)
    step = 2 * math.acos(1 - min(chord, tool.radius / 8) / tool.radius)
    floor = -BELOW_TABLE / math.cos(tilt)
    outlines: list[Figure] = []
    for band in tool.bands:
        circles = [plane.circle(a, r, centre) for a, r in band]
        reach = max(math.acos(min(1.0, max(-1.0, (floor - z) / r))) for _, z, r in circles)
        if reach == 0.0:
            continue  # this band stays below the table
        steps = math.ceil(reach / step)
        normals = math.pi / 2 + step * np.arange(-steps, steps + 1)
        x, z, r = np.array(circles).T[:, :, None]
        points = plane.to_section((x + r * np.cos(normals)).ravel(), (z + r * np.sin(normals)).ravel())
        points[:, 0] -= feed.offset
        outlines.append(LineString(points).convex_hull)  # quicker to make than points
    return outlines[0] if len(outlines) == 1 else shapely.union_all(outlines)


def stock_section(width: float, thickness: float) -> Figure:
    """Return the section of the planed stock."""
    return shapely.box(-width / 2, 0.0, width / 2, thickness)


def room_around(width: float, thickness: float) -> Figure:
    """Return the section of the planed stock and a little more on every side."""
    half = width / 2 + BELOW_TABLE
    return shapely.box(-half, -BELOW_TABLE, half, thickness + BELOW_TABLE)


def minus(figure: Figure, taken: Figure) -> Figure:
    """Return what is left of a figure."""
    return shapely.difference(figure, taken)


def within(figure: Figure, bounds: Figure) -> Figure:
    """Return the part of a figure that lies in another."""
    return shapely.intersection(figure, bounds)


def grown(figure: Figure, by: float) -> Figure:
    """Return everything within a distance of a figure, mm: its outline moved outwards, rounded about its corners."""
    return shapely.buffer(figure, by, quad_segs=16) if by > 0 else figure


def together(*outlines: NDArray[np.float64]) -> Figure:
    """Return the figure inside one or more outlines, (n, 2) mm each."""
    # where an arc begins just where another ended, rounding can make an outline touch itself
    return shapely.union_all([shapely.make_valid(Polygon(outline)) for outline in outlines])


def touches_itself(outline: NDArray[np.float64]) -> bool:
    """Return whether a closed outline, (n, 2) mm, crosses or touches itself, or runs to and fro on one line."""
    return not shapely.is_valid(Polygon(outline))


def alike(one: Figure, other: Figure, share: float) -> bool:
    """Return whether two figures differ by less than a share of their area, one moved or mirrored left to right."""
    places = []
    for figure, hand in ((one, 1), (other, 1), (other, -1)):
        mirrored = affine_transform(figure, [hand, 0, 0, 1, 0, 0])
        left, bottom, _, _ = mirrored.bounds
        places.append(translate(mirrored, -left, -bottom))
    apart = min(shapely.symmetric_difference(places[0], place).area for place in places[1:])
    return bool(apart < share * one.area)


def turned_over(figure: Figure, thickness: float, end_for_end: bool) -> Figure:
    """Return a figure cut in the stock turned over, as it lies in the stock turned back.

    Turned about its length, (y, z) comes to (-y, thickness - z); end for end, y stays and x runs the other way.
    """
    return affine_transform(figure, [1 if end_for_end else -1, 0, 0, -1, 0, thickness])


def parts(figure: Figure) -> list[Figure]:
    """Return the parts of a figure that do not hang together, but for specks."""
    return [part for part in shapely.get_parts(figure) if part.area > AREA_NOTHING]


def on_outline(points: NDArray[np.float64], figure: Figure) -> NDArray[np.bool_]:
    """Return which points lie on the outline of a figure, (n,)."""
    return np.asarray(shapely.distance(shapely.points(points), shapely.boundary(figure))) < SAME_POINT


def area(figure: Figure) -> float:
    """Return the area, mm2."""
    return float(figure.area)


Place = tuple[float, float]
"""A place on the table, (x, y), mm, machine frame."""


def touches_at_table(tool: Tool, feed: StraightFeed, tilt: float, blade_height: float) -> tuple[Place, Place] | None:
    """Return where straight lines along the feed touch the blade as it passes the table, or None when it does not.

    The line on the left comes first, looking along the feed. Where a line touches along a whole edge, one place of it.

    Notes
    -----
    In the plane of true circles the line on the table leaves the hull of two circles either on one of
    them, x +- sqrt(r^2 - z^2), or on a tangent to both that crosses the table between its points of touch.
    The circle at offset a passes the table along x = a / cos(tilt); a tangent touches both circles at one rim angle.
    """
    plane = Plane(feed.fence_angle, tilt)
    centre = centre_height(tool, tilt, blade_height)
    reached = []
    for (a1, r1), (a2, r2) in tool.bands:
        (x1, z1, _), (x2, z2, _) = plane.circle(a1, r1, centre), plane.circle(a2, r2, centre)
        for a, z, r in ((a1, z1, r1), (a2, z2, r2)):
            reached += [(a, side * math.sqrt(r * r - z * z)) for side in (1, -1) if abs(z) < r]
        apart = math.hypot(x2 - x1, z2 - z1)
        if apart <= abs(r1 - r2):
            continue  # one circle lies inside the other
        along, opening = math.atan2(z2 - z1, x2 - x1), math.acos((r1 - r2) / apart)
        for normal in (along - opening, along + opening):
            low, high = z1 + r1 * math.sin(normal), z2 + r2 * math.sin(normal)
            if min(low, high) < 0 < max(low, high):
                share = low / (low - high)
                radius = (1 - share) * r1 + share * r2
                reached.append(((1 - share) * a1 + share * a2, -radius * math.cos(normal)))
    if not reached:
        return None
    right, away = feed.across[:2].tolist()
    places = sorted((a / math.cos(tilt) * right + y * away, a / math.cos(tilt), y) for a, y in reached)
    return places[0][1:], places[-1][1:]


def edges_at_table(tool: Tool, feed: StraightFeed, tilt: float, blade_height: float) -> tuple[float, float] | None:
    """Return where a cut's two edges meet the table, y in mm, or None when it does not reach it: a closed form."""
    touches = touches_at_table(tool, feed, tilt, blade_height)
    if touches is None:
        return None
    right, away = feed.across[:2].tolist()
    first, last = (x * right + y * away - feed.offset for x, y in touches)
    return first, last


def height_of(figure: Figure) -> float:
    """Return the highest z of a figure, mm; 0 for an empty one."""
    return 0.0 if figure.is_empty else float(figure.bounds[3])


def sides_of(figure: Figure) -> tuple[float, float]:
    """Return the least and the greatest y of a figure that is not empty, mm."""
    return float(figure.bounds[0]), float(figure.bounds[2])


def rings(figure: Figure) -> list[NDArray[np.float64]]:
    """Return the outlines of a figure, holes among them, for `solid.prism`: (n, 2) mm each."""
    return [shapely.get_coordinates(ring)[:-1] for ring in shapely.get_rings(shapely.get_parts(figure))]
