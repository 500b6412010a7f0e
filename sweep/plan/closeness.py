"""How close many cut curves come to one line: signed distances both ways, in one sweep of arrays.

The same measure as `check/profile.py`, which lays a finished mesh against the target; here the exact
curves are laid against it, thousands at a time. Positive where wood is left.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Pieces = NDArray[np.intp]

ALIKE = 0.01
"""mm. Curves that differ by less are alike: far more than a nudge moves one, far less than a chord is long."""


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
    return _deviations(curves, line, points, curves)


def deviations_beside(curves: Array, line: Array, points: Array) -> Array:
    """Return what `deviations` does, of curves all but alike: what is nearest to the first is nearest to every one.

    So slopes are had for little more than one curve costs. Where a blade's tangent is about to vanish, the points of a
    curve jump, and each is looked at by itself.
    """
    alike = float(np.ptp(curves, axis=0).max()) < ALIKE
    return _deviations(curves, line, points, curves[:1] if alike else curves)


def nearest(points: Array, curves: Array) -> Pieces:
    """Return which piece of each curve is nearest to each point, (b, p); shapes as in `distances`."""
    return _nearest(points, curves[:, ::2])


def distances(points: Array, curves: Array, pieces: Pieces) -> Array:
    """Return the signed distances of points to pieces of cut curves drawn through a few points, (b, p) mm.

    Parameters
    ----------
    points : (b, p, 2) float, mm
        Or (1, p, 2) where all have the same.
    curves : (b, n, 2) float, mm
        Every other point ends a chord; the one between says how far the curve bulges beyond it, which
        leaves an error of the fourth order in the length of a chord instead of the second.
    pieces : (b, p) int
        The nearest to each point, see `nearest`; or (1, p) where they are the same of all curves.
    """
    chords, between = curves[:, ::2], curves[:, 1::2]
    start = chords[:, :-1]
    run, offset = chords[:, 1:] - start, between - start
    length = np.maximum(np.sqrt(_product(run, run)), 1e-12)  # a joint may coincide with an edge
    bulge = (run[..., 0] * offset[..., 1] - run[..., 1] * offset[..., 0]) / length
    return _signed(points, chords, pieces, 4 * bulge)


def largest(curves: Array, line: Array, points: Array, lot: int = 128) -> Array:
    """Return the largest deviation of each curve either way, (b,) mm, a lot at a time to stay in the cache."""
    lots = [curves[k : k + lot] for k in range(0, len(curves), lot)]
    return (
        np.concatenate([np.abs(deviations(part, line, points)).max(axis=1) for part in lots]) if lots else np.zeros(0)
    )


def largest_about(curves: Array, line: Array, points: Array) -> Array:
    """Return what `largest` does, of many curves that lie about one of them: the nearer to it, the sooner."""
    there = distances(points[None], curves, _nearest_in_reach(points[None], curves[:, ::2]))
    back = _signed(curves, line[None], _nearest_in_reach(curves, line[None]))
    found: Array = np.maximum(np.abs(there).max(axis=1), np.abs(back).max(axis=1))
    return found


def _nearest_in_reach(points: Array, paths: Array) -> Pieces:
    """Return what `_nearest` does; pieces that are too far off in the middle one to be nearest in any are left out.

    No distance differs from that in the middle one by more than a point and an end of a piece lie away from there.
    """
    starts, runs = paths[:, :-1], np.diff(paths, axis=1)
    middle, beside = len(paths) // 2, points[len(points) // 2]
    off = np.sqrt(_squared(_sides(beside[:, None] - starts[middle]), _sides(runs[middle])))
    ends = _away(paths)
    away = _away(points)[:, None] + np.maximum(ends[1:], ends[:-1])
    in_reach = off - away <= (off + away).min(axis=1, keepdims=True)
    found = np.zeros((points.shape[1], max(len(points), len(paths))), np.intp)
    (start_y, start_z), (run_y, run_z) = _sides(starts.swapaxes(0, 1)), _sides(runs.swapaxes(0, 1))
    for k, (y, z) in enumerate(zip(*_sides(points.swapaxes(0, 1)), strict=True)):
        first, last = np.flatnonzero(in_reach[k])[[0, -1]]
        found[k] = first
        if first < last:
            some = slice(first, last + 1)
            found[k] += _squared((y - start_y[some], z - start_z[some]), (run_y[some], run_z[some])).argmin(axis=0)
    return np.ascontiguousarray(found.T)


def _sides(vectors: Array) -> tuple[Array, Array]:
    """Return y and z of plane vectors, (..., 2), each by itself in memory: sums are done in half the time."""
    return np.ascontiguousarray(vectors[..., 0]), np.ascontiguousarray(vectors[..., 1])


def _away(paths: Array) -> Array:
    """Return how far each point of paths, (b, n, 2), lies at most from that of the one in their middle, (n,) mm."""
    away: Array = np.sqrt(_product(*(2 * [paths - paths[len(paths) // 2]]))).max(axis=0)
    return away


def _squared(beside: tuple[Array, Array], run: tuple[Array, Array]) -> Array:
    """Return the squared distances of points to pieces, mm2, shapes that broadcast.

    Both are given as y and z: points from where a piece starts, and the run of the piece.
    """
    (y, z), (run_y, run_z) = beside, run
    share = (y * run_y + z * run_z) / np.maximum(run_y * run_y + run_z * run_z, 1e-300)
    share = np.minimum(np.maximum(share, 0.0), 1.0)
    squared: Array = (y - share * run_y) ** 2 + (z - share * run_z) ** 2
    return squared


def _deviations(curves: Array, line: Array, points: Array, like: Array) -> Array:
    there = distances(points[None], curves, nearest(points[None], like))
    back = _signed(curves, line[None], _nearest(like, line[None]))
    return np.hstack([there, -back])


def _nearest(points: Array, paths: Array) -> Pieces:
    """Return which piece of paths (b, n, 2) is nearest to points (b, p, 2), (b, p); b may be 1 in either.

    Beside a piece's own axes a point lies |across| from its line and |along| - half its length beyond its nearer end.
    """
    run, middle = paths[:, 1:] - paths[:, :-1], (paths[:, 1:] + paths[:, :-1]) / 2
    length = np.sqrt(_product(run, run))
    none = length == 0  # such a piece has no direction of its own, and may take any
    y, z = np.where(none, 1.0, run[..., 0]) / (length + none), run[..., 1] / (length + none)
    across = points @ np.stack([-z, y], axis=1)
    across -= (y * middle[..., 1] - z * middle[..., 0])[:, None, :]
    across *= across
    beyond = points @ np.stack([y, z], axis=1)
    beyond -= (y * middle[..., 0] + z * middle[..., 1])[:, None, :]
    np.abs(beyond, out=beyond)
    beyond -= length[:, None, :] / 2
    np.maximum(beyond, 0.0, out=beyond)
    beyond *= beyond
    beyond += across
    found: Pieces = beyond.argmin(axis=2)
    return found


def _signed(points: Array, paths: Array, pieces: Pieces, bulges: Array | None = None) -> Array:
    """Return distances (b, p) of points (b, p, 2) to pieces of paths (b, n, 2), positive to the left of their run.

    b may be 1 in any, where all share it. A piece of a path stands out to its left, at a share s of its run, by
    `bulges` s (1 - s), (b, n - 1) mm, or is straight.
    """
    start, run = paths[:, :-1], paths[:, 1:] - paths[:, :-1]
    at = pieces + run.shape[1] * np.arange(len(paths))[:, None]
    along_y, along_z, start_y, start_z = (side[..., k].ravel().take(at) for side in (run, start) for k in (0, 1))
    y, z = points[..., 0] - start_y, points[..., 1] - start_z
    share = (y * along_y + z * along_z) / np.maximum(along_y**2 + along_z**2, 1e-300)
    share = np.minimum(np.maximum(share, 0.0), 1.0)
    distance = np.sqrt((y - share * along_y) ** 2 + (z - share * along_z) ** 2)
    signed: Array = np.copysign(distance, along_y * z - along_z * y + 0.0)  # no noughts below nought
    if bulges is not None:
        signed -= bulges.ravel().take(at) * share * (1 - share)
    return signed


def _product(a: Array, b: Array) -> Array:
    """Return the inner products of plane vectors; a sum over so short an axis takes several times as long."""
    return a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]
