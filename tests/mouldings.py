"""Whole mouldings of our own, and classical ones constructed as handbooks describe them; points in (y, z), mm.

The construction of the classical ones, from memory of handbooks in the public domain on the Roman orders and on
joinery: an ovolo (quarter round) and a cavetto (quarter hollow) are a quarter of a circle, a torus (bead) half of one.
A cyma recta is two equal arcs that meet halfway in one tangent: join its ends, halve the line, and take both halves as
chords of equal arcs, one hollow and one round; with arcs of 60 deg the centres lie at the tips of the equilateral
triangles over the half chords. A fillet is a narrow flat between two steps.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def arc(centre: tuple[float, float], radius: float, start: float, end: float, pieces: int = 40) -> Array:
    """An arc from one angle to another, deg; its points lie on the circle."""
    turn = np.radians(np.linspace(start, end, pieces + 1))
    return np.column_stack([centre[0] + radius * np.cos(turn), centre[1] + radius * np.sin(turn)])


def over(start: tuple[float, float], end: tuple[float, float], turn: float, pieces: int = 40) -> Array:
    """An arc of so many deg over the chord from one point to another; a positive turn runs to the left."""
    a, b = np.array(start, float), np.array(end, float)
    half = math.radians(turn) / 2
    chord = b - a
    radius = np.hypot(*chord) / (2 * math.sin(abs(half)))
    left = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
    centre = (a + b) / 2 + left * radius * math.cos(half) * math.copysign(1, half)
    first = math.degrees(math.atan2(*(a - centre)[::-1]))
    return arc(tuple(centre), radius, first, first + turn, pieces)


def cyma(start: tuple[float, float], end: tuple[float, float], turn: float = 60.0) -> Array:
    """Two equal arcs over the halves of the line from one point to another, the first turning to the left."""
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    return np.vstack([over(start, middle, turn), over(middle, end, -turn)[1:]])


def ogee_with_bead() -> Array:
    """Ogee, bead and fillets in stock 70 x 20 mm; one land, 6.5 mm wide."""
    return np.vstack(
        [
            [(-35, 0), (-28.5, 0), (-28.5, 2.5)],
            cyma((-25, 2.5), (11, 13)),
            [(14, 13), (14, 16)],
            arc((21, 16), 5, 180, 360),
            [(29, 16), (29, 17.5), (35, 17.5)],
        ]
    )


def cove_with_ovolo() -> Array:
    """Cove, fillet, ovolo and quirk in stock 90 x 25 mm; one land, 4 mm wide."""
    radius = math.hypot(31, 21.5)
    to = math.degrees(math.acos(18 / radius))
    turn = np.linspace(0, math.pi / 2, 41)
    ovolo = np.column_stack([12 + 20 * np.sin(turn), 20 - 14 * np.cos(turn)])
    return np.vstack(
        [
            [(-45, 0), (-41, 0)],
            arc((-10, -20), radius, math.degrees(math.atan2(21.5, -31)), to, 60),
            [(12, -20 + radius * math.sin(math.radians(to)))],
            ovolo,
            [(32, 22), (35, 22), (35, 15), (45, 15)],
        ]
    )


def scene_of(
    points: Array, width: float, thickness: float, blades: int = 2, tilts: float = 45.0, **plan: Any
) -> dict[str, Any]:
    """The tables of a scene with a whole moulding and no set-ups, a saw that tilts to one side, one or two blades."""
    named = [
        {"name": "large", "teeth": 40, "diameter": "254 mm", "kerf": "3.2 mm"},
        {"name": "small", "teeth": 40, "diameter": "190 mm", "kerf": "2.6 mm"},
    ]
    return {
        "title": "A moulding",
        "stock": {"length": "900 mm", "width": f"{width} mm", "thickness": f"{thickness} mm", "species": "beech"},
        "blades": named[:blades],
        "saw": {"speed": "4000 rpm", "tilts": ["0 deg", f"{tilts} deg"], "max_height": "79 mm"},
        "plan": plan,
        "target": {"shape": "points", "whole": True, "points": points.round(6).tolist()},
    }


def at_random(chance: np.random.Generator) -> tuple[Array, float, float]:
    """A random profile, and the width and thickness of its stock: flats, steps, slopes, arcs and undercuts in a row."""
    width, thickness = float(chance.uniform(20, 110)), float(chance.uniform(10, 40))
    places = np.sort(chance.uniform(-width / 2, width / 2, chance.integers(1, 6)))
    places = places[np.concatenate([[True], np.diff(places) > 2.5])]
    ends = np.concatenate([[-width / 2], places, [width / 2]])
    line = [np.array([(ends[0], _depth(chance, thickness))])]
    for start, end in pairwise(ends.tolist()):
        if chance.random() < 0.5:  # an upright step, or one that leans under
            lean = chance.uniform(0, 1) if chance.random() < 0.3 and end - start > 4 and start > ends[0] else 0.0
            line.append(np.array([(start + lean, _depth(chance, thickness))]))
        before, to = line[-1][-1], (end, _depth(chance, thickness))
        bulge = chance.uniform(-80, 80)
        piece = over(tuple(before), to, bulge, 12) if chance.random() < 0.6 else np.array([before, to])
        piece = np.clip(piece, (before[0], 0.0), (end, 0.9 * thickness))
        line.append(piece[1:])
    return np.vstack(line), width, thickness


def _depth(chance: np.random.Generator, thickness: float) -> float:
    return 0.0 if chance.random() < 0.3 else float(chance.uniform(0, 0.8 * thickness))
