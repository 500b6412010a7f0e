"""Match an offcut: from points measured on a moulding, the set-up that cut it, and how surely they tell it.

The points lie on any part of the outline, the hollow or the flat face beside it, in axes of their own. Least
squares of their distances square to it (`moulding.py`), then the usual linear intervals: s^2 (J^T J)^-1 and
Student's t. Points that scatter less than they were measured, as those of a picture do, lie off together: s is then
how exactly they were measured.

The axes are those of the stock seen along the feed: y to the right, z up. A hollow that opens downwards on the
paper lies as it lay on the table; one that opens upwards is the piece turned half round. From the other end, or
with depths counted downwards, an outline is its mirror image, and the tilt that fits it has the other sign.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.errors import SceneError
from sweep.figure import count, length
from sweep.plan.moulding import ANGLE, FACE, HEIGHT, ROTATION, SHIFT_Y, SHIFT_Z, TILT, UNIT, Outlines, apart, placed
from sweep.quantity import read_quantity
from sweep.scene.limits import CALLIPERS
from sweep.shape.tool import Tool
from sweep.units import LENGTH

Array = NDArray[np.float64]

COARSE, FINE = 4, 24
"""Chords to each smooth piece of a curve while looking about, and while settling."""

TELLING = UNIT
"""rad, mm. The widest half of an interval that still tells a setting."""

UNSEEN = 1e-4
"""mm. Where changes of the settings by `TELLING` move the points by less than this, the points cannot tell them."""

FEWEST, MOST = 10, 3000
"""Points that can be matched."""

ACCURACY = read_quantity(CALLIPERS, LENGTH)
"""mm. Standard deviation of a measured point, where nothing else is said."""


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
        A tilt that was given is held to be exact.
    blade_height : Estimate, mm
    rotation : Estimate, rad
        How far the piece lies turned in the axes of the points, anticlockwise; about half a turn where
        its hollow opens upwards.
    shift : (Estimate, Estimate), mm
        Where the stock frame's y = 0, z = 0, at an offset of 0, lies in the axes of the points.
    rms, largest : float, mm
        Of the distances of the points from the outline.
    scatter : float, mm
        Their standard deviation, of as many degrees of freedom as there are points less settings.
    count, left_out : int
        Points used, and points too far from where all others lie.
    on_face : (int, int)
        Points on the flat face, clear of the edges, left and right.
    accuracy : float, mm
        Standard deviation of a measured point, as stated.
    rough, in_waves : bool
        More scatter than the accuracy allows; neighbours lie off to the same side more often than chance allows.
    at_limit : bool
        The tilt would go beyond its range if it could.
    rivals : tuple of (fence angle, blade height, blade tilt), rad and mm
        Other set-ups that fit as well; the intervals reach as far as these.
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
    rivals: tuple[tuple[float, float, float], ...]

    @property
    def by_this_blade(self) -> bool:
        """Whether the blade can have cut the outline: scatter alone is bad measuring, unless there is a lot of it."""
        return not self.rough or (not self.in_waves and self.scatter <= 3 * self.accuracy)

    @property
    def untold(self) -> tuple[str, ...]:
        """Names of the settings that the points do not tell."""
        found = {"fence angle": self.fence_angle, "blade height": self.blade_height, "blade tilt": self.blade_tilt}
        return tuple(name for name, estimate in found.items() if estimate.half_width is None)


def match_offcut(
    tool: Tool,
    points: ArrayLike,
    tilts: tuple[float, float] = (-math.pi / 4, math.pi / 4),
    accuracy: float = ACCURACY,
) -> Match:
    """Return the set-up of a blade whose outline lies closest to measured points.

    Parameters
    ----------
    tool : Tool
    points : (n, 2) float, mm
        In any order, turned by up to 20 deg, either way up, anywhere.
    tilts : (float, float), rad
        Least and most tilt; the same twice where it is known.
    accuracy : float, mm
        Standard deviation of a measured point, square to the outline.

    Raises
    ------
    SceneError
        When the points, the tilts or the accuracy cannot be used.
    """
    measured = checked(points, tilts, accuracy)
    middle: Array = measured.mean(axis=0)
    about, outlines = measured - middle, Outlines(tool, tilts)
    few = _thinned(about, 60)
    rows = outlines.settled(few, outlines.looked_about(_thinned(about, 30), COARSE), COARSE, accuracy, 10)
    rows = outlines.settled(few, outlines.tilted_anew(apart(rows, 2)), COARSE, accuracy, 12)
    rows = outlines.settled(_thinned(about, 300), apart(rows, 4), FINE, accuracy, 40)
    kept = in_company(outlines.off(about, rows[:1], FINE)[0], accuracy)
    rows = apart(outlines.settled(about[kept], rows, FINE, math.inf, 40), 4)
    return _described(outlines, about[kept], rows, middle, accuracy, int((~kept).sum()))


def checked(points: ArrayLike, tilts: tuple[float, float], accuracy: float) -> Array:
    """Return measured points as an array, (n, 2) mm.

    Raises
    ------
    SceneError
        When they, the tilts or the accuracy cannot be used.
    """
    try:
        points = np.array(points, float)
    except (TypeError, ValueError):
        points = np.zeros(0)
    if points.ndim != 2 or points.shape[1] != 2:
        raise SceneError("points", "these are not pairs of numbers", "write y,z in mm, one point a line")
    if not FEWEST <= len(points) <= MOST:
        number = count(len(points))
        raise SceneError("points", "there are {value} of them", f"measure {FEWEST} to {MOST}", value=number)
    if not np.all(np.abs(points) <= FACE / 4):
        far = length(FACE / 4)
        raise SceneError("points", "one lies too far off for a moulding", "write y,z in mm, up to {limit}", limit=far)
    if not -math.pi / 3 <= tilts[0] <= tilts[1] <= math.pi / 3:
        raise SceneError(
            "tilts", "these are not the least and the most", 'write, for example, "-45 deg" "45 deg", within 60 deg'
        )
    if not 0.001 <= accuracy <= 5:
        least, most = length(0.001), length(5.0)
        ends = {"value": length(accuracy), "least": least, "most": most}
        raise SceneError("accuracy", "{value} is out of range", "write {least:up} to {most:down}", **ends)
    out_of_line = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)[1] / math.sqrt(len(points))
    if out_of_line < 2 * accuracy:
        raise SceneError("points", "they lie on a straight line as far as can be measured", "measure across the hollow")
    return points


def _thinned(points: Array, most: int) -> Array:
    return points[:: math.ceil(len(points) / most)]


def in_company(off: Array, accuracy: float) -> NDArray[np.bool_]:
    """Return which points to keep; outliers are dropped.

    If more than 1 in 30 would be dropped (or 2 of few points), all are kept: so many mean that the outline is not this
    blade's.
    """
    spread = 1.4826 * np.median(np.abs(off)) * math.sqrt(len(off) / (len(off) - 6))  # of a normal one, by its quartiles
    spread = max(spread, accuracy / 10)
    kept = np.abs(off) <= 4 * spread
    return kept if (~kept).sum() <= max(2, len(off) // 30) else np.ones(len(off), bool)


def _described(outlines: Outlines, points: Array, rows: Array, middle: Array, accuracy: float, left_out: int) -> Match:
    best, free = rows[:1], outlines.free
    off, slope = (found[0] for found in outlines.slopes(points, best, FINE))
    at_limit = TILT in free and min(abs(tilt - best[0, TILT]) for tilt in outlines.tilts) < 1e-9
    if at_limit:
        slope, free = slope[:, free != TILT], free[free != TILT]
    spare = len(points) - len(free)
    from scipy.special import chdtrc, stdtrit  # not above: a run comes by this file, and has no use for it

    scatter = math.sqrt(off @ off / spare)
    y = placed(points, best)[0, :, 0]
    left, right = (edge[0] for edge in outlines.edges(best))
    clear = 5 * max(scatter, accuracy)  # nearer, a point of the hollow's flank might pass for one of the face
    on_face = int((y < left - clear).sum()), int((y > right + clear).sum())

    in_waves, wider = _waves(off[np.argsort(y)], slope[np.argsort(y)])
    reach = stdtrit(spare, 0.975) * wider * max(scatter, accuracy)
    half = np.full(6, np.inf)
    half[free] = reach * _looseness(slope) * UNIT[free]
    if TILT not in outlines.free:
        half[TILT] = 0.0
    if sum(on_face) < 2:
        # the hollow alone is the same for a blade set higher, and for a piece turned about the feed with a blade tilted
        half[slice(6) if TILT in outlines.free else [HEIGHT, SHIFT_Z]] = np.inf
    costs = (outlines.off(points, rows, FINE) ** 2).sum(axis=1)
    rivals = rows[1:][costs[1:] - costs[0] < reach**2]
    half += np.abs(rivals - best).max(axis=0, initial=0.0)

    values = best[0]
    values[[SHIFT_Y, SHIFT_Z]] += middle
    values[ROTATION] = math.remainder(values[ROTATION], 2 * math.pi)
    told = half <= TELLING
    found = [Estimate(float(v), float(h) if t else None) for v, h, t in zip(values, half, told, strict=True)]
    return Match(
        fence_angle=found[ANGLE],
        blade_height=found[HEIGHT],
        blade_tilt=found[TILT],
        rotation=found[ROTATION],
        shift=(found[SHIFT_Y], found[SHIFT_Z]),
        rms=math.sqrt(off @ off / len(off)),
        largest=float(np.abs(off).max()),
        scatter=scatter,
        count=len(off),
        left_out=left_out,
        on_face=on_face,
        accuracy=accuracy,
        rough=bool(chdtrc(spare, spare * (scatter / accuracy) ** 2) < 0.01),
        in_waves=in_waves,
        at_limit=at_limit,
        rivals=tuple((float(row[ANGLE]), float(row[HEIGHT]), float(row[TILT])) for row in rivals),
    )


def _looseness(slope: Array) -> Array:
    """Return the standard deviation of each setting, in its unit, for a scatter of 1 mm; infinite where unseen."""
    _, strength, ways = np.linalg.svd(slope, full_matrices=False)
    seen = strength > UNSEEN * math.sqrt(len(slope))
    unseen = (ways[~seen] ** 2).sum(axis=0) > 1e-4
    return np.where(unseen, np.inf, np.sqrt((ways[seen] ** 2 / strength[seen, None] ** 2).sum(axis=0)))


def _waves(off: Array, slope: Array) -> tuple[bool, float]:
    """Return whether neighbours lie off together more than chance allows, and how much wider that makes intervals.

    Durbin and Watson's d is the sum of squares of the steps from one distance to the next, over that of the distances.
    It is held against the mean and variance that independent errors would give it for these slopes (Biometrika 37,
    1950; the reference from memory). The more alike neighbours lie, the fewer points the intervals count.
    """
    basis, strength, _ = np.linalg.svd(slope, full_matrices=False)
    basis = basis[:, strength > UNSEEN * math.sqrt(len(off))]
    n, f = basis.shape
    steps = np.diff(basis, axis=0)
    bends = np.diff(np.pad(steps, ((1, 1), (0, 0))), axis=0)
    first = 2 * (n - 1) - (steps**2).sum()
    second = 6 * n - 8 - 2 * (bends**2).sum() + ((steps.T @ steps) ** 2).sum()
    mean = first / (n - f)
    deviation = math.sqrt(2 * (second - first * mean) / ((n - f) * (n - f + 2)))
    if off @ off < n * UNSEEN**2:
        return False, 1.0
    alike = 1 - (np.diff(off) ** 2).sum() / (off @ off) / mean
    if alike * mean < 3.5 * deviation:
        return False, 1.0
    return True, math.sqrt((1 + alike) / max(1 - alike, 0.02))
