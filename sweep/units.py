"""The units that a maker writes and reads, a closed list for each kind of quantity, and how figures are shown in them.

Reading text is `quantity.py`. Factors are exact or as defined: SI (BIPM, The International System of Units, 9th
edition), the international yard and pound (1959: 1 in = 25.4 mm, 1 lb = 0.45359237 kg) and standard gravity (CGPM 1901:
9.80665 m/s2).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from sweep.shown import MM_PER_INCH as MM_PER_INCH  # this module is the door to both
from sweep.shown import Shown as Shown
from sweep.shown import inch_fraction, no_minus_zero, significant, trimmed

_FOOT = 304.8
_POUND = 0.45359237  # kg
_GRAVITY = 9.80665  # m/s2
_TURN = 2 * math.pi


@dataclass(frozen=True)
class Kind:
    """A kind of quantity.

    Parameters
    ----------
    name : str
        What it is called in a sentence.
    shown : str
        The unit in which it is shown where nobody asked for inches.
    examples : str
        What to write, for errors.
    units : mapping of str to float
        From each spelling of a unit, in small letters, to how many of the program's units it is.
    inches : str
        The unit in which it is shown to whoever writes inches; the same unless given.
    together : tuple of str
        Two units that are written one after the other: feet and inches.
    """

    name: str
    shown: str
    examples: str
    units: Mapping[str, float] = field(compare=False, repr=False)
    inches: str = ""
    together: tuple[str, str] | None = None


def _spelled(factors: dict[str, float]) -> dict[str, float]:
    """Return the table with a row for each of the spellings, which stand side by side."""
    return {name: factor for names, factor in factors.items() for name in names.split()}


LENGTH = Kind(
    "length",
    "mm",
    '"16 mm" or "5/8 in"',
    _spelled(
        {
            "mm millimetre millimetres millimeter millimeters": 1.0,
            "cm centimetre centimetres centimeter centimeters": 10.0,
            "m metre metres meter meters": 1000.0,
            'in inch inches "': MM_PER_INCH,
            "ft foot feet '": _FOOT,
            "thou": MM_PER_INCH / 1000,
        }
    ),
    inches="in",
    together=("ft", "in"),
)
ANGLE = Kind("angle", "deg", '"28 deg"', _spelled({"deg degree degrees °": math.pi / 180, "rad radian radians": 1.0}))
SPEED = Kind(
    "speed",
    "m/min",
    '"2 m/min" or "12 ft/min"',
    _spelled(
        {
            "m/min": 1000 / 60,
            "m/s": 1000.0,
            "mm/s": 1.0,
            "mm/min": 1 / 60,
            "ft/min fpm": _FOOT / 60,
            "ft/s": _FOOT,
            "in/min": MM_PER_INCH / 60,
            "in/s": MM_PER_INCH,
        }
    ),
    inches="ft/min",
)
ROTATION = Kind(
    "speed of rotation", "rpm", '"4000 rpm"', _spelled({"rpm r/min rev/min min-1": _TURN / 60, "rad/s": 1.0})
)
POWER = Kind(
    "power",
    "kW",
    '"1.3 kW" or "1.75 hp"',
    _spelled({"w watt watts": 1.0, "kw": 1000.0, "hp": 550 * _FOOT / 1000 * _POUND * _GRAVITY}),
    inches="hp",
)
FORCE = Kind(
    "force",
    "N",
    '"90 N" or "20 lbf"',
    _spelled({"n newton newtons": 1.0, "lbf": _POUND * _GRAVITY, "kgf": _GRAVITY}),
    inches="lbf",
)
DENSITY = Kind(
    "density",
    "kg/m3",
    '"560 kg/m3" or "35 lb/ft3"',
    _spelled({"kg/m3": 1.0, "g/cm3": 1000.0, "lb/ft3": _POUND / (_FOOT / 1000) ** 3}),
    inches="lb/ft3",
)
SHARE = Kind("share", "%", '"12 %"', _spelled({"% percent": 0.01}))
TIME = Kind(
    "time",
    "s",
    '"20 s" or "2 min"',
    _spelled({"s sec second seconds": 1.0, "min minute minutes": 60.0, "h hr hour hours": 3600.0}),
    together=("h", "min"),
)
AREA = Kind(
    "area",
    "mm2",
    '"130 mm2" or "0.2 in2"',
    _spelled({"mm2": 1.0, "cm2": 100.0, "in2": MM_PER_INCH**2}),
    inches="in2",
)
VOLUME = Kind(
    "volume",
    "cm3",
    '"16 cm3" or "1 in3"',
    _spelled({"mm3": 1.0, "cm3": 1000.0, "in3": MM_PER_INCH**3}),
    inches="in3",
)
COUNT = Kind("count", "", "3", {"": 1.0})


@dataclass(frozen=True)
class Units:
    """In which units figures are shown: ``mm``, ``in`` (fractions) or ``in-decimal``."""

    style: str = "mm"

    @property
    def metric(self) -> bool:
        """Whether lengths are shown in mm."""
        return self.style == "mm"

    def length(self, mm: float) -> Shown:
        """Return a length to set or measure: 0.01 mm, 1/64 in and thousandths, or 0.001 in."""
        mm = 0.0 if abs(mm) < 0.005 else mm  # no -0.00
        if self.metric:
            return Shown(f"{mm:.2f}", "mm")
        return inch_fraction(mm) if self.style == "in" else Shown(f"{mm / MM_PER_INCH:.3f}", "in")

    def tape(self, mm: float) -> Shown:
        """Return a length to measure with a tape: 0.1 mm, the nearest 1/64 in, or 0.01 in.

        Examples
        --------
        >>> Units("in").tape(147.2), Units().tape(147.2), Units().tape(-0.01)
        ('5 51/64 in', '147.2 mm', '0.0 mm')
        """
        if self.metric:
            return Shown(no_minus_zero(f"{mm:.1f}"), "mm")
        if self.style == "in":
            return inch_fraction(round(mm / MM_PER_INCH * 64) / 64 * MM_PER_INCH)
        return Shown(no_minus_zero(f"{mm / MM_PER_INCH:.2f}"), "in")

    def nearest(self, mm: float) -> Shown:
        """Return a length that is found and not set, as where something lies: 0.01 mm, the nearest 1/64 in, 0.001 in.

        Examples
        --------
        >>> Units("in").nearest(19.06), Units("in-decimal").nearest(19.06), Units().nearest(19.06)
        ('3/4 in', '0.750 in', '19.06 mm')
        """
        return self.tape(mm) if self.style == "in" else self.length(mm)

    def as_read(self, mm: float) -> Shown:
        """Return a length that is read and not set: as `length`, but 0.001 in where it is no 64th of an inch.

        Examples
        --------
        >>> Units("in").as_read(1.5875), Units("in").as_read(2.4)
        ('1/16 in', '0.094 in')
        """
        shown = self.length(mm)
        return Units("in-decimal").length(mm) if shown.over else shown

    def written(self, mm: float) -> Shown:
        """Return a length for a scene: a tenth of a thousandth of a mm, or as fine in inches; a 64th as that.

        Examples
        --------
        >>> Units("in").written(6.746875), Units("in").written(6.7), Units().written(6.7)
        ('17/64 in', '0.26378 in', '6.7 mm')
        """
        if self.style == "in" and abs(mm / MM_PER_INCH * 64 - round(mm / MM_PER_INCH * 64)) < 1e-6:
            return inch_fraction(mm)
        value, digits, unit = (mm, 4, "mm") if self.metric else (mm / MM_PER_INCH, 6, "in")
        return Shown(trimmed(f"{value:.{digits}f}"), unit)

    def fine(self, mm: float) -> Shown:
        """Return what is too small to set, a shaving or a deviation: 0.001 mm, or 0.01 thou (0.00001 in)."""
        return Shown(f"{mm:.3f}", "mm") if self.metric else Shown(f"{1000 * mm / MM_PER_INCH:.2f}", "thou")

    def minute(self, mm: float) -> Shown:
        """Return what one tooth leaves: 0.0001 mm, or three figures of thou.

        Examples
        --------
        >>> Units().minute(0.00625), Units("in").minute(0.00706), Units("in").minute(0.25)
        ('0.0063 mm', '0.278 thou', '9.84 thou')
        """
        if self.metric:
            return Shown(trimmed(f"{mm:.4f}"), "mm")
        return Shown(trimmed(significant(1000 * mm / MM_PER_INCH, 3, finest=3)), "thou")

    def bound(self, mm: float) -> Shown:
        """Return a small limit that the maker wrote: as `fine`, but a 64th of an inch as that.

        Examples
        --------
        >>> Units("in").bound(25.4 / 64), Units("in").bound(0.254), Units().bound(0.25)
        ('1/64 in', '10.00 thou', '0.250 mm')
        """
        shown = self.length(mm)
        return shown if self.style == "in" and not shown.over and mm > 0 else self.fine(mm)

    def area(self, mm2: float) -> Shown:
        """Return an area: 0.1 mm2, or 0.001 in2."""
        return Shown(f"{mm2:.1f}", "mm2") if self.metric else Shown(f"{mm2 / MM_PER_INCH**2:.3f}", "in2")

    def volume(self, mm3: float) -> Shown:
        """Return a volume: 0.1 cm3, or 0.01 in3."""
        return Shown(f"{mm3 / 1000:.1f}", "cm3") if self.metric else Shown(f"{mm3 / MM_PER_INCH**3:.2f}", "in3")

    def feed(self, mm_per_s: float) -> Shown:
        """Return a feed: 0.01 m/min, or 0.1 ft/min."""
        if self.metric:
            return Shown(f"{mm_per_s * 0.06:.2f}", "m/min")
        return Shown(f"{mm_per_s * 60 / (12 * MM_PER_INCH):.1f}", "ft/min")

    def rim_speed(self, mm_per_s: float) -> Shown:
        """Return how fast the rim runs, as blades are marked: 1 m/s, or 100 ft/min."""
        if self.metric:
            return Shown(f"{mm_per_s / 1000:.0f}", "m/s")
        return Shown(f"{round(mm_per_s * 60 / _FOOT, -2):.0f}", "ft/min")

    def unit(self, kind: Kind) -> str:
        """Return the unit in which a kind of quantity is shown; of what a cut takes, W and not kW."""
        if self.metric:
            return "W" if kind == POWER else kind.shown
        return kind.inches or kind.shown

    def figure(self, value: float, kind: Kind) -> float:
        """Return a value of the program's in the unit in which it is shown."""
        return value / kind.units[self.unit(kind).casefold()]

    def force(self, newtons: float) -> Shown:
        """Return a force: 1 N, or 0.1 lbf.

        Examples
        --------
        >>> Units("in").force(88.96), Units().force(-0.2)
        ('20 lbf', '0 N')
        """
        return self._rounded(newtons, FORCE, 0 if self.metric else 1)

    def power(self, watts: float) -> Shown:
        """Return a power: 1 W, or 0.01 hp."""
        return self._rounded(watts, POWER, 0 if self.metric else 2)

    def motor(self, watts: float) -> Shown:
        """Return a power as motors are marked: 0.01 kW, or 0.01 hp."""
        return Shown(f"{watts / 1000:.2f}", "kW") if self.metric else Shown(f"{self.figure(watts, POWER):.2f}", "hp")

    def density(self, kg_per_m3: float) -> Shown:
        """Return a density: 1 kg/m3, or 0.1 lb/ft3."""
        return self._rounded(kg_per_m3, DENSITY, 0 if self.metric else 1)

    def _rounded(self, value: float, kind: Kind, digits: int) -> Shown:
        return Shown(trimmed(f"{self.figure(value, kind):.{digits}f}"), self.unit(kind))


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
