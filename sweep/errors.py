"""Everything that can go wrong, as one small tree.

    SweepError              one clear sentence; the command line prints it and exits with 2
        SceneError          what the user wrote cannot be used: names the field and what to write
        SolidError          the solid kernel could not make a closed solid of it
        PictureError        this machine cannot draw; names the packages that would mend it
    UnusableError                 the same as a SceneError, raised where the field is not known

What is wrong and what to do instead are kept apart, with their figures, and are worded where they are shown: in mm, or
in inches for who wrote inches. A finding (a pass that is flagged, a profile out of tolerance) is data, never an
exception.
"""

from __future__ import annotations

import re

from sweep.figure import Figure
from sweep.phrase import In, Phrase, phrase


class UnusableError(ValueError):
    """A value cannot be used; whoever knows where it was written makes a SceneError of it.

    Parameters
    ----------
    problem, remedy : str or Phrase
        What is wrong, and what to write instead, each in half a sentence with a place for each figure: ``{value}``.
    figures : Figure, Phrase or str
        What stands in the places of both.
    """

    def __init__(self, problem: str | Phrase, remedy: str | Phrase, **figures: In) -> None:
        self.problem, self.remedy = _phrase(problem, figures), _phrase(remedy, figures)
        super().__init__(f"{self.problem.said()}; {self.remedy.said()}")


class SweepError(Exception):
    """Base of every error that sweep raises on purpose."""


class SceneError(SweepError):
    """Something the user wrote cannot be used.

    Parameters
    ----------
    field : str
        Where it stands, as the user would find it: ``setup.blade_height``.
    problem, remedy : str or Phrase
        What is wrong, and what to write instead, each in half a sentence with a place for each figure: ``{value}``.
    figures : Figure, Phrase or str
        What stands in the places of both; by custom ``value`` is what was written and ``limit`` what is allowed.

    Attributes
    ----------
    inches : bool
        Whether `str` tells it in inches; set at the door, where it is known how the field is written.
    """

    def __init__(self, field: str, problem: str | Phrase, remedy: str | Phrase, **figures: In) -> None:
        self.field, self.problem, self.remedy = field, _phrase(problem, figures), _phrase(remedy, figures)
        self.inches = False
        super().__init__(field, self.problem, self.remedy)

    def __str__(self) -> str:
        return self.sentence(self.inches)

    def sentence(self, inches: bool = False) -> str:
        """Return the field, what is wrong and what to do, in one sentence, in mm or in inches."""
        return f"{self.field}: {self.problem.said(inches)}; {self.remedy.said(inches)}."

    @property
    def code(self) -> str:
        """A short name of what is wrong, the same whatever the figures: ``is-more-than-the-saw-can-raise-it``."""
        return re.sub(r"[^a-z]+", "-", re.sub(r"\{.*?\}", " ", self.problem.words).lower()).strip("-")

    @property
    def figures(self) -> dict[str, Figure]:
        """The figures of its sentence, by name."""
        told = dict(self.problem.figures) | dict(self.remedy.figures)
        return {name: figure for name, figure in told.items() if isinstance(figure, Figure)}


def _phrase(words: str | Phrase, figures: dict[str, In]) -> Phrase:
    return phrase(words, **figures) if isinstance(words, str) else words


class SolidError(SweepError):
    """The solid kernel reported that an operation failed."""


class PictureError(SweepError):
    """The machine cannot draw, or cannot open a window."""
