"""A value and what it measures: what flags and errors carry, worded only where they are shown."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.units import ANGLE, AREA, COUNT, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME, VOLUME, Kind


@dataclass(frozen=True)
class Figure:
    """A value in the unit that the program works in, and its kind.

    Parameters
    ----------
    value : float
        mm, mm2, mm3, rad, mm/s, rad/s, W, N, a share or a count, as `kind` says.
    kind : Kind
    """

    value: float
    kind: Kind


Named = tuple[tuple[str, Figure], ...]
"""Figures, each with a name."""


def named(**figures: Figure) -> Named:
    """Return figures with their names, in the order given.

    Examples
    --------
    >>> [name for name, _ in named(passes=count(3), feed_speed=speed(25.0))]
    ['passes', 'feed_speed']
    """
    return tuple(figures.items())


def length(mm: float) -> Figure:
    """Return a length, mm."""
    return Figure(mm, LENGTH)


def area(mm2: float) -> Figure:
    """Return an area, mm2."""
    return Figure(mm2, AREA)


def volume(mm3: float) -> Figure:
    """Return a volume, mm3."""
    return Figure(mm3, VOLUME)


def angle(radians: float) -> Figure:
    """Return an angle, rad."""
    return Figure(radians, ANGLE)


def speed(mm_per_s: float) -> Figure:
    """Return a speed along a line, mm/s."""
    return Figure(mm_per_s, SPEED)


def rotation(radians_per_s: float) -> Figure:
    """Return a speed of rotation, rad/s."""
    return Figure(radians_per_s, ROTATION)


def power(watts: float) -> Figure:
    """Return a power, W."""
    return Figure(watts, POWER)


def force(newtons: float) -> Figure:
    """Return a force, N."""
    return Figure(newtons, FORCE)


def duration(seconds: float) -> Figure:
    """Return how long something takes, s."""
    return Figure(seconds, TIME)


def share(of_one: float) -> Figure:
    """Return a share, 1 for all."""
    return Figure(of_one, SHARE)


def count(number: int) -> Figure:
    """Return a number of things."""
    return Figure(float(number), COUNT)
