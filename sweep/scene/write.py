"""What was worked out or changed, written back into the user's own scene: comments and order are kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import tomlkit

from sweep.disk.file import replace_file
from sweep.scene.file import read_text
from sweep.scene.keys import Passes
from sweep.scene.model import WholeScene
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
        _append(document, "passes", _passes(scene.passes, str(document["setup"]["blade_height"]), units))
    return tomlkit.dumps(document)


def text_with_passes(text: str, passes: Mapping[int, Passes], units: Units) -> str:
    """Return a scene's text with the passes that some of its `[[setups]]` lacked.

    Parameters
    ----------
    text : str
        TOML, as the user wrote it.
    passes : mapping
        Of each of these set-ups, by its place from 0; its `blade_height` is written.
    units : Units
        In which lengths and speeds are written.
    """
    document = tomlkit.parse(text)
    for number, planned in passes.items():
        setup = document["setups"][number]
        setup["passes"] = _passes(planned, str(setup["blade_height"]), units)
    return tomlkit.dumps(document)


def _passes(passes: Passes, last: str, units: Units) -> tomlkit.items.Table:
    """Return passes as a table; the last in the words of the set-up: written anew it might be another height."""
    table = tomlkit.table()
    table.add("heights", [*map(units.written, passes.heights[:-1]), last])
    table.add("feed_speed", units.feed(passes.feed_speed))
    table.add("last_feed_speed", units.feed(passes.feed_speeds[-1]))
    return table


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
    for one in setups:
        table = tomlkit.table()
        table.add("do", one.do)
        for name in AS_WRITTEN:
            value = getattr(one, name, None)
            if value not in (None, "", "as it lay"):
                table.add(name, _written(name, value, units))
        tables.append(table)
    _append(document, "setups", tables)
    return tomlkit.dumps(document)


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
