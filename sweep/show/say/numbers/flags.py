"""A flag in numbers, beside its sentence."""

from __future__ import annotations

from collections.abc import Iterable

from sweep.check.flag import Flag
from sweep.figure import Figure
from sweep.show.say.flags import sentence_of
from sweep.show.say.numbers.model import Numbers
from sweep.units import Kind, Units

UNITS = {
    "length": "mm",
    "area": "mm2",
    "volume": "mm3",
    "angle": "rad",
    "speed": "mm/s",
    "speed of rotation": "rad/s",
    "power": "W",
    "force": "N",
    "share": "",
    "count": "",
    "time": "s",
}
"""The unit in which the program holds each kind of quantity that a flag or a step carries."""


class FigureNumbers(Numbers):
    """One figure of a flag or of a step."""

    name: str
    value: float
    kind: str
    unit: str


class FlagNumbers(Numbers):
    """One thing to look at before cutting."""

    code: str
    message: str
    """What is wrong and what to do, in the maker's units."""
    field: str
    """The key of the scene that sets the limit or, where none does, the one to look at first."""
    value: float
    limit: float
    kind: str
    """What value and limit measure."""
    unit: str
    """The unit of value and limit; empty for a share, 1 for all, and for a count."""
    part: str
    """The side, end, opening or operation it is about; empty where there is but one."""
    figures: tuple[FigureNumbers, ...]


def flag_numbers(flags: Iterable[Flag], units: Units) -> tuple[FlagNumbers, ...]:
    """Return flags with their sentences in the maker's units."""
    return tuple(
        FlagNumbers(
            code=flag.code,
            message=sentence_of(flag, units),
            field=flag.field,
            value=float(flag.value),
            limit=float(flag.limit),
            kind=flag.kind.name,
            unit=UNITS[flag.kind.name],
            part=flag.part,
            figures=tuple(figure_numbers(name, figure) for name, figure in flag.figures),
        )
        for flag in flags
    )


def figure_numbers(name: str, figure: Figure) -> FigureNumbers:
    """Return a figure that has a name, in the unit in which the program holds it."""
    kind: Kind = figure.kind
    return FigureNumbers(name=name, value=float(figure.value), kind=kind.name, unit=UNITS[kind.name])
