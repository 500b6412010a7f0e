"""Text to millimetres, radians, seconds, watts, and back: the only place that knows other units.

The units themselves come from pint; the fractions of an inch that woodworkers write and read
(``"2 1/2 in"``, ``"5/8 +0.005 in"``) are ours.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

MM_PER_INCH = 25.4

_NUMBER = r"(?:\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+\.?\d*(?:[eE][+-]?\d+)?|\.\d+(?:[eE][+-]?\d+)?)"
_TERM = re.compile(rf"\s*({_NUMBER})\s*([a-zA-Zµ°%\"'][a-zA-Z0-9µ°²/^*\"']*)")
_TRADE_MARKS = {'"': "inch", "'": "foot", "°": "degree", "%": "percent"}


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: its name, the unit the program works in, one to show it in, and examples."""

    name: str
    unit: str
    shown: str
    examples: str


LENGTH = Kind("length", "mm", "mm", '"16 mm" or "5/8 in"')
ANGLE = Kind("angle", "radian", "deg", '"28 deg"')
SPEED = Kind("speed", "mm/s", "m/min", '"2 m/min" or "12 ft/min"')
ROTATION = Kind("speed of rotation", "radian/s", "rpm", '"4000 rpm"')
POWER = Kind("power", "watt", "kW", '"1.3 kW" or "1.75 hp"')
FORCE = Kind("force", "newton", "N", '"90 N" or "20 lbf"')
DENSITY = Kind("density", "kg/m**3", "kg/m^3", '"560 kg/m^3"')
SHARE = Kind("share", "dimensionless", "%", '"12 %"')
TIME = Kind("time", "second", "s", '"20 s" or "2 min"')
AREA = Kind("area", "mm**2", "mm^2", '"130 mm^2" or "0.2 in^2"')


@cache
def _registry():
    import pint  # half the time of a cold start: only a scene needs it

    return pint.UnitRegistry()


@cache
def _factor(unit: str, kind: Kind) -> float:
    """Return how many of the program's units one `unit` is; raise ValueError when it is another kind."""
    import pint

    try:
        written = re.sub(
            r"(?<=[a-z])([23])$", r"^\1", _TRADE_MARKS.get(unit, unit)
        )  # mm2 and kg/m3, as people write them
        return float(_registry().Quantity(1.0, written).to(kind.unit).magnitude)
    except pint.DimensionalityError:
        raise ValueError(f"'{unit}' does not measure a {kind.name}") from None
    except Exception:  # pint raises many kinds for text that is no unit at all
        raise ValueError(f"'{unit}' is not a unit of {kind.name}") from None


def read_quantity(text: object, kind: Kind) -> float:
    """Return a quantity written with its unit, in the unit the program works in.

    Parameters
    ----------
    text : object
        ``"16 mm"``, ``"2 1/2 in"``, ``"3 ft 6 in"``, ``"-1/8 in"``. Anything that is not text is refused.
    kind : Kind
        What it should measure.

    Returns
    -------
    float
        mm, rad, mm/s, rad/s, W or mm2, as `kind` says.

    Raises
    ------
    ValueError
        In half a sentence that says what is wrong and what to write instead.

    Examples
    --------
    >>> read_quantity("2 1/2 in", LENGTH)
    63.5
    >>> read_quantity("-1/8 in", LENGTH)
    -3.175
    >>> read_quantity(16, LENGTH)
    Traceback (most recent call last):
    ...
    ValueError: 16 has no unit; write "16 mm" or "5/8 in"
    """
    write = f"write {kind.examples}"
    if isinstance(text, bool) or not isinstance(text, (int, float, str)):
        raise ValueError(f"this is not a {kind.name}; {write}")
    if not isinstance(text, str):
        raise ValueError(f"{text} has no unit; {write}")
    body = text.strip()
    shown = f"'{body[:40]}'"
    sign = -1.0 if body.startswith("-") else 1.0
    body = body.lstrip("+-") if body[:1] in "+-" else body
    if not body or len(body) > 60:
        raise ValueError(f"{shown} is not a {kind.name}; {write}")
    if re.fullmatch(_NUMBER, body):
        raise ValueError(f"{shown} has no unit; {write}")
    total, place = 0.0, 0
    while place < len(body):
        term = _TERM.match(body, place)
        if term is None:
            raise ValueError(f"{shown} is not a number and a unit; {write}")
        try:
            total += _number(term[1]) * _factor(term[2], kind)
        except ValueError as wrong:
            raise ValueError(f"{wrong}; {write}") from None
        place = term.end()
        while place < len(body) and body[place].isspace():
            place += 1
    if not math.isfinite(total):
        raise ValueError(f"{shown} is not a finite {kind.name}; {write}")
    return sign * total


def show_quantity(value: float, kind: Kind) -> str:
    """Return a quantity as a user would write it: ``"16 mm"``, ``"28 deg"``.

    Examples
    --------
    >>> show_quantity(math.radians(28), ANGLE)
    '28 deg'
    """
    return f"{value / _factor(kind.shown, kind):.6g} {kind.shown}"


def _number(text: str) -> float:
    """Return ``2.5``, ``5/8`` or ``2 1/2`` as a number."""
    total = 0.0
    for part in re.sub(r"\s*/\s*", "/", text).split():
        above, slash, below = part.partition("/")
        if slash and int(below) == 0:
            raise ValueError(f"'{text}' divides by zero")
        total += float(above) / float(below) if slash else float(above)
    return total


def inch_fraction(length: float, finest: int = 64) -> str:
    """Return a length in mm as the nearest fraction of an inch and what is over, in thousandths.

    Examples
    --------
    >>> inch_fraction(15.875)
    '5/8 in'
    >>> inch_fraction(16.0)
    '5/8 +0.005 in'
    >>> inch_fraction(-63.5)
    '-2 1/2 in'
    >>> inch_fraction(0.0)
    '0 in'
    """
    inches = abs(length) / MM_PER_INCH
    nearest = Fraction(round(inches * finest), finest)
    over = round(1000 * (inches - float(nearest)))
    whole, part = divmod(nearest, 1)
    text = " ".join(piece for piece in (str(whole) if whole or not part else "", str(part) if part else "") if piece)
    sign = "-" if length < 0 and (nearest or over) else ""
    return f"{sign}{text}" + (f" {over / 1000:+.3f} in" if over else " in")


@dataclass(frozen=True)
class Units:
    """How lengths, areas and speeds are shown: ``mm``, ``in`` (fractions) or ``in-decimal``."""

    style: str = "mm"

    @property
    def metric(self) -> bool:
        """Whether lengths are shown in mm."""
        return self.style == "mm"

    def length(self, mm: float) -> str:
        """Return a length to set or measure: 0.01 mm, 1/64 in and thousandths, or 0.001 in."""
        mm = 0.0 if abs(mm) < 0.005 else mm  # no -0.00
        if self.metric:
            return f"{mm:.2f} mm"
        return inch_fraction(mm) if self.style == "in" else f"{mm / MM_PER_INCH:.3f} in"

    def tape(self, mm: float) -> str:
        """Return a length to measure with a tape: 0.1 mm, the nearest 1/64 in, or 0.01 in.

        Examples
        --------
        >>> Units("in").tape(147.2), Units().tape(147.2), Units().tape(-0.01)
        ('5 51/64 in', '147.2 mm', '0.0 mm')
        """
        if self.metric:
            return f"{mm:.1f} mm".replace("-0.0 ", "0.0 ")
        if self.style == "in":
            return inch_fraction(round(mm / MM_PER_INCH * 64) / 64 * MM_PER_INCH)
        return f"{mm / MM_PER_INCH:.2f} in".replace("-0.00 ", "0.00 ")

    def written(self, mm: float) -> str:
        """Return a length for a scene: a tenth of a thousandth of a mm, or as fine in inches."""
        value, digits, unit = (mm, 4, "mm") if self.metric else (mm / MM_PER_INCH, 6, "in")
        text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
        return f"{'0' if text == '-0' else text} {unit}"

    def fine(self, mm: float) -> str:
        """Return the thickness of a shaving: 0.001 mm or 0.00001 in."""
        return f"{mm:.3f} mm" if self.metric else f"{mm / MM_PER_INCH:.5f} in"

    def area(self, mm2: float) -> str:
        return f"{mm2:.1f} mm2" if self.metric else f"{mm2 / MM_PER_INCH**2:.4f} in2"

    def volume(self, mm3: float) -> str:
        return f"{mm3 / 1000:.1f} cm3" if self.metric else f"{mm3 / MM_PER_INCH**3:.2f} in3"

    def chip(self, mm3: float) -> str:
        """Return the volume of one tooth's chip."""
        return f"{mm3:.2f} mm3" if self.metric else f"{mm3 / MM_PER_INCH**3:.6f} in3"

    def feed(self, mm_per_s: float) -> str:
        return f"{mm_per_s * 0.06:.2f} m/min" if self.metric else f"{mm_per_s * 60 / (12 * MM_PER_INCH):.1f} ft/min"


def degrees(radians: float) -> float:
    """Return an angle for a file or a page, in degrees."""
    return math.degrees(radians)


def minutes(seconds: float) -> str:
    """Return a time for a page, to the next whole minute.

    Examples
    --------
    >>> minutes(3661.0)
    '1 h 02 min'
    >>> minutes(200.0)
    '4 min'
    """
    hours, over = divmod(math.ceil(seconds / 60), 60)
    return f"{hours} h {over:02d} min" if hours else f"{over} min"


def rpm(radians_per_second: float) -> float:
    """Return a speed of rotation in turns a minute."""
    return radians_per_second * 60 / (2 * math.pi)
