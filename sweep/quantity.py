"""What a maker writes, to a figure in the program's units: a number or a fraction, and a unit. Nothing is evaluated."""

from __future__ import annotations

import math
import re
import unicodedata

from sweep.errors import UnusableError
from sweep.units import LENGTH, Kind

MOST_CHARACTERS = 60
"""In the text of a quantity: far more than any needs."""

_FRACTION = r"[0-9]+\s*/\s*[0-9]+"
_DECIMAL = r"(?:[0-9]+(?:\.[0-9]*|,[0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?"
NUMBER = rf"(?:[0-9]+(?:\s+|-){_FRACTION}|{_FRACTION}|{_DECIMAL})"
"""A mixed number (``2 1/2``, and ``2-1/2``, as drawings have it), a fraction, or a number with a point or a comma."""

THOUSANDTHS = r"\s[+-]0\.0[0-9][0-9]"
"""What is over a fraction of an inch, as `Units` shows it: ``5/8 +0.005 in``."""

_UNIT = r"[^0-9\s.,+-](?:[^\s]*[^\s.,+])?"
_ONE = re.compile(rf"({NUMBER})({THOUSANDTHS})?\s*({_UNIT})")
_TWO = re.compile(rf"({NUMBER})\s*([^0-9\s.,+-]+)(?:-|\s*)({NUMBER})\s*([^0-9\s.,+-]+)")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+")
_LOOKALIKES = str.maketrans(
    {mark: '"' for mark in "″“”„‟"}
    | {mark: "'" for mark in "′‘’‚‛"}
    | {mark: "-" for mark in "−‐‑–⁻"}
    | {mark: "/" for mark in "⁄∕"}
    | {"º": "°", "˚": "°", "¹": "1", "²": "2", "³": "3", "^": ""}
)


def read_quantity(text: object, kind: Kind) -> float:
    """Return a quantity written with its unit, in the unit the program works in.

    Parameters
    ----------
    text : object
        ``"16 mm"``, ``"2 1/2 in"``, ``'2-1/2"'``, ``"3 ft 6 in"``, ``"-1/8 in"``, ``"28,5 deg"``, ``"½ in"``; capitals
        are as good as small letters. Anything that is not text is refused.
    kind : Kind
        What it should measure.

    Returns
    -------
    float
        mm, rad, mm/s, rad/s, W, N, kg/m3, s or mm2, as `kind` says.

    Raises
    ------
    UnusableError
        In half a sentence that says what is wrong and what to write instead.

    Examples
    --------
    >>> read_quantity("2 1/2 in", LENGTH)
    63.5
    >>> read_quantity("3' 6 in", LENGTH)
    1066.8
    >>> read_quantity(16, LENGTH)
    Traceback (most recent call last):
    ...
    sweep.errors.UnusableError: 16 has no unit; write "16 mm" or "5/8 in"
    """
    write = f"write {kind.examples}"
    if isinstance(text, bool) or not isinstance(text, (int, float, str)):
        raise UnusableError(f"this is no {kind.name}", write)
    if not isinstance(text, str):
        figure = str(text) if isinstance(text, float) or abs(text) < 10**15 else "this number"
        raise UnusableError(f"{figure} has no unit", write)
    written = f"'{text.strip()[:40]}'"
    if not text.strip() or len(text) > MOST_CHARACTERS:
        raise UnusableError(f"{{written}} is no {kind.name}", write, written=written)
    body = _plain(text)
    sign = -1.0 if body.startswith("-") else 1.0
    body = body[1:].lstrip() if body[:1] in ("+", "-") else body
    try:
        value = _value(body, kind, sign)
    except ValueError as wrong:
        raise UnusableError("{written} {wrong}", write, written=written, wrong=str(wrong)) from None
    if not math.isfinite(value):
        raise UnusableError(f"{{written}} is no finite {kind.name}", write, written=written)
    return value


def read_number(text: object) -> float:
    """Return a number or a fraction without a unit: ``"1/8"``; raise ValueError where it is none.

    Examples
    --------
    >>> read_number("1/8")
    0.125
    """
    body = _plain(text) if isinstance(text, str) and len(text) <= MOST_CHARACTERS else ""
    if not re.fullmatch(NUMBER, body):
        raise ValueError("this is not a number or a fraction")
    return _number(body)


def is_bare(text: str) -> bool:
    """Return whether a text is a number alone, with a sign or without: whoever has a unit for it may add that.

    Examples
    --------
    >>> is_bare("2½"), is_bare("-1/8"), is_bare("16,5"), is_bare("16 mm"), is_bare("wide")
    (True, True, True, False, False)
    """
    return len(text) <= MOST_CHARACTERS and re.fullmatch(rf"[+-]?\s*{NUMBER}", _plain(text)) is not None


def in_inches(text: object) -> bool:
    """Return whether a length is written in inches or feet.

    Examples
    --------
    >>> in_inches("3 ½ in"), in_inches("4 ft"), in_inches("900 mm")
    (True, True, False)
    """
    if not isinstance(text, str) or len(text) > MOST_CHARACTERS:
        return False
    unit = re.search(r"[a-z\"']+$", _plain(text).casefold())
    return unit is not None and unit[0] in _INCHES


_INCHES = {name for name, factor in LENGTH.units.items() if factor in (LENGTH.units["in"], LENGTH.units["ft"])}


def _plain(text: str) -> str:
    """Return text with the typographer's fractions, primes, quotes, dashes and small figures as a keyboard has them."""
    spelled: list[str] = []
    for letter in text:
        if unicodedata.decomposition(letter).startswith("<fraction>"):
            spelled.append(" " if spelled and spelled[-1].isdigit() else "")
            letter = unicodedata.normalize("NFKC", letter)
        spelled.append(letter)
    return "".join(spelled).translate(_LOOKALIKES).replace("''", '"').strip()


def _value(body: str, kind: Kind, sign: float) -> float:
    """Return the value of a text whose sign was taken off; raise ValueError with what is wrong, to follow the text.

    The sign is that of the number alone: what is over is added with its own.
    """
    if re.fullmatch(NUMBER, body):
        raise ValueError("has no unit")
    if one := _ONE.fullmatch(body):
        number, over, unit = one.groups()
        if unit.casefold() in kind.units:
            return (sign * _number(number) + _over(over, unit)) * kind.units[unit.casefold()]
    if (two := _TWO.fullmatch(body)) and kind.together:
        first, large, second, small = two.groups()
        whole, part = (kind.units[unit] for unit in kind.together)
        if (kind.units.get(large.casefold()), kind.units.get(small.casefold())) == (whole, part):
            count = round(whole / part)  # so that 3 ft 6 in is 42 in to the last figure
            return sign * (_number(first) * count + _number(second)) * part
    if one:
        raise ValueError(f"has the unit '{one[3]}', which is no unit of {kind.name}")
    raise ValueError("is not a number and a unit")


def _number(text: str) -> float:
    """Return ``2.5``, ``2,5``, ``5/8``, ``2 1/2`` or ``2-1/2`` as a number."""
    if _THOUSANDS.fullmatch(text):
        raise ValueError(f"can be read as {text.replace(',', '')} or as {text.replace(',', '.', 1)}")
    if "/" not in text:
        return float(text.replace(",", "."))
    *whole, above, below = re.findall(r"[0-9]+", text)
    if int(below) == 0:
        raise ValueError("divides by zero")
    if whole and int(above) >= int(below):
        raise ValueError("has a fraction of more than 1 after a whole number")
    return (int(whole[0]) if whole else 0) + int(above) / int(below)


def _over(text: str | None, unit: str) -> float:
    """Return the thousandths over a fraction, which only an inch has."""
    if text is None:
        return 0.0
    if unit.casefold() not in _INCHES:
        raise ValueError("is not a number and a unit")
    return float(text)
