"""The finished section against a whole moulding: what is cut into it, and what is left above it for plane and scraper.

Both are looked for both ways: points of the finished outline against the body that must stay, and points of that body's
outline against the finished wood. The exact section and the finished mesh are looked at alike, and the worse counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from sweep.check.distance import distances
from sweep.check.profile import full_station
from sweep.cut.moulding import Made
from sweep.scene.model import Scene
from sweep.scene.whole import kept_body
from sweep.shape import section
from sweep.shape.edges import clean
from sweep.shape.mesh import UNCUT, Mesh
from sweep.tolerance import SAMPLE

Array = NDArray[np.float64]

ToolKind = Literal["plane", "scraper"]

CELL = 0.2
"""mm. Side of the cells in which what is left is told apart by tool: the shares are good to about a hundredth."""

FLAT = 1e-4
"""mm. A chord of 2 mm that lies less deep in air than this is over a flat: the hollow would have a radius of 5 m."""


@dataclass(frozen=True)
class LeftAbove:
    """The wood left above the profile that one kind of tool takes.

    Parameters
    ----------
    tool : "plane" or "scraper"
        A plane's sole takes what lies above flats and rounds; a hollow wants a scraper, or a plane with a round sole.
    area : float, mm2
    thickest : float, mm
    where : (y, z), mm
        Of the thickest.
    """

    tool: ToolKind
    area: float
    thickest: float
    where: tuple[float, float]


@dataclass(frozen=True, eq=False)
class WholeCheck:
    """How the finished wood lies to the moulding that is wanted.

    Parameters
    ----------
    kept : Figure
        The body that must stay.
    outline : (n, 2) float, mm
        Points along its outline.
    above : (n,) float, mm
        How thick the wood stands above each; negative where the cut went into the body.
    deepest_cut : float, mm
        The deepest into the body, 0 where nothing is; `deepest_at` says where.
    thickest_left : float, mm
        The most that stands above it; `thickest_at` says where.
    left : tuple of LeftAbove
        By tool, those that have something to take.
    waste_area : float, mm2
        What there was to take: the stock without the body and what is to be left above it.
    waste_share : float
        How much of it is gone.
    leave : float, mm
        What was to be left.
    tolerance : float, mm
        How deep a cut into the body may be.
    """

    kept: section.Figure
    outline: Array
    above: Array
    deepest_cut: float
    deepest_at: tuple[float, float]
    thickest_left: float
    thickest_at: tuple[float, float]
    left: tuple[LeftAbove, ...]
    waste_area: float
    waste_share: float
    leave: float
    tolerance: float

    @property
    def is_whole(self) -> bool:
        """Whether nothing is cut deeper into the profile than the target's tolerance."""
        return self.deepest_cut <= self.tolerance


def check_whole(made: Made) -> WholeCheck | None:
    """Lay the finished pieces of a job against the whole moulding of its scene; None where the scene names none."""
    scene = made.scene
    if scene.target is None or not scene.target.whole:
        return None
    exact = shapely.union_all([piece.outline.figure for piece in made.pieces])
    return laid_against(
        scene, exact, shapely.union_all([_wood(piece.mesh, full_station(made)) for piece in made.pieces])
    )


def laid_against(scene: Scene, exact: section.Figure, meshed: section.Figure) -> WholeCheck:
    """Lay a finished section, exact and as meshed, against the whole moulding of a scene."""
    target = scene.wanted
    kept = kept_body(target, scene.stock)
    waste = section.minus(
        section.stock_section(scene.stock.width, scene.stock.thickness), section.grown(kept, scene.plan.leave)
    )
    outline = _sampled(kept)
    cuts, lefts = zip(*(_worst(wood, kept) for wood in (exact, meshed)), strict=True)
    deepest, thickest = max(cuts), max(lefts)
    area = section.area(waste)
    gone = 1 - section.area(section.within(waste, exact)) / area if area > 0 else 1.0
    return WholeCheck(
        kept=kept,
        outline=outline,
        above=signed_above(outline, exact),
        deepest_cut=deepest[0],
        deepest_at=deepest[1:],
        thickest_left=thickest[0],
        thickest_at=thickest[1:],
        left=_by_tool(section.minus(exact, kept), kept),
        waste_area=area,
        waste_share=gone,
        leave=scene.plan.leave,
        tolerance=target.tolerance,
    )


def signed_above(points: Array, wood: section.Figure) -> Array:
    """Return how far inside the finished wood each point lies, (n,) mm; negative where it lies in air."""
    distance = distances(points, shapely.boundary(wood))
    shapely.prepare(wood)  # thirty times as quick for many points
    return np.where(shapely.covers(wood, shapely.points(points)), distance, -distance)


def left_on(mesh: Mesh, kept: section.Figure) -> Array:
    """Return how far each vertex of a cut surface stands off the body that must stay, mm; NaN on planed faces only."""
    above = np.full(len(mesh.vertices), np.nan)
    cut = np.unique(mesh.triangles[mesh.cut_by != UNCUT])
    above[cut] = -signed_above(mesh.vertices[cut, 1:], kept)
    return above


Worst = tuple[float, float, float]
"""How much, mm, and where: y and z."""


def _worst(wood: section.Figure, kept: section.Figure) -> tuple[Worst, Worst]:
    """Return the deepest cut into the body and the thickest wood left above it.

    The points of the regions' own outlines are looked at: within a region no point lies farther off than all of those,
    but for places as far from one stretch of the body's outline as from another.
    """
    outline = shapely.boundary(kept)
    return _farthest(section.minus(kept, wood), outline), _farthest(section.minus(wood, kept), outline)


def _farthest(region: section.Figure, line: shapely.Geometry) -> Worst:
    """Return how far from a line the farthest point of a region lies, and where."""
    found: list[Worst] = [(0.0, 0.0, 0.0)]
    for part in section.parts(region):
        points = shapely.get_coordinates(shapely.segmentize(shapely.boundary(part), SAMPLE))
        away = distances(points, line)
        worst = int(np.argmax(away))
        found.append((float(away[worst]), float(points[worst, 0]), float(points[worst, 1])))
    return max(found)


def _by_tool(left: section.Figure, kept: section.Figure) -> tuple[LeftAbove, ...]:
    """Return what is left, by the tool that reaches the nearest stretch of the body's outline."""
    parts = section.parts(left)
    if not parts:
        return ()
    cells = np.vstack([_cells(part) for part in parts])
    ring = _sampled(kept)
    nearest = shapely.STRtree(list(shapely.get_parts(shapely.multipoints(ring)))).nearest(shapely.points(cells))
    away = np.atleast_1d(shapely.distance(shapely.points(cells), kept))
    hollow = _in_a_hollow(ring)[nearest]
    found = []
    kinds: tuple[tuple[ToolKind, NDArray[np.bool_]], ...] = (("plane", ~hollow), ("scraper", hollow))
    for tool, those in kinds:
        if those.any():
            thickest = int(np.argmax(np.where(those, away, -1.0)))
            area = section.area(left) * float(those.mean())
            found.append(LeftAbove(tool, area, float(away[thickest]), tuple(cells[thickest].tolist())))
    return tuple(found)


def _cells(part: section.Figure) -> Array:
    """Return the middles of the cells of a grid that lie in a figure, (n, 2) mm; where none does, a point of it."""
    low_y, low_z, high_y, high_z = part.bounds
    grid = np.stack(
        np.meshgrid(np.arange(low_y + CELL / 2, high_y, CELL), np.arange(low_z + CELL / 2, high_z, CELL)), axis=-1
    ).reshape(-1, 2)
    shapely.prepare(part)
    inside = grid[shapely.covers(part, shapely.points(grid))] if len(grid) else grid
    return inside if len(inside) else shapely.get_coordinates(shapely.point_on_surface(part))


def _in_a_hollow(ring: Array, reach: float = 1.0) -> NDArray[np.bool_]:
    """Return which points of an outline, the body on its left, lie in a hollow of it.

    There the middle of the chord from a point `reach` mm before to one as far behind lies in air.
    """
    steps = max(1, round(reach / SAMPLE))
    before, behind = np.roll(ring, steps, axis=0), np.roll(ring, -steps, axis=0)
    chord, offset = behind - before, ring - before
    return np.asarray(chord[:, 0] * offset[:, 1] - chord[:, 1] * offset[:, 0] > FLAT * np.hypot(*chord.T), bool)


def _sampled(kept: section.Figure) -> Array:
    """Return points along the outline of the body, as far apart as a profile is compared, the body on their left."""
    ring = clean(section.rings(kept)[0])
    length = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum()
    line = shapely.LinearRing(ring)
    return shapely.get_coordinates(line.interpolate(np.linspace(0, 1, max(8, round(length / SAMPLE))), normalized=True))


def _wood(mesh: Mesh, station: float) -> section.Figure:
    """Return the section of a mesh at a station as a figure."""
    segments, _ = mesh.section(station)
    lines = np.asarray(shapely.linestrings(segments.round(9)), object)
    return shapely.build_area(shapely.GeometryCollection(list(lines)))
