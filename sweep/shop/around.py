"""A piece laid against a closed outline, whichever part of it was measured, and however it lay."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from sweep.plan.closeness import sampled

Array = NDArray[np.float64]

TURNS = 24
"""How many ways round a piece is first laid, evenly."""

PLACES = 16
"""At how many places along the outline the middle of a piece is first laid, evenly."""

AROUND = 400
"""Points of the outline that a piece is held against here."""

ROUNDS = ((2, 16, 60), (12, 48, 4))
"""How often the piece is moved to the nearest points, by how many points of its own, and how many of the best places
go on from there."""


@dataclass(frozen=True, eq=False)
class Way:
    """One way in which a piece lies along an outline.

    Parameters
    ----------
    off : float, mm
        How far its points lie from those of the outline, in the mean.
    turn : float, rad
        By how much it is turned, anticlockwise about the origin.
    shift : (2,) float, mm
        By how much it is shifted then.
    """

    off: float
    turn: float
    shift: Array


def places_around(ring: Array, piece: Array) -> list[Way]:
    """Return the few likeliest ways in which a piece lies along a closed outline, each about to a millimetre.

    From many starts each point of the piece is paired with the nearest point of the outline, and the piece moved to
    those by least squares, which has a closed form in the plane; a counted number of times, so it ends.

    Parameters
    ----------
    ring : (n, 2) float, mm
        The outline, its first point not written again.
    piece : (m, 2) float, mm
        In any order.
    """
    outline = sampled(np.vstack([ring, ring[:1]]), AROUND)[:-1]
    tree = cKDTree(outline)
    onto = _complex(outline)
    all_points = _complex(piece)
    middle = all_points[np.abs(all_points - all_points.mean()).argmin()]

    turns = np.exp(2j * np.pi * np.arange(TURNS) / TURNS)
    seats = onto[np.linspace(0, len(onto), PLACES, endpoint=False).astype(int)]
    turned = np.repeat(turns, PLACES)
    shifted = np.tile(seats, TURNS) - turned * middle
    for rounds, most, kept in ROUNDS:
        points = all_points[np.linspace(0, len(piece) - 1, min(len(piece), most)).round().astype(int)]
        for _ in range(rounds):
            _, seen = _nearest(tree, turned, shifted, points)
            aim = onto[seen]
            about, centre = aim.mean(axis=1), points.mean()
            lean = (aim * np.conj(points - centre)).sum(axis=1)
            turned = np.where(np.abs(lean) > 0, lean / np.maximum(np.abs(lean), 1e-300), turned)
            shifted = about - turned * centre
        off = _nearest(tree, turned, shifted, points)[0].mean(axis=1)
        best = np.argsort(off, kind="stable")[:kept]
        off, turned, shifted = off[best], turned[best], shifted[best]
    return [
        Way(float(far), float(np.angle(turn)), np.array([shift.real, shift.imag]))
        for far, turn, shift in zip(off, turned, shifted, strict=True)
    ]


def _complex(points: Array) -> NDArray[np.complex128]:
    return points[:, 0] + 1j * points[:, 1]


def _nearest(
    tree: cKDTree, turned: NDArray[np.complex128], shifted: NDArray[np.complex128], points: NDArray[np.complex128]
) -> tuple[Array, NDArray[np.intp]]:
    """Return for each place of the piece how far each point lies from the outline, mm, and from which of its points."""
    there = turned[:, None] * points + shifted[:, None]
    off, seen = tree.query(np.stack([there.real, there.imag], axis=-1))
    return off, seen
