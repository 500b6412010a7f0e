"""A measured piece held against the jobs of a record: whether one of them made it, before anything is solved anew.

The piece is laid level by the longest edge of its convex hull, which spans the mouth of the hollow. The index
(`nearest.py`) gives the few jobs that are most like it. Against each of these the points are turned and shifted by
least squares of their distances square to its outline, which is the curve that its set-up cut, or what was measured on
its wood, and the flat face beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import least_squares
from scipy.spatial import ConvexHull
from scipy.special import chdtrc

from sweep.plan.closeness import distances, nearest
from sweep.plan.match import ACCURACY, FEWEST, checked, in_company
from sweep.quantity import read_quantity
from sweep.scene.defaults import default_of
from sweep.scene.kept import Measured
from sweep.scene.keys import Section
from sweep.scene.places import Tables
from sweep.scene.target import Target
from sweep.shop.nearest import Index, mirror
from sweep.shop.profile import Profile, Unread
from sweep.units import LENGTH

Array = NDArray[np.float64]

LIKELY = 8
"""Jobs that the index thinks likeliest, and that are looked at closely."""

ABOVE = 0.5
"""mm. What lies higher above the face is hollow: by it the index compares pieces measured with and without the face."""

FAR = 500.0
"""mm. How far the face is drawn beyond each edge."""

CHANCE = 0.01
"""Points that scatter more than chance allows but for 1 time in 100 are not this job's, as in `plan/match.py`."""

Told = Literal["measured", "set-up", "target", "points"]


@dataclass(frozen=True, eq=False)
class Job:
    """One job that a piece is held against.

    Parameters
    ----------
    name, title, date : str
        Of its file, and as they stand in it; empty where they do not.
    line : (n, 2) float, mm
        The cove from its left edge to its right one, the face at z = 0; or a whole moulding.
    whole : bool
        Whether the line is a whole moulding's, laid as a piece is, and ends where it ends.
    told : str
        What the line is: measured on its wood, what its set-up cuts, the target, or the points of a file.
    accuracy : float, mm
        Standard deviation of a point of a measured line; 0 of others.
    tolerance : float, mm
        How far its moulding might lie from what was wanted.
    as_set : tuple of str
        Fence angle, blade height and tilt as they are written in it; empty where they are not.
    """

    name: str
    title: str
    date: str
    line: Array
    whole: bool
    told: Told
    accuracy: float
    tolerance: float
    as_set: tuple[str, ...]


@dataclass(frozen=True)
class Compared:
    """A job and how near the piece lies to it.

    Parameters
    ----------
    job : Job
    rms, largest : float, mm
        Of the distances of the points from its outline.
    mirrored : bool
        Whether the piece was measured from its other end.
    same : bool
        Whether measuring explains all that they lie off.
    within : bool
        Whether they lie off by no more than the job's tolerance, and three standard deviations of measuring.
    covered : float
        Which share of the job's cove, across, the points reach over.
    """

    job: Job
    rms: float
    largest: float
    mirrored: bool
    same: bool
    within: bool
    covered: float


@dataclass(frozen=True)
class Likeness:
    """What a record says of a piece.

    Parameters
    ----------
    compared : tuple of Compared
        The closest first.
    not_compared : tuple of Unread
        Files that are no job, or none with a line from edge to edge, and why.
    jobs : int
        How many jobs there are.
    points : int
    accuracy : float, mm
    """

    compared: tuple[Compared, ...]
    not_compared: tuple[Unread, ...]
    jobs: int
    points: int
    accuracy: float

    @property
    def made_by(self) -> tuple[Compared, ...]:
        """Jobs that can have made the piece, as far as measuring tells."""
        return tuple(one for one in self.compared if one.same)


def among(profiles: Iterable[Profile | Unread], points: ArrayLike, accuracy: float = ACCURACY) -> Likeness:
    """Return which jobs of a record a measured piece lies nearest to.

    Parameters
    ----------
    profiles : iterable of Profile or Unread
        As `profiles_in` gives them.
    points : (n, 2) float, mm
        In any order, turned and shifted anyhow.
    accuracy : float, mm
        Standard deviation of a point, square to the outline.

    Raises
    ------
    SceneError
        When the points or the accuracy cannot be used.
    """
    piece = levelled(checked(points, (0.0, 0.0), accuracy))
    jobs: list[Job] = []
    others: list[Unread] = []
    for one in profiles:
        job = job_of(one) if isinstance(one, Profile) else one
        if isinstance(job, Job):
            jobs.append(job)
        else:
            others.append(job)
    index = Index((job.name, _hollow(job.line)) for job in jobs)
    likely = index.nearest(_hollow(piece), LIKELY)
    found = [_compared(jobs[near.number], piece, near.mirrored, accuracy) for near in likely]
    ranked = tuple(sorted(found, key=lambda one: (one.rms, one.job.name)))
    return Likeness(ranked, tuple(others), len(jobs), len(piece), accuracy)


def job_of(profile: Profile) -> Job | Unread:
    """Return a profile as a job to compare with: what was measured on its wood goes before what its set-up cuts."""
    if profile.whole and math.dist(profile.line[0], profile.line[-1]) < ABOVE:
        return Unread(profile.name, "its outline is closed, and pieces are compared with a line from edge to edge")
    tables = profile.tables or {}
    target = tables.get("target", {})
    line, accuracy = levelled(profile.line) if profile.whole else profile.line, 0.0
    told: Told = "target" if target else "points"
    if profile.made is not None:
        line, told = profile.made, "set-up"
    passes = len(tables.get("passes", {}).get("heights", ()))
    for one in tables.get("measured", []):
        if one.get("after_pass", passes) == passes and len(one.get("points") or ()) >= FEWEST:
            exactly = _length(one, "accuracy", Measured, profile.inches)
            line, told, accuracy = levelled(checked(one["points"], (0.0, 0.0), exactly)), "measured", exactly
    return Job(
        profile.name,
        str(tables.get("title", "")),
        str(tables.get("kept", {}).get("date", "")),
        line,
        profile.whole,
        told,
        accuracy,
        _length(target, "tolerance", Target, profile.inches),
        _as_set(tables.get("setup", {})),
    )


def _as_set(setup: Tables) -> tuple[str, ...]:
    return (setup["fence_angle"], setup["blade_height"], setup.get("blade_tilt", "0 deg")) if setup else ()


def _length(table: Tables, name: str, model: type[Section], inches: bool) -> float:
    return read_quantity(table[name], LENGTH) if name in table else default_of(model, name, LENGTH, inches)


def levelled(points: Array) -> Array:
    """Return points turned and shifted so that the mouth of their hollow lies level at z = 0, the hollow above it.

    They are put in order across, unless the order in which they were measured is the shorter way along them.
    """
    hull = points[ConvexHull(points).vertices]  # anticlockwise, so that all lies to the left of each edge
    edges = np.roll(hull, -1, axis=0) - hull
    longest = int(np.hypot(*edges.T).argmax())
    cosine, sine = edges[longest] / np.hypot(*edges[longest])
    level = (points - hull[longest]) @ np.array([[cosine, -sine], [sine, cosine]])
    across = level[np.argsort(level[:, 0], kind="stable")]
    way = across if _length_of(across) <= _length_of(level) else level
    way = way if way[0, 0] <= way[-1, 0] else way[::-1]
    found: Array = way - ((way[:, 0].min() + way[:, 0].max()) / 2, 0.0)
    return found


def _length_of(line: Array) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def _hollow(line: Array) -> Array:
    """Return the part of a line between where it first and last rises above the face; all of it where it does not."""
    above = np.flatnonzero(line[:, 1] > ABOVE)
    if len(above) < 2:
        return line
    first, last = above[0], above[-1]
    ends = [_crossing(line[first], line[max(first - 1, 0)]), _crossing(line[last], line[min(last + 1, len(line) - 1)])]
    return np.vstack([ends[0], line[first : last + 1], ends[1]])


def _crossing(above: Array, below: Array) -> Array:
    """Return where the line between two neighbours crosses the height `ABOVE`; the upper one where it does not."""
    if below[1] >= ABOVE:
        return above
    share = (above[1] - ABOVE) / (above[1] - below[1])
    crossing: Array = above + share * (below - above)
    return crossing


def _compared(job: Job, piece: Array, mirrored: bool, accuracy: float) -> Compared:
    points = mirror(piece) if mirrored else piece
    outline = job.line
    if not job.whole:
        outline = np.vstack([outline[:1] - (FAR, 0.0), outline, outline[-1:] + (FAR, 0.0)])
    path = np.empty((2 * len(outline) - 1, 2))
    path[::2], path[1::2] = outline, (outline[:-1] + outline[1:]) / 2
    exactly = math.hypot(accuracy, job.accuracy)

    def laid(place: Array, points: Array) -> Array:
        cosine, sine = math.cos(place[0] / FAR), math.sin(place[0] / FAR)  # in mm, as the shifts are
        there: Array = points @ np.array([[cosine, sine], [-sine, cosine]]) + place[1:]
        return there

    def off(place: Array, points: Array) -> Array:
        there = laid(place, points)[None]
        found: Array = distances(there, path[None], nearest(there, path[None]))[0]
        return found

    ours, theirs = _hollow(points), _hollow(job.line)
    middle = (theirs[[0, -1]].mean(axis=0) - ours[[0, -1]].mean(axis=0)) * (1.0, 0.0)
    place = np.array([0.0, *middle])
    place = least_squares(off, place, args=(points,), loss="soft_l1", f_scale=3 * exactly, max_nfev=30).x
    kept = points[in_company(off(place, points), exactly)]
    place = least_squares(off, place, args=(kept,), max_nfev=30).x
    gaps, spare = off(place, kept), len(kept) - 3
    scatter = math.sqrt(gaps @ gaps / spare)
    return Compared(
        job,
        rms=math.sqrt(gaps @ gaps / len(gaps)),
        largest=float(np.abs(gaps).max()),
        mirrored=mirrored,
        same=bool(chdtrc(spare, spare * (scatter / exactly) ** 2) >= CHANCE),
        within=float(np.abs(gaps).max()) <= job.tolerance + 3 * exactly,
        covered=_covered(laid(place, kept), job.line),
    )


def _covered(points: Array, line: Array) -> float:
    """Return which share of a cove, across, the points reach over."""
    hollow = _hollow(line)
    left, right = hollow[:, 0].min(), hollow[:, 0].max()
    reached = min(points[:, 0].max(), right) - max(points[:, 0].min(), left)
    return max(0.0, float(reached / (right - left)))
