"""The finished profile against the profile wanted: signed distances, both ways.

A deviation is positive where wood stands beyond the line and could still come off, negative where
too much is gone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiLineString

from sweep.check.distance import distances
from sweep.check.target import target_line
from sweep.cut.job import Job
from sweep.cut.moulding import Made
from sweep.cut.stages import travel_range
from sweep.errors import SceneError
from sweep.scene.model import WholeScene
from sweep.scene.target import Target
from sweep.shape.mesh import UNCUT, Mesh
from sweep.shape.tool import Tool
from sweep.tolerance import BELOW_TABLE, ON_FACE

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class ProfileCheck:
    """How the finished section lies to the target.

    Parameters
    ----------
    station : float, mm
        Where along the stock the section was taken, x.
    target : tuple of (y, z), mm
        The profile wanted.
    samples : tuple of (y, z), mm
        Points along the whole target at which it was compared.
    deviations : tuple of float, mm
        At those points.
    max_deviation : float, mm
        The largest either way, of target to cut and of cut to target; never negative.
    worst : (y, z, deviation), mm
        Where it is, and with its sign.
    rms_deviation : float, mm
        Along the target.
    tolerance : float, mm
    """

    station: float
    target: Points
    samples: Points
    deviations: tuple[float, ...]
    max_deviation: float
    worst: tuple[float, float, float]
    rms_deviation: float
    tolerance: float

    @property
    def within_tolerance(self) -> bool:
        return self.max_deviation <= self.tolerance


def check_profile(job: Job) -> ProfileCheck | None:
    """Lay the finished mesh's section against the scene's target; None when it names none that is one cove."""
    scene = job.scene
    if scene.target is None or scene.target.whole:
        return None
    line = _line(scene.target, scene.tool, scene.tilt, job.fineness.section_chord)
    station = full_station(job)
    segments, cut_by = job.finished.mesh.section(station)
    cut = _cut_line(segments, cut_by)
    cut_points = _sampled(cut, job)
    samples = _inside_stock(_sampled(LineString(line), job), job.scene)

    there = distances(samples, cut)
    air = _no_wood(segments)
    shapely.prepare(air)
    there = np.where(shapely.contains_properly(air, shapely.points(samples)), -there, there)
    back = signed_distance(cut_points, line)

    everywhere = np.vstack([np.column_stack([samples, there]), np.column_stack([cut_points, back])])
    worst = everywhere[np.argmax(np.abs(everywhere[:, 2]))]
    gaps = np.hypot(*np.diff(samples, axis=0).T)
    square = float(((there[1:] ** 2 + there[:-1] ** 2) / 2 * gaps).sum() / gaps.sum())
    return ProfileCheck(
        station=station,
        target=_points(line),
        samples=_points(samples),
        deviations=tuple(there.tolist()),
        max_deviation=float(abs(worst[2])),
        worst=tuple(worst.tolist()),
        rms_deviation=square**0.5,
        tolerance=scene.target.tolerance,
    )


@lru_cache(maxsize=8)  # while a slider is held it is mostly the same
def _line(target: Target, tool: Tool, tilt: float, chord: float) -> NDArray[np.float64]:
    """Return the profile wanted in as few points as a chord tolerance allows, (n, 2) mm, read-only."""
    line = shapely.get_coordinates(LineString(target_line(target, tool, tilt)).simplify(chord))
    line.setflags(write=False)
    return line


def full_station(made: Made) -> float:
    """Return a station where every pass has cut its full section: mid-length, or midway to the first stop.

    Of several set-ups from either end it is midway between the stops; where these leave none, mid-length.
    """
    if isinstance(made, Job):
        return max(_clear(made), 0.0) / 2
    first, last = 0.0, made.scene.stock.length
    for setting, job in zip(made.settings, made.jobs, strict=True):
        if setting.lying.end_for_end:
            first = max(first, made.scene.stock.length - _clear(job))
        else:
            last = min(last, _clear(job))
    return (first + last) / 2 if first < last else made.scene.stock.length / 2


def _clear(job: Job) -> float:
    """Return how far from its leading end every pass of a job has cut in full, mm."""
    clear = job.scene.stock.length
    for one in job.passes:
        start, end = travel_range(job.scene, one.number)
        clear = min(clear, end + start)  # the blade reaches -start ahead of its centre
    return clear


def signed_distance(points: NDArray[np.float64], line: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far points of the cut surface stand from the target, mm.

    Parameters
    ----------
    points : (n, 2) float, mm
        In (y, z).
    line : (m, 2) float, mm
        The target from its left edge to its right one.

    Returns
    -------
    (n,) float, mm
        Positive where the point stands on the hollow's side of the line: wood could still come off.
    """
    distance = distances(points, LineString(line))
    below = np.array([[line[-1, 0], -1e3], [line[0, 0], -1e3]])
    hollow = shapely.make_valid(shapely.polygons(np.vstack([line, below])))
    shapely.prepare(hollow)  # thirty times as quick for many points
    return np.where(shapely.covers(hollow, shapely.points(points)), distance, -distance)


def surface_deviation(mesh: Mesh, line: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the deviation at every vertex of the cut surface, mm; NaN at vertices of planed faces only."""
    return surface_deviations([mesh], line)[0]


def surface_deviations(meshes: Sequence[Mesh], line: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Return what `surface_deviation` does of each mesh.

    Along the feed a surface keeps its section, so most vertices share their place across with many others, of other
    meshes too; each place is measured once.
    """
    found = [np.full(len(mesh.vertices), np.nan) for mesh in meshes]
    cut = [np.unique(mesh.triangles[mesh.cut_by != UNCUT]) for mesh in meshes]
    across = np.vstack([mesh.vertices[which, 1:] for mesh, which in zip(meshes, cut, strict=True)])
    places, own = np.unique(across.round(9), axis=0, return_inverse=True)
    ends = np.cumsum([len(which) for which in cut])[:-1]
    measured = signed_distance(places, line)
    for deviation, which, there in zip(found, cut, np.split(own, ends), strict=True):
        deviation[which] = measured[there]
    return found


def _cut_line(segments: NDArray[np.float64], cut_by: NDArray[np.int64]) -> shapely.Geometry:
    """Return the cut part of a section; the face on the table where nothing is cut."""
    cut = segments[cut_by != UNCUT]
    if len(cut) == 0:
        cut = segments[np.all(segments[:, :, 1] == 0.0, axis=1)]
    long = np.hypot(*(cut[:, 1] - cut[:, 0]).T) > ON_FACE  # a section through a vertex leaves pieces of no length
    return _lines(cut[long])


def _lines(segments: NDArray[np.float64]) -> MultiLineString:
    """Return segments, (n, 2, 2) mm, as one geometry, all made at once."""
    made = shapely.multilinestrings(np.asarray(shapely.linestrings(segments), object))
    assert isinstance(made, MultiLineString)
    return made


def _sampled(line: shapely.Geometry, job: Job) -> NDArray[np.float64]:
    """Return the vertices of a line and points between, as close as the job's fineness asks, (n, 2) mm."""
    return shapely.get_coordinates(shapely.segmentize(line, job.fineness.sample))


def _no_wood(segments: NDArray[np.float64]) -> shapely.Geometry:
    """Return the plane without the finished section, as far as the target can reach."""
    wood = shapely.build_area(_lines(segments.round(9)))
    low_y, low_z, high_y, high_z = wood.bounds
    return shapely.difference(shapely.box(low_y, low_z - BELOW_TABLE, high_y, high_z), wood)


def _inside_stock(samples: NDArray[np.float64], scene: WholeScene) -> NDArray[np.float64]:
    """Return the points of the target that lie in the stock: where a cove runs off an edge, the rest is air."""
    inside = samples[(np.abs(samples[:, 0]) <= scene.stock.width / 2) & (samples[:, 1] <= scene.stock.thickness)]
    if len(inside) < 2:
        raise SceneError(
            "target.across", "the target lies outside the stock", "move it, or take wider or thicker stock"
        )
    return inside


def _points(array: NDArray[np.float64]) -> Points:
    return tuple((a, b) for a, b in array.tolist())
