"""Set-ups for a whole moulding, offered for every number of them: what share of the waste they take, in how long."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sweep.plan.several.solve import setups_of, solve_setups
from sweep.plan.several.wanted import wanted_of
from sweep.scene.edits import Edit
from sweep.scene.model import Scene
from sweep.scene.write import setups_told
from sweep.show.say.choice import curve_sentences, curve_table
from sweep.units import Units


@dataclass(frozen=True)
class CountOffered:
    """One number of set-ups.

    Parameters
    ----------
    name : str
        ``4 set-ups``.
    cells : tuple of str
        What is told of it, under the headings of the offer.
    does : str
        What they are, in order.
    is_chosen : bool
        Whether it is the one that the program would take.
    """

    name: str
    cells: tuple[str, ...]
    does: str
    is_chosen: bool


@dataclass(frozen=True)
class CountsOffered:
    """All numbers of set-ups that are worth having.

    Parameters
    ----------
    headings : tuple of str
    choices : tuple of CountOffered
    edits : tuple of (str, Edit)
        The name of a choice, and what taking it changes.
    notes : tuple of str
        How the choice was made, and what it lacks.
    """

    headings: tuple[str, ...]
    choices: tuple[CountOffered, ...]
    edits: tuple[tuple[str, Edit], ...]
    notes: tuple[str, ...]


def offered(scene: Scene, units: Units) -> CountsOffered:
    """Return the set-ups that would come closest to a scene's whole moulding, for every number of them.

    Raises
    ------
    SceneError
        When no blade of the scene can take anything.
    """
    still = Scene.model_construct(**dict(scene) | {"setup": None, "passes": None, "setups": ()})
    solved = solve_setups(still)
    table, wanted = curve_table(solved.curve), wanted_of(still)
    choices: list[CountOffered] = []
    edits: list[tuple[str, Edit]] = []
    for row, cells in zip(solved.curve.rows, table.rows, strict=True):
        name = f"{row.setups} set-up{'' if row.setups == 1 else 's'}"
        setups: list[Any] = setups_told(setups_of(row, still, wanted), scene.units)
        does = ", ".join(one["do"] for one in setups)
        choices.append(CountOffered(name, tuple(map(str, cells[1:])), does, row is solved.curve.choice))
        edits += [(name, Edit(path=path, do="set", value=None)) for path in ("setup", "passes")]
        edits.append((name, Edit(path="setups", do="set", value=setups)))
    headings = tuple(str(column.heading) for column in table.columns[1:])
    return CountsOffered(headings, tuple(choices), tuple(edits), tuple(curve_sentences(solved, units)))
