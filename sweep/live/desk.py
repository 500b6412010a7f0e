"""What live pages ask for, and the answers: each request carries its settings, so no page has state here.

What is kept are the texts of scenes as they were when a page was opened, by a digest of the text: pages of
the same file share one, and only the last few are kept.
"""

from __future__ import annotations

import hashlib
import tomllib
from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sweep.check.judge import Outcome, judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.plan.complete import complete
from sweep.scene.changes import Changes, changed
from sweep.scene.file import read_text
from sweep.scene.model import Scene
from sweep.scene.read import scene_from, scene_of
from sweep.scene.write import completed_text, revised_text, write_text
from sweep.show.files.folder import write_meshes
from sweep.show.page.model import page_model, stretches_model
from sweep.show.page.page import TAKEN_AWAY, page_text
from sweep.show.page.settings import settings_of
from sweep.show.sheet.pdf import paper_for, write_sheet
from sweep.tolerance import AS_DRAGGED, AS_RUN, Fineness
from sweep.units import Units, degrees
from sweep.words import visible

KEPT = 16
"""Texts of scenes as pages opened them; a page of an older one is asked to reload."""


@dataclass(frozen=True)
class Opened:
    """A scene as a page opened it.

    Parameters
    ----------
    text : str
        As it stands in the file.
    whole : str
        The same with nothing left out.
    """

    text: str
    whole: str


class Desk:
    """What the pages ask for; each method takes a request's body and returns data for JSON."""

    def __init__(self, path: Path, units: Units | None) -> None:
        self._path, self._units = path, units
        self._opened: OrderedDict[str, Opened] = OrderedDict()
        self.page()  # a scene that cannot be used is refused before anything is served

    def page(self) -> str:
        """Return the page with the scene as it stands in the file now."""
        version, opened = self._open()
        scene, data = self._scene(opened, {})
        live = {"version": version, "file": visible(self._path.name), "files": TAKEN_AWAY}
        units = self._units or scene.units
        settings = settings_of(scene, data, units)
        model = page_model(_judged(scene, AS_RUN), units)
        return page_text({"model": model, "files": {}, "live": live, "settings": settings})

    def cut(self, body: dict[str, Any]) -> dict[str, Any]:
        """Return the simulation with changed settings; of a moment (`pass`, `travel`) only, while one is dragged."""
        scene, data, units = self._asked(body)
        if "pass" in body:
            shown = int(body["pass"]), None if body["travel"] is None else float(body["travel"])
            model = page_model(_judged(scene, AS_DRAGGED), units, shown)
        else:
            model = page_model(_judged(scene, AS_RUN), units)
        return {"model": model, "settings": settings_of(scene, data, units)}

    def feed(self, body: dict[str, Any]) -> dict[str, Any]:
        """Return the stock at every moment of one pass."""
        scene, _, _ = self._asked(body)
        return {"stretches": stretches_model(_judged(scene, AS_DRAGGED), int(body["pass"]))}

    def solve(self, body: dict[str, Any]) -> dict[str, Any]:
        """Return the settings that come closest to the target with the blade as it is set, its passes planned anew."""
        scene, _, units = self._asked(body)
        if scene.target is None:
            raise SceneError("target", "the scene names none", "write [target] into it")
        blade = {"blade": scene.blade, "blades": ()}
        found = complete(scene.model_copy(update={**blade, "setup": None, "passes": None}))
        setup, passes = found.scene.setup, found.scene.passes
        changes = {
            "setup.fence_angle": f"{round(degrees(setup.fence_angle), 4):g} deg",
            "setup.blade_tilt": f"{round(degrees(setup.blade_tilt), 4):g} deg",
            "setup.blade_height": units.written(setup.blade_height),
            "setup.offset": units.written(setup.offset),
            "passes.heights": [units.written(height) for height in passes.heights],
        }
        apart = units.fine(found.candidates[0].fit.deviation)
        return {"changes": changes, "words": f"At most {apart} from the target, in {len(passes.heights)} passes."}

    def save(self, body: dict[str, Any]) -> dict[str, Any]:
        """Write the changes into the scene's file; what else stands in it is kept."""
        self._asked(body)
        opened = self._opened[body["version"]]
        if read_text(self._path, "a scene") != opened.text:
            raise SceneError(
                str(self._path), "the file has changed since this page was opened", "reload the page, then save"
            )
        write_text(self._path, revised_text(opened.whole, body["changes"]), "save")
        version, opened = self._open()
        scene, data = self._scene(opened, {})
        return {"version": version, "settings": settings_of(scene, data, self._asked_units(body))}

    def file(self, name: str, body: dict[str, Any]) -> bytes:
        """Return a finished file of the scene with changed settings."""
        scene, _, units = self._asked(body)
        with TemporaryDirectory() as folder:
            outcome = _judged(scene, AS_RUN)
            if name == "sheet.pdf":
                write_sheet(Path(folder) / name, outcome, units, paper_for(units), self._path.name)
            else:
                write_meshes(Path(folder), outcome)
            return (Path(folder) / name).read_bytes()

    def _open(self) -> tuple[str, Opened]:
        text = read_text(self._path, "a scene")
        version = hashlib.sha256(text.encode()).hexdigest()[:16]
        if version not in self._opened:
            scene = complete(scene_of(text, self._path)).scene
            self._opened[version] = Opened(text, completed_text(text, scene, self._units or scene.units))
        self._opened.move_to_end(version)
        while len(self._opened) > KEPT:
            self._opened.popitem(last=False)
        return version, self._opened[version]

    def _asked(self, body: dict[str, Any]) -> tuple[Scene, dict[str, Any], Units]:
        opened = self._opened.get(body["version"])
        if opened is None:
            raise SceneError(str(self._path), "this page was opened too long ago", "reload it")
        return *self._scene(opened, body["changes"]), self._asked_units(body)

    @staticmethod
    def _asked_units(body: dict[str, Any]) -> Units:
        return Units(body["units"] if body["units"] in ("mm", "in", "in-decimal") else "mm")

    def _scene(self, opened: Opened, changes: Changes) -> tuple[Scene, dict[str, Any]]:
        data = changed(tomllib.loads(opened.whole), changes)
        return scene_from(data, self._path.parent), data


def _judged(scene: Scene, fineness: Fineness) -> Outcome:
    return judge(simulate(scene, fineness))
