"""Every key of a scene as data: what is told about it in the README, in the terminal, and on forms."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sweep.scene.defaults import in_inches_of, tables_in
from sweep.scene.model import Scene
from sweep.scene.written import Quantity, Written
from sweep.units import Kind


@dataclass(frozen=True)
class Key:
    """One key.

    Parameters
    ----------
    section : str
        The table it stands in, empty for keys at the top.
    name : str
    only_for : tuple of str
        The kinds of table it stands in (``rip``), where there are several.
    kind : str
        ``length``, ``angle`` and so on for a quantity; ``text``, ``number``, ``whole number``, ``choice``, ``list`` or
        ``table``.
    values : str
        What may be written: a range, the choices, or how a list is made.
    required : bool
        Within its section.
    default : object
        As a maker would write it; None where there is none.
    in_inches : str
        The default where the stock's length is written in inches; empty where it is the same.
    unless_given : str
        What holds instead, where there is no default.
    description : str
        In half a sentence.
    why : str
        Where the default is from: 'common practice', 'our choice', 'from memory'.
    range_why : str
        The reason of the range of a quantity.
    measures : Kind or None
        Of what a number in it is the number: of a list, in each of its places. None for what has no unit.
    choices : tuple
        What may be chosen, as TOML holds it; empty for what is no choice.
    """

    section: str
    name: str
    only_for: tuple[str, ...]
    kind: str
    values: str
    required: bool
    default: Any
    in_inches: str
    unless_given: str
    description: str
    why: str
    range_why: str
    measures: Kind | None
    choices: tuple[str | int | bool, ...]

    @property
    def path(self) -> str:
        """The key with its section: ``setup.fence_angle``."""
        return f"{self.section}.{self.name}" if self.section else self.name

    @property
    def default_written(self) -> str:
        """What holds where nothing is written, as TOML or in words; empty where nothing does."""
        if self.required:
            return "required"
        twin = f" or {_toml(self.in_inches)}" if self.in_inches else ""
        return self.unless_given or ("" if self.default is None else _toml(self.default) + twin)

    @property
    def told(self) -> str:
        """The description, which tables it is for and where its default is from, in one line."""
        words = "; ".join(part for part in (self.description, self.why) if part)
        return f"{', '.join(self.only_for)}: {words}" if self.only_for else words


@cache
def documented_keys() -> tuple[Key, ...]:
    """Return every key of a scene in the order in which a scene is written.

    A table that has the keys of another one, as `[[blades]]` those of `[blade]`, is told as one key. Keys that tables
    of several kinds share with the same words are one.
    """
    found: dict[Key, tuple[str, ...]] = {}
    for key in _keys_in(Scene, ""):
        same = replace(key, only_for=())
        found[same] = (*found.get(same, ()), *key.only_for)
    return tuple(
        replace(key, only_for=kinds if len(kinds) < len(_tables_of(key.section)) else ())
        for key, kinds in found.items()
    )


def plain(markdown: str) -> str:
    """Return words without the marks of Markdown."""
    return re.sub(r"\[([^\]]+)\]\(#[^)]*\)", r"\1", markdown).replace("`", "")


@cache
def keys_of(model: type[BaseModel], section: str) -> tuple[Key, ...]:
    """Return the keys of one table, those that it shares with tables of other kinds last; not those of tables in it."""
    only_for = get_args(model.model_fields["do"].annotation) if "do" in model.model_fields else ()
    return tuple(
        _key(section, name, only_for, field)
        for name, field in _own_first(model)
        if field.description or not tables_in(field.annotation)
    )


def _keys_in(model: type[BaseModel], section: str) -> Iterator[Key]:
    told = {key.name: key for key in keys_of(model, section)}
    for name, field in _own_first(model):
        if name in told:
            yield told[name]
        else:
            for table in tables_in(field.annotation):
                yield from _keys_in(table, name)


def _own_first(model: type[BaseModel]) -> list[tuple[str, FieldInfo]]:
    own = model.__annotations__
    return sorted(model.model_fields.items(), key=lambda item: (item[0] != "do", item[0] not in own))


def _key(section: str, name: str, only_for: tuple[str, ...], field: FieldInfo) -> Key:
    extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
    kind, values, range_why, measures, choices = _written(field.annotation, field.metadata)
    default = field.default if not field.is_required() else None
    return Key(
        section=section,
        name=name,
        only_for=only_for if name != "do" else (),
        kind="choice" if name == "do" else kind,
        values=_told_choices(_every_do(section)) if name == "do" else values,
        required=field.is_required(),
        default=None if default in ("", ()) else default,
        in_inches=in_inches_of(field),
        unless_given=str(extra.get("unless_given", "")),
        description=field.description or "",
        why=str(extra.get("why", "")),
        range_why=range_why,
        measures=measures,
        choices=_every_do(section) if name == "do" else choices,
    )


def _tables_of(section: str) -> list[type[BaseModel]]:
    """Return the kinds of table that a section of the scene may hold; none at the top."""
    return tables_in(Scene.model_fields[section].annotation) if section else []


def _every_do(section: str) -> tuple[str, ...]:
    return tuple(get_args(model.model_fields["do"].annotation)[0] for model in _tables_of(section))


_Told = tuple[str, str, str, Kind | None, tuple[str | int | bool, ...]]


def _written(annotation: Any, marks: Iterable[Any]) -> _Told:
    """Return the kind of a value, what may be written, the reason of the range, what it measures, and the choices."""
    if tables_in(annotation) and get_origin(annotation) is not tuple:
        return "table", "a table", "", None, ()
    metadata = [inner for mark in marks for inner in (mark.metadata if isinstance(mark, FieldInfo) else [mark])]
    for mark in metadata:
        if isinstance(mark, Quantity):
            return mark.kind.name, mark.told, mark.why, mark.kind, ()
        if isinstance(mark, Written):
            one = getattr(mark, "one", None)
            kind = "list" if get_origin(annotation) is tuple else "text"
            return kind, mark.told, "", one.kind if isinstance(one, Quantity) else None, ()
    inner = [part for part in get_args(annotation) if part not in (type(None), ...)]
    if hasattr(annotation, "__metadata__"):
        return _written(inner[0], annotation.__metadata__)
    if get_origin(annotation) is Literal:
        return "choice", _told_choices(get_args(annotation)), "", None, get_args(annotation)
    if get_origin(annotation) is tuple:
        return _list(inner, annotation)
    if inner:  # a value or none
        return _written(inner[0], metadata)
    if annotation is bool:
        return "choice", _told_choices((True, False)), "", None, (True, False)
    if annotation is str:
        most = next((mark.max_length for mark in metadata if hasattr(mark, "max_length")), None)
        return "text", f"text of at most {most} characters" if most else "text", "", None, ()
    least = next((mark.ge for mark in metadata if hasattr(mark, "ge")), None)
    most = next((mark.le for mark in metadata if hasattr(mark, "le")), None)
    name = "whole number" if annotation is int else "number"
    return name, f"{least} to {most}", "", None, ()


def _list(inner: list[Any], annotation: Any) -> _Told:
    kind, values, why, measures, _ = _written(inner[0], ())
    if tables_in(annotation):
        return "list", "tables", "", None, ()
    if kind == "list":
        return "list", "a list of pairs", "", None, ()
    count = "two, each" if ... not in get_args(annotation) else "a list, each"
    return "list", f"{count} {values}", why, measures, ()


def _toml(value: Any) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(_toml(inner) for inner in value)}]"
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else str(value)


def _told_choices(values: tuple[Any, ...]) -> str:
    spelled = [_toml(value) for value in values]
    return " or ".join([", ".join(spelled[:-1]), spelled[-1]]) if len(spelled) > 1 else spelled[0]
