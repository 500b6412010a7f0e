"""The exact section of a cut, seen along the feed, as plane polygons.

In the planes of `plane.py` a band of the tool, a frustum, is the convex hull of its two circles, or what lies between
two straight lines where the tool is seen edge on; the tool is the union of its bands. This derivation shares nothing
with `solid.py`: the two check each other. The one door to shapely in `shape/`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon
from shapely.affinity import affine_transform, translate
from shapely.geometry.base import BaseGeometry

from sweep.shape.feed import StraightFeed
from sweep.shape.frame import centre_height
from sweep.shape.lying import Lying
from sweep.shape.plane import EdgeOn, Plane
from sweep.shape.tool import Tool
from sweep.tolerance import AREA_NOTHING, BELOW_TABLE, FINE_CHORD, SAME_POINT

Figure: TypeAlias = BaseGeometry
"""A plane figure in (y, z), mm, stock frame: a polygon, several, or none."""


@lru_cache(maxsize=64)  # the section, its drawings, the solid and the fence ask
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
    if feed.along_blade:
        return _kerf_section(tool, feed, tilt, blade_height)
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


def _kerf_section(tool: Tool, feed: StraightFeed, tilt: float, blade_height: float) -> Figure:
    """Return the section of a straight cut along the blade, exactly, from a little below the table up."""
    plane, centre = EdgeOn(tilt), centre_height(tool, tilt, blade_height)
    outlines: list[Figure] = []
    for band in tool.bands:
        a, r = np.array(band).T
        tops = plane.top(r, centre)
        feet = (a * math.sin(tilt) - BELOW_TABLE) / math.cos(tilt)
        if (tops <= feet).all():
            continue  # this band stays below the table
        deep = np.minimum(feet, tops)
        points = plane.to_section(np.append(a, a[::-1]), np.append(tops, deep[::-1]))
        points[:, 0] -= feed.offset
        outline: Figure = LineString(points).convex_hull
        if (deep < feet).any():
            left, _, right, top = outline.bounds
            outline = within(outline, shapely.box(left, -BELOW_TABLE, right, top))
        outlines.append(outline)
    return outlines[0] if len(outlines) == 1 else shapely.union_all(outlines)


def areas_moved(figure: Figure, other: Figure, moves: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how much of a figure lies in another that is moved, (n,) mm2; `moves` is (n, 2), mm."""
    each = np.repeat(moves, shapely.get_num_coordinates(other), axis=0)
    moved = shapely.transform(np.full(len(moves), other), lambda points: points + each)
    return np.asarray(shapely.area(shapely.intersection(figure, moved)))


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


def both(one: Figure, other: Figure) -> Figure:
    """Return all that lies in one figure or the other."""
    return shapely.union(one, other)


def mostly_in(figure: Figure, other: Figure) -> bool:
    """Return whether more than half of a figure lies in another."""
    return area(within(figure, other)) > area(figure) / 2


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


def laid(figure: Figure, lying: Lying) -> Figure:
    """Return a figure of the stock as it lies once it is moved."""
    (a, b), (c, d) = lying.turn
    return affine_transform(figure, [a, b, c, d, *lying.shift])


def simpler(figure: Figure, within: float) -> Figure:
    """Return a figure with fewer corners, its outline nowhere farther than so much from the old one, mm."""
    return shapely.simplify(figure, within)


def share_of_hull(outline: NDArray[np.float64]) -> float:
    """Return how much of the room within a string round an outline, (n, 2) mm, is within the outline itself."""
    figure = together(outline)
    hull = area(figure.convex_hull)
    return area(figure) / hull if hull > 0 else 1.0


def simpler_line(line: NDArray[np.float64], within: float) -> NDArray[np.float64]:
    """Return a line, (n, 2) mm, with fewer points, nowhere farther than so much from the old one, mm."""
    return shapely.get_coordinates(shapely.simplify(shapely.linestrings(line), within))


def inside(points: NDArray[np.float64], figure: Figure) -> NDArray[np.bool_]:
    """Return which points, (n, 2) mm, lie in a figure, (n,)."""
    shapely.prepare(figure)
    return np.asarray(shapely.contains_xy(figure, points[:, 0], points[:, 1]))


def parts(figure: Figure) -> list[Figure]:
    """Return the parts of a figure that do not hang together, but for specks."""
    return [part for part in shapely.get_parts(figure) if part.area > AREA_NOTHING]


def on_outline(points: NDArray[np.float64], figure: Figure) -> NDArray[np.bool_]:
    """Return which points lie on the outline of a figure, (n,)."""
    return np.asarray(shapely.distance(shapely.points(points), shapely.boundary(figure))) < SAME_POINT


def holds(figure: Figure, points: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return which points lie in a figure or on its outline, (n,)."""
    shapely.prepare(figure)  # a hundred times as quick
    return np.asarray(shapely.dwithin(figure, shapely.points(points), SAME_POINT))


def outline_within(figure: Figure, wood: Figure) -> list[NDArray[np.float64]]:
    """Return the runs of a figure's outline that lie inside another, not on its outline: (n, 2) mm each."""
    runs = shapely.line_merge(shapely.intersection(shapely.boundary(figure), shapely.buffer(wood, -SAME_POINT)))
    return [shapely.get_coordinates(run) for run in shapely.get_parts(runs)]


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
    if feed.along_blade:
        return _sides_at_table(tool, tilt, blade_height)
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


def _sides_at_table(tool: Tool, tilt: float, blade_height: float) -> tuple[Place, Place] | None:
    """Return where the two sides of a blade pass the table, seen edge on: the places nearest its centre."""
    plane, centre = EdgeOn(tilt), centre_height(tool, tilt, blade_height)
    reached: list[float] = []
    for band in tool.bands:
        (a1, _), (a2, _) = band
        above = [float(plane.top(r, centre)) - a * math.tan(tilt) for a, r in band]  # of the table, up in the plane
        reached += [a for (a, _), high in zip(band, above, strict=True) if high > 0]
        if min(above) < 0 < max(above):
            reached.append(a1 + (a2 - a1) * above[0] / (above[0] - above[1]))
    if not reached:
        return None
    return (min(reached) / math.cos(tilt), 0.0), (max(reached) / math.cos(tilt), 0.0)


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


def middle_of(figure: Figure) -> float:
    """Return how far to the right the middle of a figure's area lies, y in mm."""
    return float(figure.centroid.x)


def sides(figure: Figure) -> NDArray[np.float64]:
    """Return the straight sides of a figure's outline, the figure to the left of each, (n, 2, 2) mm."""
    around = map(shapely.get_coordinates, shapely.get_rings(shapely.orient_polygons(shapely.get_parts(figure))))
    return np.concatenate([np.zeros((0, 2, 2)), *(np.stack([ring[:-1], ring[1:]], axis=1) for ring in around)])


def bounds_of(figure: Figure) -> tuple[float, float, float, float]:
    """Return the least y and z and the greatest y and z of a figure that is not empty, mm."""
    left, low, right, high = figure.bounds
    return float(left), float(low), float(right), float(high)


def sides_of(figure: Figure) -> tuple[float, float]:
    """Return the least and the greatest y of a figure that is not empty, mm."""
    return float(figure.bounds[0]), float(figure.bounds[2])


def roomiest(figure: Figure) -> tuple[Place, float]:
    """Return the middle and the radius of the largest circle within a figure, mm; the middle within 1 % of it."""
    across = max(figure.bounds[2] - figure.bounds[0], figure.bounds[3] - figure.bounds[1])
    circle = shapely.maximum_inscribed_circle(np.array(figure), tolerance=across / 1000)
    (y, z), rim = shapely.get_coordinates(circle)
    return (float(y), float(z)), float(np.hypot(rim[0] - y, rim[1] - z))


def rings(figure: Figure) -> list[NDArray[np.float64]]:
    """Return the outlines of a figure, holes among them, for `solid.prism`: (n, 2) mm each."""
    return [shapely.get_coordinates(ring)[:-1] for ring in shapely.get_rings(shapely.get_parts(figure))]
