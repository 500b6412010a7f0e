"""How close many cut curves come to one line: signed distances both ways, in one sweep of arrays.

The same measure as `check/profile.py`, which lays a finished mesh against the target; here the exact
curves are laid against it, thousands at a time. Positive where wood is left.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def sampled(line: Array, count: int) -> Array:
    """Return points of a line about evenly along it, (m, 2) mm.

    A line of more than `count` points gives `count` of them or fewer, so that all lie on the curve it stands for. Any
    other line gives its corners and points between them.
    """
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    even = np.linspace(0.0, along[-1], count)
    if len(line) > count:
        own: Array = line[np.unique(np.searchsorted(along, even - 1e-12 * along[-1]))]
        return own
    places = np.union1d(even, along)
    return np.column_stack([np.interp(places, along, line[:, k]) for k in (0, 1)])


def deviations(curves: Array, line: Array, points: Array) -> Array:
    """Return the signed distances of a line to each curve and of each curve to the line.

    Parameters
    ----------
    curves : (b, n, 2) float, mm
        Cut curves from the left edge to the right one, n odd.
    line : (m, 2) float, mm
        The target, the same way.
    points : (p, 2) float, mm
        Points along it, see `sampled`.

    Returns
    -------
    (b, p + n) float, mm
        For the points of the line, then for those of the curve; positive where wood is left.
    """
    there = distances(points[None], curves)
    back = _signed(curves, line[None], np.zeros(1))
    return np.hstack([there, -back])


def distances(points: Array, curves: Array) -> Array:
    """Return the signed distances of points to cut curves drawn through a few points, (b, p) mm.

    Parameters
    ----------
    points : (b, p, 2) float, mm
        Or (1, p, 2) where all have the same.
    curves : (b, n, 2) float, mm
        Every other point ends a chord; the one between says how far the curve bulges beyond it, which
        leaves an error of the fourth order in the length of a chord instead of the second.
    """
    chords, between = curves[:, ::2], curves[:, 1::2]
    start, run = chords[:, :-1], np.diff(chords, axis=1)
    offset = between - start
    length = np.maximum(np.hypot(run[..., 0], run[..., 1]), 1e-12)  # a joint may coincide with an edge
    bulge = (run[..., 0] * offset[..., 1] - run[..., 1] * offset[..., 0]) / length
    return _signed(points, chords, 4 * bulge)


def largest(curves: Array, line: Array, points: Array, lot: int = 64) -> Array:
    """Return the largest deviation of each curve either way, (b,) mm, a lot of curves at a time to spare memory."""
    lots = [curves[k : k + lot] for k in range(0, len(curves), lot)]
    return (
        np.concatenate([np.abs(deviations(part, line, points)).max(axis=1) for part in lots]) if lots else np.zeros(0)
    )


def _signed(points: Array, paths: Array, bulges: Array) -> Array:
    """Return distances (b, p) of points (b, p, 2) to paths (b, n, 2), positive to the left of the path's direction.

    b may be 1 in either, where all share the same points or the same path. A piece of a path stands out to its left, at
    a share s of its run, by `bulges` s (1 - s), mm: one number a piece, or one for all.
    """
    start, run = paths[:, :-1], np.diff(paths, axis=1)
    length2 = np.maximum(_product(run, run), 1e-300)
    # the nearest piece by products of matrices, up to what is the same for every piece: |p - a|^2 - |p|^2, (p - a).run
    turned = points @ run.transpose(0, 2, 1)
    turned -= _product(start, run)[:, None, :]
    away2 = points @ (-2 * start).transpose(0, 2, 1)
    away2 += _product(start, start)[:, None, :]
    share = np.clip(turned / length2[:, None, :], 0.0, 1.0)
    turned *= -2
    turned += share * length2[:, None, :]
    turned *= share
    away2 += turned
    nearest = away2.argmin(axis=2)
    # and the distance to that piece alone, without their rounding
    share = np.take_along_axis(share, nearest[..., None], axis=2)[..., 0]
    rows = np.arange(len(paths))[:, None]
    along, offset = run[rows, nearest], points - start[rows, nearest]
    distance = np.hypot(*np.moveaxis(offset - share[..., None] * along, -1, 0))
    left = along[..., 0] * offset[..., 1] - along[..., 1] * offset[..., 0] >= 0
    bulge = np.broadcast_to(bulges, run.shape[:2])[rows, nearest]
    signed: Array = np.where(left, distance, -distance) - bulge * share * (1 - share)
    return signed


def _product(a: Array, b: Array) -> Array:
    """Return the inner products of plane vectors; a sum over so short an axis takes several times as long."""
    return a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]
