"""Outlines of mouldings held against measured points: distances, slopes, and many descents in one sweep of arrays.

The outline is the cove's curve and the flat face on either side of it. A row of settings is (fence angle, blade
height, blade tilt, rotation, shift y, shift z), rad and mm: a measured point is its place in the stock frame's
(y, z), turned by the rotation and then shifted. What the numbers found mean is `match.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sweep.plan.closeness import distances, nearest
from sweep.shape.frame import highest_setting
from sweep.shape.outline import Settings, curves, edges, settings
from sweep.shape.tool import Tool

Array = NDArray[np.float64]

ANGLE, HEIGHT, TILT, ROTATION, SHIFT_Y, SHIFT_Z = range(6)
"""Places in a row."""

UNIT = np.array([math.radians(3), 1.0, math.radians(6), math.radians(3), 1.0, 1.0])
"""rad, mm. Changes of the settings that weigh about alike in an outline: their units in the sums."""

NUDGE = 1e-5
"""Part of a unit over which slopes are measured."""

LOT = 60_000
"""Pairs of a point and a piece of an outline that are measured at once, to stay in the processor's cache."""

FACE = 5000.0
"""mm. How far the flat face is drawn beyond each edge: farther than any point."""


@dataclass(frozen=True)
class Outlines:
    """Outlines that one tool can cut.

    Parameters
    ----------
    tool : Tool
    tilts : (float, float), rad
        Least and most; one tilt when they are the same.
    """

    tool: Tool
    tilts: tuple[float, float]

    @property
    def bounds(self) -> Array:
        """Least and most of each setting, (6, 2), rad and mm."""
        highest = min(highest_setting(self.tool, tilt) for tilt in self.tilts)
        anywhere = (-math.inf, math.inf)
        return np.array(
            [(math.radians(1), math.pi / 2), (0.05, 0.98 * highest), self.tilts, anywhere, anywhere, anywhere]
        )

    @property
    def free(self) -> NDArray[np.intp]:
        """Places in a row of the settings that are to be found."""
        return np.flatnonzero(self.bounds[:, 1] > self.bounds[:, 0])

    def edges(self, rows: Array) -> tuple[Array, Array]:
        """Return where the hollow meets the face, y in mm, (b,) each."""
        return edges(self.tool, _settings(rows))

    def off(self, points: Array, rows: Array, chords: int) -> Array:
        """Return how far points (n, 2) lie from outlines, (b, n) mm, positive on the side of the wood."""
        outlines, there = self._drawn(rows, chords), placed(points, rows)
        lots = math.ceil(len(rows) * len(points) * outlines.shape[1] / LOT)
        pairs = zip(np.array_split(there, lots), np.array_split(outlines, lots), strict=True)
        return np.concatenate([distances(*pair, nearest(*pair)) for pair in pairs])

    def slopes(self, points: Array, rows: Array, chords: int) -> tuple[Array, Array]:
        """Return distances (b, n), mm, and their derivatives by the free settings (b, n, f), mm a unit.

        What is nearest to a point is so a nudge further on too.
        """
        free = self.free
        every = np.vstack([rows, (rows + NUDGE * np.diag(UNIT)[free][:, None]).reshape(-1, 6)])
        outlines, there = self._drawn(every, chords), placed(points, every)
        pieces = nearest(there[: len(rows)], outlines[: len(rows)])
        found = distances(there, outlines, np.tile(pieces, (1 + len(free), 1))).reshape(1 + len(free), *pieces.shape)
        return found[0], np.moveaxis(found[1:] - found[0], 0, 2) / NUDGE

    def _drawn(self, rows: Array, chords: int) -> Array:
        cove = curves(self.tool, _settings(rows), chords)
        beyond = np.array([[-FACE, 0.0], [-FACE / 2, 0.0]])
        return np.hstack([cove[:, :1] + beyond, cove, cove[:, -1:] - beyond[::-1]])

    def looked_about(self, points: Array, chords: int) -> Array:
        """Return rows to start from: the best fence angles and tilts, each with its best height, rotation and shift."""
        angles, tilts = np.radians(np.geomspace(3, 80, 9)), self._some_tilts(5)
        axes = (angles, tilts, np.radians([-5, 5, 175, 185]), (1.0, 1.3, 2.0), (0.1, 0.3, 0.5, 0.7, 0.9))
        angle, tilt, rotation, times, share = (axis.ravel() for axis in np.meshgrid(*axes, indexing="ij"))
        rows = np.column_stack([angle, times, tilt, rotation, 0 * angle, 0 * angle])
        low, high = np.quantile(placed(points, rows), (0.03, 0.97), axis=1)  # (b, 2) each, deaf to a point gone astray
        rows[:, HEIGHT] = np.clip(times * (high - low)[:, 1], *self.bounds[HEIGHT])
        left, right = self.edges(rows)
        y, z = low[:, 0] + share * (high - low)[:, 0] - (left + right) / 2, low[:, 1]
        cosine, sine = np.cos(rotation), np.sin(rotation)
        rows[:, SHIFT_Y], rows[:, SHIFT_Z] = cosine * y - sine * z, sine * y + cosine * z
        gaps = np.abs(self.off(points, rows, chords)).mean(axis=1).reshape(len(angles) * len(tilts), -1)
        best = rows.reshape(*gaps.shape, 6)[np.arange(len(gaps)), gaps.argmin(axis=1)]
        closest: Array = best[np.argsort(gaps.min(axis=1))[:24]]
        return closest

    def tilted_anew(self, rows: Array) -> Array:
        """Return rows, and each again at other tilts: a leaning kerf and a leaning rim can balance at two of them."""
        tilts = self._some_tilts(9)
        anew = np.repeat(rows, len(tilts), axis=0)
        anew[:, TILT] = np.tile(tilts, len(rows))
        return np.vstack([rows, anew])

    def _some_tilts(self, count: int) -> Array:
        return np.linspace(*self.tilts, count if self.tilts[1] > self.tilts[0] else 1)

    def settled(self, points: Array, rows: Array, chords: int, soft: float, rounds: int) -> Array:
        """Return rows moved to the foot of the slope, the lowest first: Levenberg's and Marquardt's damped steps.

        The sum of 2 soft^2 (sqrt(1 + (off / soft)^2) - 1) is made least: squares near by, plain distances far off.
        """
        unit = UNIT[self.free]
        low, high = (self.bounds[self.free] / unit[:, None]).T
        damping = np.full(len(rows), 1e-2)
        off, slope = self.slopes(points, rows, chords)
        for _ in range(rounds):
            here = rows[:, self.free] / unit
            weight = 1 / np.sqrt(1 + (off / soft) ** 2)
            pull = np.einsum("bnf,bn->bf", slope, weight * off)
            held = ((here <= low) & (pull > 0)) | ((here >= high) & (pull < 0))
            loose = np.where(held[:, None], 0.0, slope)
            normal = np.einsum("bnf,bn,bng->bfg", loose, weight, loose)
            stiff = np.einsum("bff->bf", normal) * damping[:, None] + 1e-9
            step = np.linalg.solve(normal + stiff[:, None] * np.eye(len(unit)), np.where(held, 0.0, -pull)[..., None])
            there = rows.copy()
            there[:, self.free] = np.clip(here + np.clip(step[..., 0], -4, 4), low, high) * unit
            off_there, slope_there = self.slopes(points, there, chords)
            better = _cost(off_there, soft) < _cost(off, soft)
            moved = np.abs(there - rows).max()
            rows = np.where(better[:, None], there, rows)
            off = np.where(better[:, None], off_there, off)
            slope = np.where(better[:, None, None], slope_there, slope)
            damping = np.where(better, damping / 5, damping * 5)
            if moved < 1e-7:
                break
        return rows[np.argsort(_cost(off, soft))]


def placed(points: Array, rows: Array) -> Array:
    """Return points (n, 2) in the stock frame of each row, (b, n, 2) mm."""
    cosine, sine = np.cos(rows[:, ROTATION, None]), np.sin(rows[:, ROTATION, None])
    y, z = points[:, 0] - rows[:, SHIFT_Y, None], points[:, 1] - rows[:, SHIFT_Z, None]
    return np.stack([cosine * y + sine * z, cosine * z - sine * y], axis=2)


def apart(rows: Array, most: int) -> Array:
    """Return the first rows that differ in angle, tilt or rotation: those that differ in height alone may be alike."""
    chosen: list[Array] = []
    for row in rows:
        if all(np.abs((row - one) / UNIT)[[ANGLE, TILT, ROTATION]].max() > 0.2 for one in chosen):
            chosen.append(row)
    return np.array(chosen[:most])


def _settings(rows: Array) -> Settings:
    return settings(rows[:, ANGLE], rows[:, TILT], rows[:, HEIGHT])


def _cost(off: Array, soft: float) -> Array:
    """Return a quarter of what `settled` makes least, (b,), written so that small distances do not cancel."""
    cost: Array = (off**2 / (1 + np.sqrt(1 + (off / soft) ** 2))).sum(axis=1)
    return cost
