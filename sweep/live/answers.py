"""The answers to what live pages ask for, each worked out from what it is given alone; see `worker.py`."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from functools import lru_cache, wraps
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.live.asked import Asked
from sweep.live.opened import Opened
from sweep.plan.complete import complete
from sweep.scene.changes import Changes, changed
from sweep.scene.file import read_text
from sweep.scene.model import WholeScene
from sweep.scene.notation import told_as_written
from sweep.scene.read import scene_from, scene_of
from sweep.scene.write import completed_text, revised_text
from sweep.show.files.meshes import write_meshes
from sweep.show.page.model import Moment, page_model, stretches_model
from sweep.show.page.page import TAKEN_AWAY, page_text
from sweep.show.page.settings import settings_of
from sweep.show.say.report import Report
from sweep.show.sheet.pdf import paper_for, write_sheet
from sweep.tolerance import AS_DRAGGED, AS_RUN, Fineness
from sweep.units import Units, degrees
from sweep.words import visible


def _told_as_typed(answer: Callable[..., Any]) -> Callable[..., Any]:
    """Return an answer whose refusals are told as their field was typed, or else in the units that the page shows."""

    @wraps(answer)
    def told(now: Opened, asked: Asked, *more: Any) -> Any:
        typed: dict[str, dict[str, Any]] = {"stock": {"length": "0 mm" if Units(asked.units).metric else "0 in"}}
        for key, text in asked.changes.items():
            section, _, name = key.partition(".")
            typed.setdefault(section, {})[name] = text
        with told_as_written(typed):
            return answer(now, asked, *more)

    return told


def opened(path: Path, units: Units | None) -> Opened:
    """Return the scene as it stands in its file now; what is worked out for it is written in `units`, or in its own."""
    text = read_text(path, "a scene")
    scene = complete(scene_of(text, path)).scene
    return Opened(path, text, completed_text(text, scene, units or scene.units))


def page(path: Path, units: Units | None) -> tuple[Opened, bytes]:
    """Return the scene as it stands in its file now, and the page that shows it."""
    now = opened(path, units)
    scene, data = _scene(now, {})
    shown_in = units or scene.units
    live = {"version": now.version, "file": visible(path.name), "files": TAKEN_AWAY}
    model = page_model(_report(scene, shown_in, AS_RUN))
    settings = settings_of(scene, data, shown_in)
    return now, page_text({"model": model, "files": {}, "live": live, "settings": settings}).encode()


@_told_as_typed
def cut(now: Opened, asked: Asked) -> bytes:
    """Return the simulation with changed settings; of a moment only, while one is dragged."""
    (scene, data), units = _scene(now, asked.changes), Units(asked.units)
    if asked.number is None:
        model = page_model(_report(scene, units, AS_RUN))
    else:
        model = page_model(_report(scene, units, AS_DRAGGED), Moment(asked.number, asked.travel, asked.width))
    return _json({"model": model, "settings": settings_of(scene, data, units)})


@_told_as_typed
def feed(now: Opened, asked: Asked) -> bytes:
    """Return the stock at every moment of one pass."""
    report = _report(_scene(now, asked.changes)[0], Units(asked.units), AS_DRAGGED)
    number = min(max(asked.number or 1, 1), len(report.job.passes))
    return _json({"stretches": stretches_model(report, number)})


@_told_as_typed
def solve(now: Opened, asked: Asked) -> bytes:
    """Return the settings that come closest to the target with the blade as it is set, its passes planned anew."""
    (scene, _), units = _scene(now, asked.changes), Units(asked.units)
    if scene.target is None:
        raise SceneError("target", "the scene names none", "write [target] into it")
    found = complete(scene.left_open())
    setup, passes = found.scene.setup, found.scene.passes
    changes = {
        "setup.fence_angle": f"{round(degrees(setup.fence_angle), 4):g} deg",
        "setup.blade_tilt": f"{round(degrees(setup.blade_tilt), 4):g} deg",
        "setup.blade_height": units.written(setup.blade_height),
        "setup.offset": units.written(setup.offset),
        "passes.heights": [units.written(height) for height in passes.heights],
    }
    apart = units.fine(found.candidates[0].fit.deviation)
    return _json({"changes": changes, "words": f"At most {apart} from the target, in {len(passes.heights)} passes."})


@_told_as_typed
def revised(now: Opened, asked: Asked) -> str:
    """Return the scene's text with the changes written into it; what else stands in it is kept."""
    judge(simulate(_scene(now, asked.changes)[0], AS_DRAGGED))  # what cannot be cut is refused, not saved
    return revised_text(now.whole, asked.changes)


def saved(path: Path, units: Units | None, asked: Asked) -> tuple[Opened, bytes]:
    """Return the scene as it stands in its file after saving, and its settings."""
    now = opened(path, units)
    scene, data = _scene(now, {})
    return now, _json({"version": now.version, "settings": settings_of(scene, data, Units(asked.units))})


@_told_as_typed
def file(now: Opened, asked: Asked, name: str) -> bytes:
    """Return a finished file of the scene with changed settings."""
    if name not in TAKEN_AWAY:
        raise SceneError("file", f"there is no '{name[:40]}' to take away", f"ask for one of {', '.join(TAKEN_AWAY)}")
    units = Units(asked.units)
    with TemporaryDirectory() as folder:
        report = _report(_scene(now, asked.changes)[0], units, AS_RUN)
        if name == "sheet.pdf":
            write_sheet(Path(folder) / name, report, paper_for(units), now.path.name)
        else:
            write_meshes(Path(folder), {name: [piece.mesh for piece in report.job.pieces]})
        return (Path(folder) / name).read_bytes()


def _scene(now: Opened, changes: Changes) -> tuple[WholeScene, dict[str, Any]]:
    data = changed(_tables(now.whole), changes)
    return complete(scene_from(data, now.path.parent)).scene, data


@lru_cache(maxsize=4)  # of every move of a slider
def _tables(text: str) -> dict[str, Any]:
    """Return a scene's tables, to be left as they are."""
    return tomllib.loads(text)


def _report(scene: WholeScene, units: Units, fineness: Fineness) -> Report:
    return Report(judge(simulate(scene, fineness)), units)


def _json(answer: dict[str, Any]) -> bytes:
    return json.dumps(answer, allow_nan=False, separators=(",", ":")).encode()
