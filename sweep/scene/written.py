"""How a value of a scene is written, and within what range.

It stands beside the type that holds it, as the one source of reading, of the tables of keys and of the schema.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, JsonValue
from pydantic_core import CoreSchema, core_schema

from sweep.errors import UnusableError
from sweep.figure import Figure
from sweep.phrase import phrase
from sweep.quantity import NUMBER, THOUSANDTHS, read_number, read_quantity
from sweep.units import LENGTH, Kind


def key(description: str, default: Any = ..., *, inches: str = "", unless_given: str = "", why: str = "") -> Any:
    """Return a field of a section, with what the maker is told about it.

    Parameters
    ----------
    description : str
        In half a sentence; empty where the name says it.
    default : object
        As a maker would write it; required where there is none.
    inches : str
        The default in a scene whose stock's length is written in inches, where it is another: see `defaults.py`.
    unless_given : str
        What holds instead where nothing is written and the default is None.
    why : str
        Where the default is from: 'common practice', 'our choice', 'from memory'.
    """
    told: dict[str, JsonValue] = {
        name: words
        for name, words in (("default_in_inches", inches), ("unless_given", unless_given), ("why", why))
        if words
    }
    return Field(  # default: Any, for `Field` itself tells required from given by it
        default, description=description or None, validate_default=True, json_schema_extra=told or None
    )


class Written:
    """How text, or a list of it, becomes what the program works with: put beside the type in `Annotated`."""

    @property
    def told(self) -> str:
        """What may be written, for the table of keys."""
        raise NotImplementedError

    @property
    def json_schema(self) -> dict[str, Any]:
        """The same as JSON Schema, 2020-12."""
        raise NotImplementedError

    def read(self, text: object) -> Any:
        """Return the value; raise UnusableError with what is wrong and what to write instead."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return self.json_schema


@dataclass(frozen=True)
class Quantity(Written):
    """A number and a unit, within what can be.

    Parameters
    ----------
    kind : Kind
    least, most : str
        The range, ends included, as a maker would write it.
    why : str
        The reason of the range.
    """

    kind: Kind
    least: str
    most: str
    why: str

    @property
    def told(self) -> str:
        return f"{self.least} to {self.most}"

    @property
    def json_schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": pattern(self.kind), "examples": self.kind.examples[1:-1].split('" or "')}

    @cached_property
    def ends(self) -> tuple[float, float]:
        """The range in the program's unit, read once: a scene asks for some forty ranges."""
        return read_quantity(self.least, self.kind), read_quantity(self.most, self.kind)

    def read(self, text: object) -> float:
        """Return the quantity in the program's unit; raise UnusableError where it has none, or is out of range."""
        value = read_quantity(text, self.kind)
        least, most = self.ends
        if value < least:
            raise self._out_of_range(text, "is less than {limit:least}", "write at least that", least)
        if value > most:
            raise self._out_of_range(text, "is more than {limit:most}", "write at most that", most)
        return value

    def _out_of_range(self, text: object, problem: str, remedy: str, limit: float) -> UnusableError:
        end = Figure(limit, self.kind)
        return UnusableError(f"'{{written}}' {problem}", remedy, written=str(text), limit=end)


class StopsWritten(Written):
    """Where passes stop: one text for all of them, or a list with one for each, "through" where there is no stop."""

    told = '"through", a length, or a list of them'
    one = Quantity(LENGTH, "1 mm", "20 m", "no stock is longer")

    @property
    def json_schema(self) -> dict[str, Any]:
        stop = {"anyOf": [{"const": "through"}, self.one.json_schema]}
        return {"anyOf": [*stop["anyOf"], {"type": "array", "items": stop, "minItems": 1, "maxItems": 500}]}

    def read(self, value: object) -> tuple[float | None, ...]:
        """Return where passes stop, mm of travel, None for "through"."""
        return tuple(_or_through(text, self.one) for text in (value if isinstance(value, list) else [value]))


class HeightWritten(Written):
    """The height of a blade, or "through" for one that comes out of the top of the wood."""

    told = '"through" or a length'
    one = Quantity(LENGTH, "0.01 mm", "500 mm", "finer than any saw is set, higher than any blade")

    @property
    def json_schema(self) -> dict[str, Any]:
        return {"anyOf": [{"const": "through"}, self.one.json_schema]}

    def read(self, text: object) -> float | None:
        """Return the height, mm, None for "through"."""
        return _or_through(text, self.one)


class TurnWritten(Written):
    """A part of a turn of the height wheel."""

    told = "1/100 to 10 turns"

    @property
    def json_schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": rf"^\s*{NUMBER}\s*$", "examples": ["1/8"]}

    def read(self, text: object) -> float:
        """Return the number of turns."""
        try:
            turn = read_number(text)
        except ValueError:
            turn = 0.0
        if not 0.01 <= turn <= 10:
            raise UnusableError("this is not a part of a turn, from 1/100 to 10", 'write, for example, "1/8"')
        return turn


def _or_through(text: object, quantity: Quantity) -> float | None:
    """Return a quantity, or None for "through"; a refusal says that this may be written too."""
    if text is None or text == "through":
        return None
    try:
        return quantity.read(text)
    except UnusableError as wrong:
        raise UnusableError(wrong.problem, phrase('{write}, or "through"', write=wrong.remedy)) from None


def pattern(kind: Kind) -> str:
    """Return a regular expression (ECMA 262, as JSON Schema has them) for a quantity written in ASCII, or with a °."""
    units = {kind.shown, kind.inches or kind.shown, *kind.units}
    spelled = {name: name.replace("2", r"\^?2").replace("3", r"\^?3") for name in units}
    any_unit = "|".join(spelled[name] for name in sorted(units, key=lambda name: (-len(name), name)))
    body = rf"{NUMBER}\s*(?:{any_unit})"
    if kind is LENGTH:
        body = rf"(?:{body}|{NUMBER}{THOUSANDTHS}\s*(?:in|inch|inches|\"))"
    if kind.together:
        large, small = (
            "|".join(name for name, factor in kind.units.items() if factor == kind.units[unit])
            for unit in kind.together
        )
        body = rf"(?:{body}|{NUMBER}\s*(?:{large})(?:-|\s*){NUMBER}\s*(?:{small}))"
    return rf"^\s*[+-]?\s*{body}\s*$"
