"""The order of work in `result.json`."""

from __future__ import annotations

from sweep.show.say.numbers.flags import FigureNumbers, figure_numbers
from sweep.show.say.numbers.model import Numbers
from sweep.show.say.steps import Step


class StepNumbers(Numbers):
    """One step of the work at the saw."""

    number: int
    name: str
    words: str
    """In the maker's units."""
    picture: str
    """What a picture of it shows."""
    settings: tuple[FigureNumbers, ...]
    """What is set or read in it."""
    cautions: tuple[str, ...]
    """Keys of the cautions that it asks for."""
    passes: tuple[int, ...]
    """The passes for which it is done; none where it is done once."""


def step_numbers(steps: tuple[Step, ...]) -> tuple[StepNumbers, ...]:
    """Return the steps with their figures in numbers."""
    return tuple(
        StepNumbers(
            number=one.number,
            name=one.name,
            words=one.words,
            picture=one.picture,
            settings=tuple(figure_numbers(setting.name, setting.figure) for setting in one.settings),
            cautions=one.cautions,
            passes=one.passes,
        )
        for one in steps
    )
