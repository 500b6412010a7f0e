"""Values as a maker would write them, and as one would not."""

from __future__ import annotations

import math
import random
from typing import Any

LENGTHS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "ft": 304.8, "m": 1000.0, '"': 25.4}
HOSTILE_WORDS = [
    "[/]",
    "[bold]oak[/bold]",
    "{{data}}",
    "</script><script>alert(1)</script>",
    "=1+1",
    "\x1b[31m",
    "a\nb",
    "\u202eoak",
    "°é木🪵",
    "x" * 500,
    "",
    "..",
    "%s%n",
    "#set page(1)",
    "$ x $",
    "'\"\\",
]
ODD: list[Any] = [
    *HOSTILE_WORDS,
    0,
    -1,
    1,
    2**70,
    1.5,
    float("nan"),
    float("inf"),
    True,
    [],
    [[]],
    {},
    {"a": 1},
    "0 mm",
    "-0 mm",
    "-5 mm",
    "+-5 mm",
    "1e-320 mm",
    "1e999 mm",
    "1e9 mm",
    "0.0005 mm",
    "nan mm",
    "1/0 in",
    "5/8",
    "16",
    "16mm",
    "1,200 mm",
    "1 mm*9^9^9",
    "9" * 400 + " mm",
    "1e100000000",
    "66 Hz",
    "28 %",
    "0 deg",
    "90 deg",
    "45 deg",
    "-45 deg",
    "360 deg",
    "through",
    "2 m/min",
    "1e-9 m/min",
    "4000 rpm",
    "1e-320 rpm",
    "1/8",
    "1/999999999999",
    "2000 mm",
    "20 m",
]
"""What stands where something else belongs, or at the edge of what may stand there."""


def number(chance: random.Random, low: float, high: float) -> float:
    """Return a number of a range: even, rounded as a tape shows it, at an end, or of any magnitude."""
    kind = chance.random()
    if kind < 0.75:
        return round(chance.uniform(low, high), chance.choice([0, 1, 1, 2, 4])) or low
    if kind < 0.85:
        return chance.choice([low, high])
    if low > 0 and kind < 0.95:
        return float(f"{math.exp(chance.uniform(math.log(low), math.log(high))):.3g}")
    return chance.uniform(low, high)


def length(chance: random.Random, low: float, high: float) -> str:
    """Return a length of a range in mm, in any unit; now and then as a fraction of an inch."""
    value = number(chance, low, high)
    unit = chance.choices(list(LENGTHS), [10, 1, 3, 1, 1, 1])[0]
    if unit == "in" and chance.random() < 0.7:
        below = chance.choice([8, 16, 32, 64])
        above = round(value / 25.4 * below)
        whole, part = divmod(abs(above), below)
        if above and abs(above) / below * 25.4 <= max(abs(low), abs(high)):
            return f"{'-' if above < 0 else ''}{whole or ''} {part}/{below} in".replace("- ", "-").strip()
    return f"{value / LENGTHS[unit]:.7g} {unit}"


def angle(chance: random.Random, low: float, high: float) -> str:
    """Return an angle of a range in degrees."""
    return f"{number(chance, low, high):.7g} deg"


def speed(chance: random.Random) -> str:
    """Return a feed speed."""
    return chance.choice([f"{number(chance, 0.2, 15):.5g} m/min", f"{number(chance, 1, 50):.5g} ft/min"])


def words(chance: random.Random) -> str:
    """Return a title or a name."""
    return chance.choice(["oak cove", "α β", *HOSTILE_WORDS]) if chance.random() < 0.3 else "a cove"
