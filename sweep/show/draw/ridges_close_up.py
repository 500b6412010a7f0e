"""The highest tooth marks in true proportion: cut along the feed as a drawing, square on as shades.

It is one feed from tooth to tooth, worked out once and laid side by side. Equal, sharp, rigid teeth.
"""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

from sweep.cut.surface import Surface
from sweep.show.draw.colours import WOOD
from sweep.show.draw.ridges import NO_RIDGE
from sweep.show.draw.sketch import Drawing, across, drawing, path, upright, words
from sweep.units import Units

MARKS = 5
"""How many marks the close-up shows."""

_BELOW, _BESIDE = 10.2, 30.0  # wood that is shown below the ridges, and room for their height beside them, mm of paper
_FINE = 2  # so many times finer is the view square on worked out than drawn


def feed_is_to_the_right(surface: Surface) -> bool:
    """Return whether the feed runs so, seen from within the cove at the highest ridge: on its left flank."""
    assert surface.where is not None
    bottom = max(surface.points, key=lambda point: point[1])[0]
    return surface.where[0] <= bottom


def cut_along_feed(surface: Surface, units: Units, width: float, height: float) -> Drawing:
    """Return the ridges cut along the feed, square to the surface, wood below, with their dimensions.

    Parameters
    ----------
    surface : Surface
    units : Units
    width : float, mm
        Of paper, that the marks take; room for their height is added.
    height : float, mm
    """
    scale = width / (MARKS * surface.spacing)  # of paper, mm to a mm
    crest = 1 - surface.crest if feed_is_to_the_right(surface) else surface.crest
    floor = height - _BELOW
    corners = [(0.0, 0.0)]
    for mark in range(MARKS):
        corners += [((mark + crest) * surface.spacing, surface.largest), ((mark + 1) * surface.spacing, 0.0)]
    if crest in (0.0, 1.0):  # upright on one side: no two corners stand on each other's place
        corners = [corner for corner, following in itertools.pairwise([*corners, (np.inf, 0.0)]) if corner != following]
    ridge = (0.0, floor) + scale * np.array(corners) * (1, -1)
    parts = [
        path(np.vstack([ridge, [(width, height), (0.0, height)]]), "", "wood", closed=True),
        path(ridge, "edge"),
    ]
    level = floor - max(12.4, scale * surface.largest + 4.5)
    first, second = (scale * k * surface.spacing for k in (2, 3))
    parts += across((first, second), floor, level, f"{units.minute(surface.spacing)} from mark to mark")
    if surface.largest < NO_RIDGE * surface.spacing:
        parts.append(words("the ridges are too low to be drawn", width / 2, floor + 4.5))
    else:  # the height, beside the last mark; its upper end is drawn out from the last crest
        last, top, beside = scale * (MARKS - 1 + crest) * surface.spacing, floor - scale * surface.largest, width + 4.5
        parts += upright((top, floor), width, beside, "")
        parts.append(path([(last, top), (width, top)], "faint"))
        parts.append(words(f"{units.minute(surface.largest)} high", beside + 2.5, (top + floor) / 2, "left"))
    return drawing(width + _BESIDE, height, parts)


def square_on(surface: Surface, width: int, height: int) -> NDArray[np.uint8]:
    """Return the highest ridges seen square on, lit from the left across the marks: (height, width, 3), pixels."""
    scale = MARKS * surface.spacing / width / _FINE
    hand = -1 if feed_is_to_the_right(surface) else 1
    run = hand * scale * (np.arange(_FINE * width) + 0.5)
    up = scale * (np.arange(_FINE * height)[::-1, None] + 0.5)
    rising = (run - surface.slant * up) / surface.spacing % 1.0 < surface.crest
    # of a mark's two slopes each is one plane and so one tone; a slope without width is not seen
    shares = np.array([min(surface.crest - 1.0, -1e-9), max(surface.crest, 1e-9)])
    slopes = surface.largest / (surface.spacing * shares)
    normals = np.column_stack([-hand * slopes, surface.slant * slopes, np.ones(2)])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    light = np.array([-1.0, hand * surface.slant, 0.0])
    light = 0.6 * light / np.linalg.norm(light) + (0.0, 0.0, 0.8)
    shades = 0.48 + 0.56 * np.clip(normals @ light, 0.0, None)
    tones = 255 * np.clip(np.array(WOOD) * shades[:, None], 0.0, 1.0)
    places = itertools.product(range(_FINE), repeat=2)
    of_pixel = sum(rising[down::_FINE, along::_FINE].astype(np.uint8) for down, along in places)
    mixed = tones[0] + np.linspace(0.0, 1.0, _FINE**2 + 1)[:, None] * (tones[1] - tones[0])
    relief: NDArray[np.uint8] = np.round(mixed).astype(np.uint8)[of_pixel]
    return relief
