"""The page as one file: plain HTML with our own styles and script, and the data of a run inlined.

The same page is served live and sent as `removal.html`; the parts lie in `parts/`.
"""

from __future__ import annotations

import base64
import html
import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

from sweep.check.judge import Outcome
from sweep.show.page.model import page_model, stretches_model
from sweep.show.page.settings import settings_of
from sweep.units import Units

SCRIPTS = (
    "vectors.js",
    "painter.js",
    "solids.js",
    "saw_view.js",
    "section.js",
    "table.js",
    "settings.js",
    "page.js",
)
"""In the order in which each uses those before it."""

POLICY = "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; connect-src {asks}"
"""What a browser lets the page do: draw with what it holds, and ask nobody, or only the program that serves it."""


TAKEN_AWAY = ("finished.stl", "finished.3mf", "sheet.pdf")
"""Files of a run that can be saved from its page."""


def write_removal(path: Path, outcome: Outcome, units: Units) -> None:
    """Write `removal.html`: the job to watch, whole in one file, for a browser without a network.

    Parameters
    ----------
    path : Path
        In the folder of the run, after the files that the page holds.
    outcome : Outcome
    units : Units
    """
    model = page_model(outcome, units)
    model["stretches"] = {one.number: stretches_model(outcome, one.number) for one in outcome.job.passes}
    settings = settings_of(outcome.job.scene, {}, units)
    beside = [path.with_name(name) for name in TAKEN_AWAY]
    held = {file.name: base64.b64encode(file.read_bytes()).decode("ascii") for file in beside if file.exists()}
    path.write_text(page_text({"model": model, "files": held, "live": None, "settings": settings}), encoding="utf-8")


def page_text(data: dict[str, Any]) -> str:
    """Return the page around its data: `model`, `files`, `settings`, and `live`, which is None but for a live page."""
    parts = files("sweep.show.page") / "parts"
    inserted = {
        "policy": POLICY.format(asks="'self'" if data["live"] else "'none'"),
        "title": html.escape(data["model"]["title"]),
        "style": (parts / "page.css").read_text("utf-8"),
        # no `<` may stand in it: nothing in the data can end the script that holds it
        "data": json.dumps(data, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c"),
        "script": "\n".join((parts / name).read_text("utf-8") for name in SCRIPTS),
    }
    template = (parts / "page.html").read_text("utf-8")
    return re.sub(r"\{\{(\w+)\}\}", lambda place: inserted[place[1]], template)
