"""Match an offcut: from points measured on a moulding, the set-up that cut it, and how surely they tell it.

The outline of a moulding is the cove's curve and the flat face on either side of it. The points lie on any
part of it, in axes of their own: a point is its place in the stock frame's (y, z), turned by `rotation` and
shifted by `shift`. Least squares of the distances square to the outline by Levenberg's and Marquardt's damped
steps, many starts in one sweep of arrays; then the usual linear intervals, s^2 (J^T J)^-1 and Student's t.

The axes are those of the stock seen along the feed: y to the right, z up. A hollow that opens downwards on
the paper lies as it lay on the table; one that opens upwards is the piece turned half round. From the other
end, or with depths counted downwards, the outline is a mirror image and the tilt has the other sign.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import chdtrc, stdtrit

from sweep.errors import SceneError
from sweep.plan.closeness import distances
from sweep.shape.frame import highest_setting
from sweep.shape.outline import curves, edges, settings
from sweep.shape.tool import Tool

Array = NDArray[np.float64]

HEIGHT, TILT, SHIFT_Z, ANGLES = 1, 2, 5, [0, 2, 3]
"""Places in a row of (fence angle, blade height, blade tilt, rotation, shift y, shift z)."""

TELLING = np.array([math.radians(3), 1.0, math.radians(6), math.radians(3), 1.0, 1.0])
"""The widest half of an interval that still tells a setting (rad, mm), and the unit of each in the sums."""

UNSEEN = 1e-4
"""mm. Changes of the settings by `TELLING` that move the points by less than this cannot be seen in them."""

COARSE, FINE = 4, 24
"""Chords to each smooth piece of a curve while looking about, and while settling."""

LOT = 60_000
"""Point and piece pairs measured in one sweep of arrays, to stay in the processor's cache."""

FACE = 5000.0
"""mm. How far the flat face is drawn beyond each edge: farther than any point."""

FEWEST, MOST = 10, 3000
"""Points that can be matched."""


@dataclass(frozen=True)
class Estimate:
    """One setting as the points tell it, rad or mm; `half_width` of its 95 % interval is None where they do not."""

    value: float
    half_width: float | None


@dataclass(frozen=True)
class Match:
    """The set-up whose outline lies closest to the points.

    Parameters
    ----------
    fence_angle, blade_tilt : Estimate, rad
    blade_height : Estimate, mm
    rotation : Estimate, rad
        How far the piece lies turned in the axes of the points, anticlockwise; beyond a quarter turn
        its hollow opens upwards.
    shift : (Estimate, Estimate), mm
        Where the stock frame's y = 0, z = 0 for an offset of 0 lies in the axes of the points.
    rms, largest : float, mm
        Of the distances of the points to the outline.
    scatter : float, mm
        Their standard deviation, from as many degrees of freedom as there are points less settings.
    count, left_out : int
        Points used, and those that lie too far from all others to be of the same outline.
    on_face : (int, int)
        Points clear of the edges on the flat face, left and right.
    accuracy : float, mm
        What the scatter was held against.
    rough, in_waves : bool
        More scatter than the accuracy allows; neighbouring points lie off to the same side more than chance allows.
    at_limit : bool
        The tilt would go beyond its range if it could.
    """

    fence_angle: Estimate
    blade_height: Estimate
    blade_tilt: Estimate
    rotation: Estimate
    shift: tuple[Estimate, Estimate]
    rms: float
    largest: float
    scatter: float
    count: int
    left_out: int
    on_face: tuple[int, int]
    accuracy: float
    rough: bool
    in_waves: bool
    at_limit: bool
    rivals: tuple[tuple[float, float, float], ...] = ()

    @property
    def by_this_blade(self) -> bool:
        """Whether the blade can have cut the outline."""
        return not (self.rough and (self.in_waves or self.scatter > 3 * self.accuracy))

    @property
    def untold(self) -> tuple[str, ...]:
        """The settings that the points do not tell."""
        named = {"fence angle": self.fence_angle, "blade height": self.blade_height, "blade tilt": self.blade_tilt}
        return tuple(name for name, estimate in named.items() if estimate.half_width is None)


def match_offcut(
    tool: Tool, points: ArrayLike, tilts: tuple[float, float] = (-math.pi / 4, math.pi / 4), accuracy: float = 0.1
) -> Match:
    """Return the set-up of a blade whose outline lies closest to measured points.

    Parameters
    ----------
    tool : Tool
    points : (n, 2) float, mm
        In any order, in axes with y to the right and z up, as the piece is seen along the feed.
    tilts : (float, float), rad
        Least and most tilt; one tilt when they are the same.
    accuracy : float, mm
        Standard deviation of a measured point, square to the outline.

    Raises
    ------
    SceneError
        When the points, the tilts or the accuracy cannot be used.
    """
    points = _checked(points, tilts, accuracy)
    middle = points.mean(axis=0)
    outlines, points = _Outlines(tool, tilts), points - middle
    rows = outlines.settled(_thinned(points, 60), outlines.looked_about(_thinned(points, 30)), COARSE, accuracy, 12)
    rows = outlines.settled(_thinned(points, 60), outlines.tilted_anew(_apart(rows, 2)), COARSE, accuracy, 20)
    rows = _apart(rows, 4)
    rows = outlines.settled(_thinned(points, 300), rows, FINE, accuracy, 40)
    kept = _in_company(outlines.off(points, rows[:1], FINE)[0], accuracy)
    rows = _apart(outlines.settled(points[kept], rows, FINE, math.inf, 40), 4)
    return _described(outlines, points, kept, rows, middle, accuracy)


def _checked(points: ArrayLike, tilts: tuple[float, float], accuracy: float) -> Array:
    try:
        points = np.array(points, float)
    except ValueError:
        points = np.zeros(0)
    if points.ndim != 2 or points.shape[1] != 2:
        raise SceneError("points", "these are not points", "write y,z in mm, one point a line")
    if not FEWEST <= len(points) <= MOST:
        raise SceneError("points", f"there are {len(points)} of them", f"measure {FEWEST} to {MOST}")
    if not np.all(np.abs(points) <= FACE / 4):
        raise SceneError("points", "one is no point of a moulding", f"write numbers up to {FACE / 4:.0f} mm")
    if not 0.001 <= accuracy <= 5:
        raise SceneError("accuracy", f"{accuracy:.4g} mm is out of range", "write 0.001 mm to 5 mm")
    if not -math.pi / 3 <= tilts[0] <= tilts[1] <= math.pi / 3:
        raise SceneError("tilts", "these are not the least and the most", "write two within -60 deg and 60 deg")
    out_of_line = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)[1] / math.sqrt(len(points))
    if out_of_line < 2 * accuracy:
        raise SceneError("points", "they lie on a straight line", "measure across the hollow")
    return points


def _thinned(points: Array, most: int) -> Array:
    return points[:: math.ceil(len(points) / most)]


def _apart(rows: Array, most: int) -> Array:
    """Return the first few rows that differ in fence angle, tilt or rotation; heights alone may be all the same."""
    chosen: list[Array] = []
    for row in rows:
        if len(chosen) < most and all(np.abs((row - one) / TELLING)[ANGLES].max() > 0.2 for one in chosen):
            chosen.append(row)
    return np.array(chosen)


def _in_company(off: Array, accuracy: float) -> NDArray[np.bool_]:
    """Return which points to keep: none is left out where more than a tenth would be, for then the outline differs."""
    spread = max(1.4826 * np.median(np.abs(off)), accuracy / 10)
    kept = np.abs(off) <= 4 * spread
    return kept if np.mean(~kept) <= 0.1 else np.ones(len(off), bool)


@dataclass(frozen=True)
class _Outlines:
    """Outlines of one tool against points; a row is (fence angle, blade height, blade tilt, rotation, shift y and z)."""

    tool: Tool
    tilts: tuple[float, float]

    @property
    def bounds(self) -> Array:
        """(6, 2), rad and mm."""
        highest = min(highest_setting(self.tool, tilt) for tilt in self.tilts)
        anywhere = (-math.inf, math.inf)
        angles = (math.radians(1), math.pi / 2)
        return np.array([angles, (0.05, 0.98 * highest), self.tilts, anywhere, anywhere, anywhere])

    @property
    def free(self) -> NDArray[np.int64]:
        """Which settings are to be found."""
        return np.flatnonzero(self.bounds[:, 1] > self.bounds[:, 0])

    def off(self, points: Array, rows: Array, chords: int) -> Array:
        """Return how far points lie from outlines, (b, n) mm, positive on the side of the wood."""
        cove = curves(self.tool, settings(rows[:, 0], rows[:, 2], rows[:, 1]), chords)
        beyond = np.array([[-FACE, 0.0], [-FACE / 2, 0.0]])
        outline = np.hstack([cove[:, :1] + beyond, cove, cove[:, -1:] - beyond[::-1]])
        place = placed(points, rows)
        lots = math.ceil(len(points) * outline.shape[1] * len(rows) / LOT)
        pairs = zip(np.array_split(place, lots), np.array_split(outline, lots), strict=True)
        return np.concatenate([distances(*pair) for pair in pairs])

    def slopes(self, points: Array, rows: Array, chords: int) -> tuple[Array, Array]:
        """Return distances (b, n) and their derivatives (b, n, f) by the free settings, each in its unit."""
        nudges = 1e-5 * np.diag(TELLING)[self.free]
        every = np.concatenate([rows[:, None], rows[:, None] + nudges], axis=1)
        found = self.off(points, every.reshape(-1, 6), chords).reshape(len(rows), -1, len(points))
        return found[:, 0], np.moveaxis(found[:, 1:] - found[:, :1], 1, 2) / 1e-5

    def looked_about(self, points: Array) -> Array:
        """Return rows to start from: for each fence angle and tilt the best of some heights, rotations and shifts."""
        angles = np.radians(np.geomspace(3, 80, 9))
        tilts = np.linspace(*self.tilts, 5 if self.tilts[1] > self.tilts[0] else 1)
        axes = (angles, tilts, np.radians([-5, 5, 175, 185]), (1.0, 1.3, 2.0), (0.1, 0.3, 0.5, 0.7, 0.9))
        angle, tilt, rotation, times, share = (axis.ravel() for axis in np.meshgrid(*axes, indexing="ij"))
        rows = np.column_stack([angle, times, tilt, rotation, 0 * angle, 0 * angle])
        turned = placed(points, rows)
        low, high = np.quantile(turned, (0.03, 0.97), axis=1)  # (b, 2) each: one point gone astray does not count
        rows[:, 1] = np.clip(times * (high - low)[:, 1], *self.bounds[1])
        left, right = edges(self.tool, settings(rows[:, 0], rows[:, 2], rows[:, 1]))
        y = low[:, 0] + share * (high - low)[:, 0] - (left + right) / 2
        cosine, sine = np.cos(rotation), np.sin(rotation)
        rows[:, 4], rows[:, 5] = cosine * y - sine * low[:, 1], sine * y + cosine * low[:, 1]
        gaps = np.abs(self.off(points, rows, COARSE)).mean(axis=1)
        gaps = gaps.reshape(len(angles) * len(tilts), -1)
        return rows.reshape(*gaps.shape, 6)[np.arange(len(gaps)), gaps.argmin(axis=1)]

    def tilted_anew(self, rows: Array) -> Array:
        """Return rows with every tilt in place of their own: leaning kerf and leaning rim can balance at two tilts."""
        tilts = np.linspace(*self.tilts, 9 if self.tilts[1] > self.tilts[0] else 1)
        anew = np.repeat(rows, len(tilts), axis=0)
        anew[:, TILT] = np.tile(tilts, len(rows))
        return np.vstack([rows, anew])

    def settled(self, points: Array, rows: Array, chords: int, soft: float, rounds: int) -> Array:
        """Return rows moved to the foot of the slope, the best first.

        The sum of 2 soft^2 (sqrt(1 + (off / soft)^2) - 1) is made least: squares near by, plain distances far off.
        """
        unit = TELLING[self.free]
        low, high = (self.bounds[self.free] / unit[:, None]).T
        damping = np.full(len(rows), 1e-2)
        off, slope = self.slopes(points, rows, chords)
        for _ in range(rounds):
            weight = 1 / np.sqrt(1 + (off / soft) ** 2)
            pull = np.einsum("bnf,bn->bf", slope, weight * off)
            here = rows[:, self.free] / unit
            held = ((here <= low) & (pull > 0)) | ((here >= high) & (pull < 0))
            loose = np.where(held[:, None], 0.0, slope)
            normal = np.einsum("bnf,bn,bng->bfg", loose, weight, loose)
            stiff = np.einsum("bff->bf", normal) * damping[:, None] + 1e-9
            step = np.linalg.solve(normal + stiff[:, None] * np.eye(len(unit)), -np.where(held, 0.0, pull)[..., None])
            there = rows.copy()
            there[:, self.free] = np.clip(here + np.clip(step[..., 0], -4, 4), low, high) * unit
            off_there, slope_there = self.slopes(points, there, chords)
            better = _cost(off_there, soft) < _cost(off, soft)
            moved = np.abs(there - rows).max(axis=1)
            rows = np.where(better[:, None], there, rows)
            off = np.where(better[:, None], off_there, off)
            slope = np.where(better[:, None, None], slope_there, slope)
            damping = np.where(better, damping / 5, damping * 5)
            if np.all(moved < 1e-9):
                break
        return rows[np.argsort(_cost(off, soft))]


def placed(points: Array, rows: Array) -> Array:
    """Return points in the stock frame of each row, (b, n, 2) mm."""
    cosine, sine = np.cos(rows[:, 3, None]), np.sin(rows[:, 3, None])
    y, z = points[:, 0] - rows[:, 4, None], points[:, 1] - rows[:, 5, None]
    return np.stack([cosine * y + sine * z, cosine * z - sine * y], axis=2)


def _cost(off: Array, soft: float) -> Array:
    """Return what `settled` makes least, halved; written so that it does not cancel where `off` is small."""
    return (off**2 / (1 + np.sqrt(1 + (off / soft) ** 2))).sum(axis=1)


def _described(outlines, points, kept, rows, middle, accuracy) -> Match:
    here = rows[:1]
    used = points[kept]
    free = outlines.free
    at_limit = TILT in free and min(abs(tilt - here[0, TILT]) for tilt in outlines.tilts) < 1e-9
    off, slope = (found[0] for found in outlines.slopes(used, here, FINE))
    if at_limit:
        slope, free = np.delete(slope, TILT, axis=1), np.delete(free, TILT)
    place = placed(used, here)[0]
    order = np.argsort(place[:, 0])
    spare = len(used) - len(free)
    scatter = math.sqrt(off @ off / spare)
    in_waves, widened = _waves(off[order], slope[order])
    half = np.full(6, np.nan)
    sure = stdtrit(spare, 0.975) * widened
    half[free] = sure * scatter * _uncertainty(slope)
    costs = (outlines.off(used, rows, FINE) ** 2).sum(axis=1)
    rivals = rows[1:][costs[1:] - costs[0] < (sure * scatter) ** 2]
    half += np.abs(rivals - here).max(axis=0, initial=0.0) / TELLING
    left, right = (float(e[0]) for e in edges(outlines.tool, settings(here[:, 0], here[:, 2], here[:, 1])))
    clear = 5 * max(scatter, accuracy)
    on_face = int((place[:, 0] < left - clear).sum()), int((place[:, 0] > right + clear).sum())
    if sum(on_face) < 2:
        half[[1, 5]] = np.nan
    if len(outlines.free) < 6:
        half[2] = 0.0
    values = here[0] + [0, 0, 0, 0, *middle]
    values[3] = math.remainder(values[3], 2 * math.pi)
    estimates = [Estimate(float(v), float(h) * float(u) if h <= 1 else None) for v, h, u in zip(values, half, TELLING, strict=True)]
    return Match(
        *estimates[:4], tuple(estimates[4:]), 
        rms=math.sqrt(np.mean(off**2)), largest=float(np.abs(off).max()), scatter=scatter, count=len(used), left_out=int((~kept).sum()),
        on_face=on_face, accuracy=accuracy, rough=bool(chdtrc(spare, spare * (scatter / accuracy) ** 2) < 0.01), in_waves=in_waves, at_limit=bool(at_limit), rivals=tuple(tuple(map(float, row[:3])) for row in rivals)
    )


def _uncertainty(slope: Array) -> Array:
    """Return the standard deviation of each setting for a scatter of 1, in its unit; infinite where it is unseen."""
    _, strength, ways = np.linalg.svd(slope, full_matrices=False)
    seen = strength > UNSEEN * math.sqrt(len(slope))
    share = (ways[seen] ** 2 / strength[seen, None] ** 2).sum(axis=0)
    return np.where((ways[~seen] ** 2).sum(axis=0) > 1e-4, np.inf, np.sqrt(share))


def _waves(off: Array, slope: Array) -> tuple[bool, float]:
    """Return whether neighbours lie off together more than chance allows, and how much wider that makes intervals.

    Durbin and Watson's d = sum (off_k+1 - off_k)^2 / sum off_k^2 with the mean and variance it has for independent
    errors and these slopes (Biometrika 37, 1950; the reference from memory).
    """
    basis, strength, _ = np.linalg.svd(slope, full_matrices=False)
    basis = basis[:, strength > UNSEEN * math.sqrt(len(off))]
    n, f = basis.shape
    jumps = np.diff(basis, axis=0)
    turns = np.diff(np.pad(jumps, ((1, 1), (0, 0))), axis=0)
    first = 2 * (n - 1) - (jumps**2).sum()
    second = 6 * n - 8 - 2 * (turns**2).sum() + ((jumps.T @ jumps) ** 2).sum()
    mean = first / (n - f)
    deviation = math.sqrt(2 * (second - first * mean) / ((n - f) * (n - f + 2)))
    found = (np.diff(off) ** 2).sum() / max(off @ off, 1e-300)
    if mean - found < 3 * deviation or off @ off < n * UNSEEN**2:
        return False, 1.0
    alike = min(1 - found / mean, 0.98)
    return True, math.sqrt((1 + alike) / (1 - alike))
