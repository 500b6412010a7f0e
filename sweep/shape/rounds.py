"""Rounds: what is taken off a corner of a plane figure by a circle that touches both faces, and where rounds meet.

Figures are in (y, z), mm, as in `edges.py`.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sweep.errors import UnusableError
from sweep.figure import length
from sweep.shape.edges import Corner, outside, unit
from sweep.tolerance import BESIDE_FACE, SAME_POINT

Array = NDArray[np.float64]

_STRAIGHT = 1e-6
"""rad. A face that has turned less than this is straight yet: rounding of its corners, far below a chord's turn."""


def round_over(corner: Corner, radius: float, chord: float) -> Array:
    """Return what a round touching both faces of a corner takes, (n, 2) mm.

    Parameters
    ----------
    corner : Corner
    radius : float, mm
    chord : float, mm
        The arc's points lie on the circle; its chords take at most so much more.

    Raises
    ------
    UnusableError
        When no such circle touches both faces within their width.
    """
    centre, start, end = _on_straights(corner, radius) or _on_curves(corner, radius)
    first, last = (math.atan2(*(point - centre)[::-1]) for point in (start, end))
    sweep = (last - first) % (2 * math.pi)
    count = math.ceil(sweep / (2 * math.acos(1 - min(chord, radius / 8) / radius)))
    angles = first + sweep * np.arange(1, count) / count
    arc = centre + radius * np.column_stack([np.cos(angles), np.sin(angles)])
    beyond = [point + BESIDE_FACE * (point - centre) / radius for point in (start, end)]
    return np.vstack([start, arc, end, beyond[1], outside(corner), beyond[0]])


def _on_straights(corner: Corner, radius: float) -> tuple[Array, Array, Array] | None:
    """Return a circle's centre and where it touches both faces; None where that is beyond what is straight of one.

    It may touch where a straight ends in a curve that runs on smoothly: there a round meets an earlier one, as at a
    full bullnose. Further on that curve may come nearer to the centre than the radius; nothing is taken there.
    """
    directions = [unit(face[1] - face[0]) for face in (corner.backward, corner.onward)]
    half = math.acos(max(-1.0, min(1.0, float(directions[0] @ directions[1])))) / 2
    reach = radius / math.tan(half)
    for face in (corner.backward, corner.onward):
        straight, runs_on = _straight(face)
        if reach > straight + (SAME_POINT if runs_on else -SAME_POINT):
            return None
    centre = corner.point + radius / math.sin(half) * unit(directions[0] + directions[1])
    return centre, corner.point + reach * directions[0], corner.point + reach * directions[1]


def _on_curves(corner: Corner, radius: float) -> tuple[Array, Array, Array]:
    """Return a circle's centre and where it touches the two faces, whatever their shape.

    Raises
    ------
    UnusableError
        When no such circle touches both within their width.
    """
    centre, found = _touching(corner, radius), []
    for face in (corner.backward, corner.onward):
        point, distance = _nearest(face, centre)
        ends = np.hypot(*(np.array([face[0], face[-1]]) - point).T)
        if abs(distance - radius) > SAME_POINT or ends.min() <= SAME_POINT:
            straight, whole = _straight(face)[0], float(np.hypot(*np.diff(face, axis=0).T).sum())
            raise UnusableError(
                "a radius of {value} does not fit on a face {limit} wide",
                "write a smaller radius",
                value=length(radius),
                limit=length(straight if straight > radius / 2 else whole),  # more than one chord of a curve
            )
        found.append(point)
    return centre, found[0], found[1]


def _straight(face: Array) -> tuple[float, bool]:
    """Return how far a face runs straight from its corner, mm, and whether a curve goes on from there."""
    steps = np.diff(face, axis=0)
    turned = np.angle((steps @ (1, 1j)) / (steps[0] @ (1, 1j)))
    bent = np.flatnonzero(np.abs(turned) > _STRAIGHT)
    return float(np.hypot(*(face[bent[0] if len(bent) else -1] - face[0]))), len(bent) > 0


def _touching(corner: Corner, radius: float) -> Array:
    """Return the centre of a circle in the wood that touches both faces: Newton's method on the two distances."""
    directions = [unit(face[1] - face[0]) for face in (corner.onward, corner.backward)]
    half = math.acos(max(-1.0, min(1.0, float(directions[0] @ directions[1])))) / 2
    centre = corner.point + radius / math.sin(half) * unit(directions[0] + directions[1])
    for _ in range(50):
        found = [_nearest(face, centre) for face in (corner.onward, corner.backward)]
        short = np.array([radius - distance for _, distance in found])
        if np.abs(short).max() < SAME_POINT / 10:
            break
        normals = np.array([(centre - point) / max(distance, SAME_POINT) for point, distance in found])
        if abs(np.linalg.det(normals)) < 1e-9:
            break
        centre = centre + np.linalg.solve(normals, short)
    return centre


def _nearest(face: Array, point: Array) -> tuple[Array, float]:
    """Return the point of a face nearest to another, and how far off it is, mm."""
    start, step = face[:-1], np.diff(face, axis=0)
    share = np.clip(((point - start) * step).sum(axis=1) / (step * step).sum(axis=1), 0.0, 1.0)
    feet = start + share[:, None] * step
    away = np.hypot(*(feet - point).T)
    return feet[np.argmin(away)], float(away.min())
