"""What was worked out or changed, written back into the user's own scene: comments and order are kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import tomlkit

from sweep.disk.file import replace_file
from sweep.scene.file import read_text
from sweep.scene.keys import Passes
from sweep.scene.model import Scene, WholeScene
from sweep.scene.rewrite import rewritten
from sweep.scene.setups import SetupOfSeveral
from sweep.units import Units, degrees

AS_WRITTEN = (
    "blade",
    "face",
    "ends",
    "piece",
    "edge",
    "width",
    "depth",
    "fence_angle",
    "blade_tilt",
    "blade_height",
    "offset",
    "at",
    "fence_side",
)
"""The keys of `[[setups]]` in the order in which they are written."""


def completed_text(text: str, scene: WholeScene, units: Units) -> str:
    """Return a scene's text with the `[setup]` and `[passes]` that it lacked.

    Parameters
    ----------
    text : str
        TOML, as the user wrote it.
    scene : WholeScene
        The same scene with nothing left out.
    units : Units
        In which new lengths and speeds are written.
    """
    document = tomlkit.parse(text)
    if "setup" not in document:
        setup = scene.setup
        table = tomlkit.table()
        if setup.blade:
            table.add("blade", setup.blade)
        table.add("fence_angle", f"{degrees(setup.fence_angle):.4f} deg")
        table.add("blade_tilt", f"{degrees(setup.blade_tilt):.4f} deg".replace("-0.0000", "0.0000"))
        table.add("blade_height", units.written(setup.blade_height))
        table.add("offset", units.written(setup.offset))
        table.add("fence_side", setup.fence_side)
        _append(document, "setup", table)
    if "passes" not in document:
        table = tomlkit.table()
        table.update(passes_told(scene.passes, document["setup"]["blade_height"], units))
        _append(document, "passes", table)
    return tomlkit.dumps(document)


def passes_told(passes: Passes, last: object, units: Units) -> dict[str, Any]:
    """Return planned passes as a scene has them.

    The last one is in the words of the set-up, `last`: written anew in other units it would be another height.
    """
    return {
        "heights": [*map(units.written, passes.heights[:-1]), str(last)],
        "feed_speed": units.feed(passes.feed_speed),
        "last_feed_speed": units.feed(passes.feed_speeds[-1]),
    }


def text_with_passes(text: str, planned: Mapping[int, Passes], units: Units) -> str:
    """Return a scene's text with `[setups.passes]` in set-ups that lacked them.

    Parameters
    ----------
    text : str
        TOML, with `[[setups]]`.
    planned : mapping
        From the place of a set-up that is raised to a written height, from 0, to its passes.
    units : Units
        In which new lengths and speeds are written.
    """
    return rewritten(text, tables_with_passes(tomlkit.parse(text).unwrap(), planned, units))


def tables_with_passes(tables: dict[str, Any], planned: Mapping[int, Passes], units: Units) -> dict[str, Any]:
    """Return a scene's tables with `[setups.passes]` in set-ups that lacked them; see `text_with_passes`."""
    setups = list(tables["setups"])
    for place, passes in planned.items():
        setups[place] = setups[place] | {"passes": passes_told(passes, setups[place]["blade_height"], units)}
    return tables | {"setups": setups}


def scene_text(tables: dict[str, Any], scene: Scene, units: Units) -> str:
    """Return a scene given as plain tables as text, with the set-up, or the several, that was worked out for it.

    Parameters
    ----------
    tables : dict
        As TOML holds them, without set-up and passes.
    scene : Scene
        The same with nothing left out, or with its several set-ups.
    units : Units
        In which new lengths and speeds are written.
    """
    ordered = {name: tables[name] for name in Scene.model_fields if name in tables}
    if isinstance(scene, WholeScene):
        if "blades" in ordered:
            ordered["blades"] = [one for one in ordered["blades"] if one["name"] == scene.blade.name]
        return completed_text(tomlkit.dumps(ordered), scene, units)
    return text_with_setups(tomlkit.dumps(ordered), scene.setups, units)


def text_with_setups(text: str, setups: Sequence[SetupOfSeveral], units: Units) -> str:
    """Return a scene's text with the `[[setups]]` that it lacked.

    Parameters
    ----------
    text : str
        TOML, as the user wrote it.
    setups : sequence
        In order; their passes are left to be planned.
    units : Units
        In which lengths are written.
    """
    document = tomlkit.parse(text)
    document.pop("setups", None)  # an empty list may stand there
    tables = tomlkit.aot()
    for one in setups_told(setups, units):
        table = tomlkit.table()
        table.update(one)
        tables.append(table)
    _append(document, "setups", tables)
    return tomlkit.dumps(document)


def setups_told(setups: Sequence[SetupOfSeveral], units: Units) -> list[dict[str, Any]]:
    """Return set-ups as a scene has them, their passes left to be planned."""
    told = []
    for one in setups:
        values = {name: getattr(one, name, None) for name in AS_WRITTEN}
        said = {name: value for name, value in values.items() if value not in (None, "", "as it lay")}
        told.append({"do": str(one.do)} | {name: _written(name, value, units) for name, value in said.items()})
    return told


def _written(name: str, value: Any, units: Units) -> Any:
    if name in ("fence_angle", "blade_tilt"):
        return f"{round(degrees(value), 4) + 0.0:g} deg"
    return units.written(value) if isinstance(value, float) else value


def write_setups(source: Path, target: Path, setups: Sequence[SetupOfSeveral], units: Units) -> None:
    """Write a scene with the set-ups that it lacked beside or over the one it came from.

    Raises
    ------
    SceneError
        When the file cannot be written.
    """
    text = text_with_setups(read_text(source, "a scene"), setups, units)
    replace_file(target, text.encode("utf-8"), "--write")


def write_completed(source: Path, target: Path, scene: WholeScene, units: Units) -> None:
    """Write a completed scene beside or over the one it came from.

    Raises
    ------
    SceneError
        When the file cannot be written.
    """
    text = completed_text(read_text(source, "a scene"), scene, units)
    replace_file(target, text.encode("utf-8"), "--write")


def _append(document: tomlkit.TOMLDocument, key: str, table: tomlkit.items.Table | tomlkit.items.AoT) -> None:
    if not document.as_string().endswith("\n\n"):
        document.add(tomlkit.nl())
    document.add(key, table)
