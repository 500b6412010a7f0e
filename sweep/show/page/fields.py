"""A key of the scene as a field of a form: what it is called, what stands in it, what holds where nothing does."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from sweep.scene.documented import Key, plain
from sweep.scene.shop import said_by_shop
from sweep.scene.typed import as_typed
from sweep.show.page.refusals import without_keys

_SEE = re.compile(r"; see \[[^\]]+\]\(#[^)]*\)")


@dataclass(frozen=True)
class Field:
    """One field.

    Parameters
    ----------
    path : str
        Of the key in this scene: ``blades.1.kerf``.
    label, help : str
    control : str
        ``text``; ``lines`` for a list of many; ``pick`` for text with suggestions; ``choice`` for one of a few.
    text : str
        As it was typed, or as it stands in the scene.
    usual : str
        What holds where nothing is written.
    choices : tuple of (str, str)
        What is sent and what is read.
    required : bool
    refused : str
        Why the text is not taken, in a sentence; empty where it is.
    both : bool
        Whether another hand changed the same, so that one of two texts is to be chosen.
    before : str or None
        What stands in the file, where that differs.
    slider : dict or None
        Least, most, step, value and unit of a slider beside it.
    """

    path: str
    label: str
    help: str
    control: str
    text: str
    usual: str
    choices: tuple[tuple[str, str], ...] = ()
    required: bool = False
    refused: str = ""
    both: bool = False
    before: str | None = None
    slider: dict[str, Any] | None = None

    @property
    def id(self) -> str:
        """A name for the page: ``blades-1-kerf``."""
        return self.path.replace(".", "-") if "." in self.path else f"scene-{self.path}"


@dataclass(frozen=True)
class Standing:
    """How the fields of a form stand.

    Parameters
    ----------
    data : dict
        The scene's tables, with every edit that was taken.
    shop : dict
        The tables of the shop, which hold where the scene says nothing.
    changed : dict
        From the paths that differ from the file to what stands there.
    refused : dict
        From paths to the text that was not taken, or None, and why.
    both : set of str
        Paths that another hand has changed too.
    sliders : dict
        From paths to sliders.
    inches : bool
        Whether defaults are told in inches.
    saws : tuple of str
        Names of the shop's saws, where it has several.
    """

    data: dict[str, Any]
    shop: dict[str, Any]
    changed: dict[str, Any]
    refused: dict[str, tuple[str | None, str]]
    both: set[str]
    sliders: dict[str, dict[str, Any]]
    inches: bool
    saws: tuple[str, ...] = ()


def field_of(key: Key, path: str, value: Any, standing: Standing, picks: tuple[str, ...] = ()) -> Field:
    """Return the field of a key at a path, with what stands there; `picks` are suggested while it is typed."""
    typed, sentence = standing.refused.get(path, (None, ""))
    choices = tuple((as_typed(choice), _spoken(choice)) for choice in key.choices)
    control = "choice" if choices else "pick" if picks else "lines" if _is_long(key) else "text"
    return Field(
        path=path,
        label=label_of(key.name),
        help=without_keys(plain(_SEE.sub("", "; ".join(part for part in (key.description, key.why) if part)))),
        control=control,
        text=as_typed(value) if typed is None else typed,
        usual=_of_the_shop(path, standing) or usual_of(key, standing.inches),
        choices=choices or tuple((pick, pick) for pick in picks),
        required=key.required and not _of_the_shop(path, standing),
        refused=sentence,
        both=path in standing.both,
        before=as_typed(standing.changed[path]) if path in standing.changed else None,
        slider=standing.sliders.get(path),
    )


def _of_the_shop(path: str, standing: Standing) -> str:
    """Return what the shop says of a key, in words; empty where it says nothing."""
    said = said_by_shop(standing.data, standing.shop, path)
    return f"{as_typed(said).replace(chr(10), '; ')} (the shop's)" if said is not None else ""


def label_of(name: str) -> str:
    """Return what a key is called: its name in plain words."""
    return name.replace("_", " ")


def words_of(path: str) -> str:
    """Return a path in words: ``finish.1.radius`` is "finish 2, radius"."""
    section, *rest = path.split(".")
    names = [str(int(part) + 1) if part.isdecimal() else f"{label_of(part)}" for part in rest]
    said = label_of(section)
    for name in names:
        said += f" {name}" if name.isdecimal() else f", {name}"
    return said


def usual_of(key: Key, inches: bool) -> str:
    """Return what holds where nothing is written, in words; empty where nothing does."""
    if key.required:
        return ""
    if key.unless_given:
        told = without_keys(plain(key.unless_given))
        first, parted, second = told.partition(", or ")
        return (second.partition(" with ")[0] if inches else first).strip('"') if parted else told
    default = key.in_inches if inches and key.in_inches else key.default
    if isinstance(default, (tuple, list)):
        return ", ".join(as_typed(one) for one in default)
    return as_typed(default)


def _spoken(choice: object) -> str:
    return {True: "yes", False: "no"}.get(choice, str(choice)) if isinstance(choice, bool) else str(choice)


def _is_long(key: Key) -> bool:
    return key.kind == "list" and not key.values.startswith("two,") and key.name not in ("slots", "stop")
