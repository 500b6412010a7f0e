"""A step of work as data: what is done, the figures that are set in it, what a picture of it shows, its cautions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sweep.figure import Figure, angle, count, duration, length, speed
from sweep.show.say.cautions import Key
from sweep.units import Shown, Units, degrees

Picture = Literal[
    "wood", "block", "height", "fence", "check", "clamps", "low", "guards", "plug", "pass", "forced", "end"
]  # fmt: skip
"""What a picture of a step shows."""


@dataclass(frozen=True)
class StepFigure:
    """A figure that is set or read in a step.

    Parameters
    ----------
    name : str
        What it is: ``"blade_height"``.
    figure : Figure
    shown : Shown
        The same in the maker's units.
    """

    name: str
    figure: Figure
    shown: Shown


@dataclass(frozen=True)
class Step:
    """One step of the work.

    Parameters
    ----------
    number : int
        From 1.
    name : str
        What is done, in a few words.
    words : str
        How, in sentences, every figure in the maker's units.
    picture : Picture
    settings : tuple of StepFigure
        The figures in the words.
    cautions : tuple of Key
        Those of `cautions.py` that this step asks for.
    passes : tuple of int
        The passes for which it is done; none where it is done once.
    """

    number: int
    name: str
    words: str
    picture: Picture
    settings: tuple[StepFigure, ...]
    cautions: tuple[Key, ...]
    passes: tuple[int, ...]


def step(
    name: str,
    words: str,
    picture: Picture,
    *settings: StepFigure,
    cautions: tuple[Key, ...] = (),
    passes: tuple[int, ...] = (),
) -> Step:
    """Return a step that is still to be numbered, its figures in the places that the words have for their names."""
    said = words.format_map({one.name: one.shown for one in settings})
    return Step(0, name, said, picture, settings, cautions, passes)


def to_set(name: str, mm: float, units: Units) -> StepFigure:
    """Return a length that is set."""
    return StepFigure(name, length(mm), units.length(mm))


def to_mark(name: str, mm: float, units: Units) -> StepFigure:
    """Return a length that is marked on wood, or held against it."""
    return StepFigure(name, length(mm), units.nearest(mm))


def by_tape(name: str, mm: float, units: Units) -> StepFigure:
    """Return a length that is measured with a tape."""
    return StepFigure(name, length(mm), units.tape(mm))


def turned(name: str, radians: float) -> StepFigure:
    """Return an angle."""
    return StepFigure(name, angle(radians), Shown(f"{degrees(radians):.2f}", "deg"))


def fed(name: str, mm_per_s: float, units: Units) -> StepFigure:
    """Return a feed."""
    return StepFigure(name, speed(mm_per_s), units.feed(mm_per_s))


def lasting(name: str, seconds: float) -> StepFigure:
    """Return how long something takes."""
    return StepFigure(name, duration(seconds), Shown(f"{seconds:.0f}", "s"))


def counted(name: str, number: int) -> StepFigure:
    """Return a number of things."""
    return StepFigure(name, count(number), Shown(str(number)))
