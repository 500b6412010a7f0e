"""Edits tried on a scene: what cannot be is left out and told, and holds up nothing else."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from sweep.errors import SweepError
from sweep.scene.edits import Edit, edited
from sweep.scene.places import MEASURED, Tables

T = TypeVar("T")

MOST_TRIED = 4
"""Edits of which it is tried whether all others can be without them: each trial may be a whole simulation."""


@dataclass(frozen=True)
class Refused:
    """An edit that was left out.

    Parameters
    ----------
    edit : Edit
    path : str
        What its complaint is about; often the place that was edited.
    wrong : SweepError
    """

    edit: Edit
    path: str
    wrong: SweepError


@dataclass(frozen=True)
class Trial(Generic[T]):
    """What came of edits.

    Parameters
    ----------
    data : dict
        The scene's tables with every edit that can be.
    made : object
        What was made of them.
    refused : tuple of Refused
    """

    data: Tables
    made: T
    refused: tuple[Refused, ...]


def tried(data: Tables, edits: Sequence[Edit], make: Callable[[Tables], T], shop: Tables | None = None) -> Trial[T]:
    """Return what can be made of a scene with as many edits as can be.

    Parameters
    ----------
    data : dict
        The scene's tables before.
    edits : sequence of Edit
    make : callable
        From tables to what is wanted of them; it refuses what cannot be.
    shop : dict or None
        What the scene takes from.

    Raises
    ------
    SweepError
        Where nothing can be made of the scene without any edit.

    Notes
    -----
    Each turn ends, or leaves one edit out, so turns end. Left out is the edit without which all others can be, looked
    for among those that the complaint is most likely about; where there is none, the likeliest.
    """
    left = list(edits)
    refused: list[Refused] = []
    while True:
        try:
            after = _after(data, left, shop)
            return Trial(after, make(after), tuple(refused))
        except SweepError as wrong:
            if not left:
                raise
            path = path_of(getattr(wrong, "field", ""))
            likely = _likely(path, left)
            out = next((one for one in likely[:MOST_TRIED] if _can_be(data, left, one, make, shop)), likely[0])
            left.remove(out)
            refused.append(Refused(out, path or out.path, wrong))


def _after(data: Tables, edits: Sequence[Edit], shop: Tables | None) -> Tables:
    for edit in edits:
        data = edited(data, edit, shop)
    return data


def _can_be(data: Tables, edits: Sequence[Edit], out: Edit, make: Callable[[Tables], T], shop: Tables | None) -> bool:
    """Return whether all edits but one can be."""
    try:
        make(_after(data, [edit for edit in edits if edit is not out], shop))
    except SweepError:
        return False
    return True


def path_of(field: str) -> str:
    """Return the path of a field as errors name it.

    Examples
    --------
    >>> path_of("finish.radius, number 2"), path_of("passes.heights, number 3"), path_of("setup.blade_height")
    ('finish.1.radius', 'passes.heights.2', 'setup.blade_height')
    """
    name, _, number = field.partition(", number ")
    if not number.isdecimal():
        return name
    section, _, rest = name.partition(".")
    if section not in ("finish", "blades", "setups", "saws", MEASURED):
        return f"{name}.{int(number) - 1}"
    return f"{section}.{int(number) - 1}" + (f".{rest}" if rest else "")


def _likely(path: str, edits: Sequence[Edit]) -> list[Edit]:
    """Return all edits, those first that a complaint about a path is likely laid to, and of equal ones the last."""
    table = path.rpartition(".")[0] or path

    def rank(edit: Edit) -> int:
        if edit.path == path:
            return 0
        if path and (edit.path.startswith(f"{path}.") or path.startswith(f"{edit.path}.")):
            return 1
        return 2 if edit.path == table or edit.path.startswith(f"{table}.") else 3

    return sorted(reversed(edits), key=rank)
