"""Teeth stepped through wood one by one: truth about shavings that shares nothing with the program.

Points are strewn in a slice of stock two feeds per tooth long, which is one round of both hands. Tooth after tooth goes
by, each on its true path, the trochoid of a turning rim over fed stock; the first tooth whose outline holds a point as
it passes has cut it. Which edge did is told by where the point crossed the outline since that tooth, or the last one
of its hand, went by. Lengths in mm, angles in radians.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Saw:
    """A blade over a table, and stock that is fed over it.

    Parameters
    ----------
    radius, kerf, bevel : float
        A bevel of 0 makes flat tips.
    teeth : int
    angle, tilt, height, before : float
        Of the fence, of the blade, of its highest point, and of that in the pass before; 0 when there was none.
    feed : float
        Per tooth.
    width : float
        Of the stock, whose middle runs over the blade's centre; it is thicker than the cut is deep.
    """

    radius: float
    kerf: float
    bevel: float
    teeth: int
    angle: float
    tilt: float
    height: float
    before: float
    feed: float
    width: float

    def rim(self, a: np.ndarray, hand: np.ndarray) -> np.ndarray:
        """Return the radius of a tooth's tip at places along the arbor: hand 0 is tall on the oncoming stock's side."""
        tall = np.where(hand == 0, a + self.kerf / 2, self.kerf / 2 - a)
        return self.radius - tall * math.tan(self.bevel)


@dataclass(frozen=True)
class Cut:
    """What one round of both hands has cut: an entry a point.

    Parameters
    ----------
    hand : (n,) int
    side : (n,) bool
        By the side edge.
    depth : (n,) float
        Square to the edge that cut it, from that edge.
    thickness : (n,) float
        How far that edge stands, square to itself, beyond where the last tooth that reaches there left it.
    radius : (n,) float
    volume : float, mm3
        That each point stands for.
    """

    hand: np.ndarray
    side: np.ndarray
    depth: np.ndarray
    thickness: np.ndarray
    radius: np.ndarray
    volume: float

    def taken(self, hand: int) -> float:
        """Return the volume that a tooth of one hand takes."""
        return float((self.hand == hand).sum()) * self.volume

    def mean_thickness(self) -> float:
        """Return thickness averaged over edges and rim angles in wood: each point stands for its share of edge."""
        return float((1 / self.radius).sum() / (1 / (self.radius * self.thickness)).sum())


def cut(saw: Saw, points: int, seed: int = 1) -> Cut:
    """Return what a pass cuts from stock that the pass before has gone over."""
    from scipy.stats import qmc  # it takes a while to load, and only the worker that asks needs it

    u, z, x = (qmc.Halton(3, seed=seed).random(points) * [saw.width, saw.height, 2 * saw.feed]).T
    u -= saw.width / 2
    if saw.before > 0:
        fresh = _first_to_cut(saw, saw.before, u, z, x)[0] == _NEVER
        u, z, x = u[fresh], z[fresh], x[fresh]
    first, a, r, a1, a2, r2 = _first_to_cut(saw, saw.height, u, z, x)
    hit = first != _NEVER
    first, a, r, a1, a2, r2 = (each[hit] for each in (first, a, r, a1, a2, r2))
    hand = first % 2 if saw.bevel else np.zeros_like(first)
    low = -saw.kerf / 2
    # at the last passage of a tooth like it the point lay outside: it came in through the side edge where the way
    # from there crosses that edge below its tip
    share = np.divide(low - a2, a - a2, out=np.full_like(a, -1.0), where=a2 < low)
    edge = np.full_like(a, low)
    side = (a2 < low) & (r2 + share * (r - r2) <= saw.rim(edge, hand))
    depth = np.where(side, a - low, (saw.rim(a, hand) - r) * math.cos(saw.bevel))
    until = np.where(r <= saw.rim(edge, 1 - hand), a1, a2)  # the tooth before reaches there, or only that before it
    slope = np.where(hand == 0, 1, -1) * math.tan(saw.bevel)
    rise = (r2 - r + slope * (a2 - a)) * math.cos(saw.bevel)
    return Cut(hand, side, depth, np.where(side, a - until, rise), r, saw.width * saw.height * 2 * saw.feed / points)


_NEVER = np.iinfo(np.int64).max


def _first_to_cut(saw: Saw, height: float, u: np.ndarray, z: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, ...]:
    """Return which tooth cuts each point first, and where it then is on that tooth and was on those before.

    These are its number, arbor offset and radius; the offset on the tooth before; both on the last of its hand.
    """
    feed = np.array([math.sin(saw.angle), math.cos(saw.angle), 0.0])
    right = np.array([math.cos(saw.angle), -math.sin(saw.angle), 0.0])
    up = np.array([math.sin(saw.tilt), 0.0, math.cos(saw.tilt)])
    arbor = np.array([math.cos(saw.tilt), 0.0, -math.sin(saw.tilt)])
    y = np.array([0.0, 1.0, 0.0])
    top = max(  # of the rim at either side, over the arbor
        side * saw.kerf / 2 * arbor[2] + saw.radius * up[2] for side in (-1, 1)
    )
    centre = (height - top) / up[2] * up
    start = u[:, None] * right + z[:, None] * np.array([0.0, 0.0, 1.0]) - x[:, None] * feed - centre
    along, high, ahead = (start @ np.array([arbor, up, y]).T).T  # where each point starts, seen from the arbor
    by_along, by_high, by_ahead = feed @ arbor, feed @ up, feed @ y

    def at(number: int, which: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Return arbor offset and radius as a tooth passes: it is there when its angle is the point's."""
        travel = np.full(len(which), saw.feed * number)
        for _ in range(3):  # the stock moves by thousandths of the rim's way: each turn of the loop gains three figures
            there = high[which] + travel * by_high, ahead[which] + travel * by_ahead
            offset = along[which] + travel * by_along
            travel = saw.feed * (number + saw.teeth * np.arctan2(*there) / (2 * math.pi))
        return offset, np.hypot(*there)

    reach = saw.width + saw.kerf + math.sqrt(saw.radius**2 - (saw.radius - min(height + saw.kerf, saw.radius)) ** 2)
    rounds = math.ceil(2 * reach / saw.feed)
    left = np.arange(len(u))
    first = np.full(len(u), _NEVER)
    found = np.zeros((5, len(u)))
    near = saw.kerf / 2 + saw.feed * saw.teeth  # the rim takes part of a turn to get to a point: at most so far
    for number in range(-rounds, rounds):
        here = np.abs(along[left] + saw.feed * number * by_along) < near
        close = left[here]
        if not len(close):
            continue
        a, r = at(number, close)
        hand = np.full(len(close), number % 2 if saw.bevel else 0)
        inside = (np.abs(a) <= saw.kerf / 2) & (r <= saw.rim(a, hand))
        if inside.any():
            got = close[inside]
            first[got] = number
            before, like = at(number - 1, got), at(number - (2 if saw.bevel else 1), got)
            found[:, got] = a[inside], r[inside], before[0], *like
            left = left[first[left] == _NEVER]
    return first, *found
