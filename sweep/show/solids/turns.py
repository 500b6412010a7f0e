"""How stock is turned from how it lay for one set-up to how it lies for the next."""

from __future__ import annotations

import itertools
import math

import numpy as np
from numpy.typing import NDArray

from sweep.scene.keys import Stock
from sweep.shape.lying import Lying

_AROUND = 32
"""Points about the circle in which stock is turned end for end."""


def is_turned(lying: Lying) -> bool:
    """Return whether a motion turns the stock, or only moves it aside."""
    return lying.end_for_end or lying.turn != ((1, 0), (0, 1))


def turned(lying: Lying, stock: Stock, share: float) -> NDArray[np.float64]:
    """Return the motion about its middle in which stock stands when it is so far turned, (4, 4).

    It is rolled about its length first, and then turned end for end about the upright line through its middle.

    Parameters
    ----------
    lying : Lying
        From how it lay to how it lies.
    stock : Stock
        As it lies; the motion is from its frame, into one in which it lies as that when all is done.
    share : float
        0 as it lay, 1 as it lies.
    """
    _, (sine, cosine) = lying.turn
    roll = math.atan2(sine, cosine)
    gone = share * ((roll != 0.0) + lying.end_for_end)
    rolled = min(1.0, gone) if roll else 0.0
    swung = gone - rolled
    turn = _swing(math.pi * swung) @ _roll(roll * rolled) @ lying.motion[:3, :3].T
    middle = np.array([stock.length / 2, 0.0, stock.thickness / 2])
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = turn, middle - turn @ middle
    return matrix


def room_to_turn(lying: Lying, stock: Stock) -> NDArray[np.float64]:
    """Return points, (n, 3) mm, about everything that the stock passes through while it is turned."""
    middle = np.array([stock.length / 2, 0.0, stock.thickness / 2])
    across, along = math.hypot(stock.width, stock.thickness) / 2, stock.length / 2
    places = np.array(list(itertools.product((-along, along), (-across, across), (-across, across))))
    if lying.end_for_end:
        angle = np.linspace(0, 2 * math.pi, _AROUND, endpoint=False)
        reach = math.hypot(along, stock.width / 2) / math.cos(math.pi / _AROUND)
        round_about = reach * np.column_stack([np.cos(angle), np.sin(angle), 0 * angle])
        high = stock.thickness / 2
        places = np.vstack([places, round_about + (0, 0, high), round_about - (0, 0, high)])
    room: NDArray[np.float64] = middle + places
    return room


def _roll(angle: float) -> NDArray[np.float64]:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def _swing(angle: float) -> NDArray[np.float64]:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
