"""The page as one file: plain HTML with our own styles and script, and the data of a run inlined.

The same page is served live and sent as `removal.html`; the parts lie in `parts/`.
"""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
from functools import cache
from pathlib import Path
from typing import Any

from sweep.show.page.at_saw import saw_model
from sweep.show.page.model import WhileHeld, page_model, stretches_model
from sweep.show.page.scripts import one_script
from sweep.show.page.settings import settings_of
from sweep.show.page.setups import held_model, overview, setup_models
from sweep.show.page.template import filled, part
from sweep.show.say.cautions import LINE
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport

POLICY = (
    "default-src 'none'; script-src '{script}'; style-src '{style}'; img-src data:; connect-src {asks}; "
    "base-uri 'none'; form-action 'none'"
)
"""What a browser lets the page do: run this script, draw with what it holds, and ask nobody, or only its server."""

KINDS = {"pass": "pass", "deviation": "deviation from the target", "chip": "chip load", "wood": "wood"}
"""What the colours of the stock may say, by their names on the page."""

STYLES = {"mm": "mm", "in": "fractions of an inch", "in-decimal": "decimal inches"}
"""How lengths may be shown."""

TAKEN_AWAY = ("finished.stl", "finished.3mf", "sheet.pdf")
"""Files of a run that can be saved from its page."""


def removal_of(report: Report | SetupsReport) -> dict[str, Any]:
    """Return all that `removal.html` shows but the files it holds: most of its work, and none of it waits for them."""
    return shown_whole(report) | {"live": None, "saw": saw_model(report)}


def write_removal(path: Path, shown: dict[str, Any]) -> None:
    """Write `removal.html`: the job to watch, whole in one file, for a browser without a network.

    Parameters
    ----------
    path : Path
        In the folder of the run, after the files that the page holds.
    shown : dict
        See `removal_of`.
    """
    beside = [path.with_name(name) for name in TAKEN_AWAY]
    held = {file.name: base64.b64encode(file.read_bytes()).decode("ascii") for file in beside if file.exists()}
    path.write_text(page_text(shown | {"files": held}), encoding="utf-8")


def shown_whole(report: Report | SetupsReport) -> dict[str, Any]:
    """Return all that a page shows which asks nobody: of several set-ups a model for each, the first and the rest."""
    if isinstance(report, SetupsReport):
        models = _of_setups(report, feeds=True)
        return models | {"settings": [settings_of(one.scene, {}, report.units) for one in report.reports]}
    model = page_model(report)
    model["stretches"] = {one.number: stretches_model(report, one.number) for one in report.job.passes}
    return {"model": model, "settings": [settings_of(report.scene, {}, report.units)]}


def shown_live(report: Report | SetupsReport, held: WhileHeld | None = None, place: int = 0) -> dict[str, Any]:
    """Return what a page shows that asks its server: of a moment only, while a setting of a set-up is moved."""
    if isinstance(report, Report):
        return {"model": page_model(report, held)}
    if held is not None:
        return held_model(report, place, held)
    return _of_setups(report, feeds=False)


def _of_setups(report: SetupsReport, feeds: bool) -> dict[str, Any]:
    first, *rest = setup_models(report, feeds)
    return {"model": first, "rest": rest, "overview": overview(report)}


def page_text(data: dict[str, Any], cards: str = "", home: str = "") -> str:
    """Return the page around its data and, on a live one, its cards.

    Parameters
    ----------
    data : dict
        `model`, `files`, `settings`, and `live`, which is None but for a live page.
    cards : str
        HTML of `forms.py`.
    home : str
        Where the page of the folder is; empty where there is none.
    """
    data = dict(data)
    held, settings = data.pop("files"), data.pop("settings")
    style, script = _style(), _script("page") if data["live"] else one_script("page", _sent_module)
    asks = "'self'" if data["live"] else "'none'"
    return filled(
        "page.html",
        policy=POLICY.format(script=digest(script), style=digest(style), asks=asks),
        caution=LINE,
        title=data["model"]["title"],
        live=bool(data["live"]),
        several="rest" in data,
        files=held,
        settings=settings,
        views=data["model"]["views"],
        kinds=KINDS.items(),
        units=STYLES.items(),
        shown_in=data["model"]["units"],
        cards=cards,
        home=home,
        style=style,
        at_saw="saw" in data,
        alone=False,
        packed=data["live"] is None,
        data=inlined(data) if data["live"] else _packed(data),
        script=script,
    )


def saw_page(report: Report | SetupsReport, version: str) -> str:
    """Return the page of a phone at the saw alone, as a job is served; `version` is a digest of its file's text."""
    data = {"saw": saw_model(report), "version": version, "units": report.units.style}
    return plain_page("saw_page", title=title_of(report.scene), alone=True, data=inlined(data))


def plain_page(name: str, /, **words: Any) -> str:
    """Return a page of a template and a module of that name, which asks its server."""
    style, script = _style(), _script(name)
    policy = POLICY.format(script=digest(script), style=digest(style), asks="'self'")
    return filled(f"{name}.html", policy=policy, caution=LINE, style=style, script=script, **words)


@cache
def _script(name: str) -> str:
    """Return the script of a page that asks its server, put together once."""
    return one_script(name, lambda module: part(f"{module}.js"))


def _sent_module(name: str) -> str:
    """Return a module of a page that is sent, without what only a served one has to be changed by."""
    return part("unserved.js" if name == "served" else f"{name}.js")


def _style() -> str:
    return part("page.css") + part("at_saw.css")


def inlined(data: dict[str, Any]) -> str:
    """Return data as JSON in which no `<` stands: nothing in it can end the script that holds it."""
    return json.dumps(data, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")


def _packed(data: dict[str, Any]) -> str:
    """Return data as JSON by gzip (RFC 1952), in base64: a third of the room, and no `<` in it either."""
    text = json.dumps(data, allow_nan=False, separators=(",", ":"))
    return base64.b64encode(gzip.compress(text.encode(), mtime=0)).decode("ascii")


def digest(text: str) -> str:
    """Return how a content security policy names a style or a script that stands in the page."""
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode('ascii')}"
