"""A profile of a record as a job that a piece is held against: its line, and what that line is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from sweep.plan.match import FEWEST, checked
from sweep.quantity import read_quantity
from sweep.scene.defaults import default_of
from sweep.scene.kept import Measured
from sweep.scene.keys import Section
from sweep.scene.places import Tables
from sweep.scene.target import Target
from sweep.shop.profile import Profile
from sweep.units import LENGTH

Array = NDArray[np.float64]

CLOSED = 0.5
"""mm. An outline whose ends lie this close to each other is closed; our choice."""

Told = Literal["measured", "set-up", "target", "points"]


@dataclass(frozen=True, eq=False)
class HeldJob:
    """One job that a piece is held against.

    Parameters
    ----------
    name, title, date : str
        Of its file, and as they stand in it; empty where they do not.
    line : (n, 2) float, mm
        The cove from its left edge to its right one, the face at z = 0; or a whole moulding.
    whole : bool
        Whether the line is a whole moulding's, laid as a piece is, and ends where it ends.
    closed : bool
        Whether it is that moulding's outline all round; its first point is not written again.
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
    closed: bool
    told: Told
    accuracy: float
    tolerance: float
    as_set: tuple[str, ...]


def job_of(profile: Profile) -> HeldJob:
    """Return a profile as a job to compare with: what was measured on its wood goes before what its set-up cuts."""
    tables = profile.tables or {}
    target = tables.get("target", {})
    closed = profile.whole and profile.made is None and math.dist(profile.line[0], profile.line[-1]) < CLOSED
    told: Told = "target" if target else "set-up" if profile.tables else "points"
    line, accuracy = profile.line, 0.0
    if profile.made is not None:
        line, told = profile.made, "set-up"
    elif closed:
        line = line[:-1]
    elif profile.whole:
        line = levelled(line)
    passes = len(tables.get("passes", {}).get("heights", ()))
    for one in tables.get("measured", []):
        if one.get("after_pass", passes) == passes and len(one.get("points") or ()) >= FEWEST:
            exactly = _length(one, "accuracy", Measured, profile.inches)
            line, told, accuracy = levelled(checked(one["points"], (0.0, 0.0), exactly)), "measured", exactly
            closed = False
    return HeldJob(
        profile.name,
        str(tables.get("title", "")),
        str(tables.get("kept", {}).get("date", "")),
        line,
        profile.whole,
        closed,
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
