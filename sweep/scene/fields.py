"""The field types of a scene: text with a unit, read and kept within bounds."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field

from sweep.quantity import read_quantity
from sweep.units import (
    ANGLE,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    POWER,
    ROTATION,
    SHARE,
    SPEED,
    TIME,
    Kind,
    show_quantity,
)
from sweep.words import fit


def quantity(kind: Kind, above: float | None = None, least: float | None = None, most: float | None = None) -> Any:
    """Return a field type for text with a unit, with bounds in the program's unit."""

    def read(text: object) -> float:
        value = read_quantity(text, kind)
        if above is not None and not value > above:
            raise ValueError(f"'{text}' is not more than {show_quantity(above, kind)}; write more than that")
        if least is not None and value < least:
            raise ValueError(f"'{text}' is less than {show_quantity(least, kind)}; write at least that")
        if most is not None and value > most:
            raise ValueError(f"'{text}' is more than {show_quantity(most, kind)}; write at most that")
        return value

    return Annotated[float, BeforeValidator(read)]


StockLength = quantity(LENGTH, above=0, most=20_000)
Size = quantity(LENGTH, above=0, most=2_000)
Place = quantity(LENGTH, least=-2_000, most=2_000)
Slack = quantity(LENGTH, above=0, most=100)
RunOut = quantity(LENGTH, least=0, most=1)
Bound = quantity(LENGTH, least=0, most=20_000)
FenceAngle = quantity(ANGLE, least=math.radians(0.1), most=math.pi / 2)
Tilt = quantity(ANGLE, least=-math.pi / 4, most=math.pi / 4)
Angle = quantity(ANGLE, above=0, most=math.radians(10))
Bevel = quantity(ANGLE, above=0, most=math.radians(45))
Feed = quantity(SPEED, above=0, most=2_000)
Turning = quantity(ROTATION, above=0, most=2 * math.pi * 1_000)
Watts = quantity(POWER, above=0, most=100_000)
Push = quantity(FORCE, above=0, most=10_000)
Moisture = quantity(SHARE, least=0, most=2)
PanelMoisture = quantity(SHARE, least=0, most=0.3)
SpareLength = quantity(LENGTH, least=150, most=20_000)
TrimLength = quantity(LENGTH, least=0, most=1_000)
Paper = quantity(LENGTH, least=0, most=10)
Seconds = quantity(TIME, least=0, most=8 * 3_600)
Density = quantity(DENSITY, least=80, most=1_500)
Area = quantity(AREA, above=0, most=1e6)
RimSpeed = quantity(SPEED, above=0, most=1e6)
Share = Annotated[float, Field(gt=0, le=1, allow_inf_nan=False)]
Number = Annotated[float, Field(ge=-2_000, le=2_000, allow_inf_nan=False, strict=False)]

Title = Annotated[str, Field(max_length=200), AfterValidator(fit)]
Name = Annotated[str, Field(max_length=80), AfterValidator(fit)]
FileName = Annotated[str, Field(max_length=400), AfterValidator(fit)]


def _read_stops(value: object) -> tuple[float | None, ...]:
    """Return where passes stop, mm of travel, None for 'through': one for all of them, or one for each."""
    stops = []
    for text in value if isinstance(value, list) else [value]:
        stop = None
        if text != "through":
            try:
                stop = read_quantity(text, LENGTH)
            except ValueError as wrong:
                raise ValueError(f'{wrong}, or "through"') from None
            if stop <= 0:
                raise ValueError(
                    f"'{text}' is not more than 0 mm; write how far the leading end has gone past the blade"
                )
        stops.append(stop)
    return tuple(stops)


Stops = Annotated[tuple[float | None, ...], Field(min_length=1, max_length=500), BeforeValidator(_read_stops)]


def _read_turn(text: object) -> float:
    """Return a part of a turn of the height wheel: ``"1/8"``."""
    try:
        turn = float(Fraction(text)) if isinstance(text, str) else float("nan")
    except (ValueError, ZeroDivisionError):
        turn = float("nan")
    if not 0 < turn <= 10:
        raise ValueError('this is not a part of a turn; write, for example, "1/8"')
    return turn


Turn = Annotated[float, BeforeValidator(_read_turn)]
