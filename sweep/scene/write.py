"""A scene that was worked out, written back into the user's own file: comments and order are kept."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import tomlkit

from sweep.errors import SceneError
from sweep.scene.model import Scene
from sweep.scene.read import read_text
from sweep.units import Units, degrees


def completed_text(text: str, scene: Scene, units: Units) -> str:
    """Return a scene's text with the `[setup]` and `[passes]` that it lacked.

    Parameters
    ----------
    text : str
        TOML, as the user wrote it.
    scene : Scene
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
        passes = scene.passes
        table = tomlkit.table()
        table.add("heights", [units.written(height) for height in passes.heights])
        table.add("feed_speed", units.feed(passes.feed_speed))
        table.add("last_feed_speed", units.feed(passes.last_feed_speed))
        _append(document, "passes", table)
    return tomlkit.dumps(document)


def write_completed(source: Path, target: Path, scene: Scene, units: Units) -> None:
    """Write a completed scene beside or over the one it came from, whole or not at all.

    Raises
    ------
    SceneError
        When the file cannot be written.
    """
    text = completed_text(read_text(source, "a scene"), scene, units)
    try:
        handle, aside = tempfile.mkstemp(prefix=f".{target.name}-", dir=target.parent)
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
        Path(aside).chmod(0o644)
        Path(aside).replace(target)
    except OSError as wrong:
        raise SceneError("--write", f"{target} cannot be written ({wrong.strerror})", "give another file") from None


def _append(document: tomlkit.TOMLDocument, key: str, table: tomlkit.items.Table) -> None:
    if not document.as_string().endswith("\n\n"):
        document.add(tomlkit.nl())
    document.add(key, table)
