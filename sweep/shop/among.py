"""A measured piece held against the jobs of a record: whether one of them made it, before anything is solved anew.

The piece is laid level by the longest edge of its convex hull, which spans the mouth of the hollow. The index
(`nearest.py`) gives the few jobs that are most like it. Against each of these the points are turned and shifted by
least squares of their distances square to its outline, which is the curve that its set-up cut, or what was measured on
its wood, and the flat face beside it. A job whose outline is closed has no one mouth: the piece is laid along it in
many ways (`around.py`), and turned and shifted from the likeliest of these.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import least_squares
from scipy.special import chdtrc

from sweep.plan.closeness import distances, nearest
from sweep.plan.match import ACCURACY, checked, in_company
from sweep.shop.around import places_around
from sweep.shop.held import HeldJob, job_of, levelled
from sweep.shop.nearest import Index, mirror
from sweep.shop.profile import Profile, Unread

Array = NDArray[np.float64]

LIKELY = 8
"""Jobs that the index thinks likeliest, and that are looked at closely; as many of those whose outline is closed."""

ABOVE = 0.5
"""mm. What lies higher above the face is hollow: by it the index compares pieces measured with and without the face."""

FAR = 500.0
"""mm. How far the face is drawn beyond each edge."""

CHANCE = 0.01
"""Points that scatter more than chance allows but for 1 time in 100 are not this job's, as in `plan/match.py`."""


@dataclass(frozen=True)
class Compared:
    """A job and how near the piece lies to it.

    Parameters
    ----------
    job : HeldJob
    rms, largest : float, mm
        Of the distances of the points from its outline.
    mirrored : bool
        Whether the piece was measured from its other end.
    same : bool
        Whether measuring explains all that they lie off.
    within : bool
        Whether they lie off by no more than the job's tolerance, and three standard deviations of measuring.
    covered : float
        Which share of the job's cove, or of its closed outline, across, the points reach over.
    """

    job: HeldJob
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
        Files that are no job, and why.
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
    jobs: list[HeldJob] = []
    others: list[Unread] = []
    for one in profiles:
        if isinstance(one, Profile):
            jobs.append(job_of(one))
        else:
            others.append(one)
    level = [job for job in jobs if not job.closed]
    index = Index((job.name, _hollow(job.line)) for job in level)
    found = [
        _on_face(level[near.number], piece, near.mirrored, accuracy) for near in index.nearest(_hollow(piece), LIKELY)
    ]
    found += _along_outlines([job for job in jobs if job.closed], piece, accuracy)
    ranked = tuple(sorted(found, key=lambda one: (one.rms, one.job.name))[:LIKELY])
    return Likeness(ranked, tuple(others), len(jobs), len(piece), accuracy)


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


def _on_face(job: HeldJob, piece: Array, mirrored: bool, accuracy: float) -> Compared:
    """Return how near a piece lies to a job that lies level as it does, from the middle of the one to the other's."""
    points = _from_its_end(piece, mirrored)
    ours, theirs = _hollow(points), _hollow(job.line)
    middle = (theirs[[0, -1]].mean(axis=0) - ours[[0, -1]].mean(axis=0)) * (1.0, 0.0)
    return _compared(job, points, np.array([0.0, *middle]), mirrored, accuracy)


def _along_outlines(jobs: list[HeldJob], piece: Array, accuracy: float) -> list[Compared]:
    """Return how near a piece lies to the likeliest jobs with closed outlines, laid along each in its best way."""
    ways = [
        (place.off, number, mirrored, np.array([place.turn * FAR, *place.shift]))
        for number, job in enumerate(jobs)
        for mirrored in (False, True)
        for place in places_around(job.line, _from_its_end(piece, mirrored))
    ]
    ways.sort(key=lambda way: way[:3])
    likely = list(dict.fromkeys(number for _, number, _, _ in ways))[:LIKELY]
    found = []
    for likeliest in likely:
        all_ways = [
            _compared(jobs[number], _from_its_end(piece, mirrored), place, mirrored, accuracy)
            for _, number, mirrored, place in ways
            if number == likeliest
        ]
        found.append(min(all_ways, key=lambda one: one.rms))
    return found


def _from_its_end(piece: Array, mirrored: bool) -> Array:
    return mirror(piece) if mirrored else piece


def _compared(job: HeldJob, points: Array, place: Array, mirrored: bool, accuracy: float) -> Compared:
    """Return how near points lie to a job's line, turned and shifted from a place where they are laid at first."""
    outline = np.vstack([job.line, job.line[:1]]) if job.closed else job.line
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
        covered=_covered(laid(place, kept), job.line if job.closed else _hollow(job.line)),
    )


def _covered(points: Array, line: Array) -> float:
    """Return which share of a line, across, the points reach over."""
    left, right = line[:, 0].min(), line[:, 0].max()
    reached = min(points[:, 0].max(), right) - max(points[:, 0].min(), left)
    return max(0.0, float(reached / (right - left)))
