"""What the page of a folder shows: its jobs, each in a line, and the questions for a new one."""

from __future__ import annotations

import json
import re
from contextlib import suppress
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sweep.errors import SceneError, SweepError
from sweep.live.made import made_of
from sweep.live.new_job import begun, sketched
from sweep.live.trial import path_of
from sweep.scene.file import read_text
from sweep.scene.keep import RECORD
from sweep.scene.kept import Kept
from sweep.scene.model import Scene
from sweep.scene.questions import QUESTIONS, Question, answered_by
from sweep.scene.read import scene_beside
from sweep.scene.shop import shop_in
from sweep.scene.toml import tables_of
from sweep.show.page.fields import words_of
from sweep.show.page.model import section_of
from sweep.show.page.page import plain_page
from sweep.show.page.refusals import in_words
from sweep.show.page.setups import overview
from sweep.show.page.template import filled
from sweep.show.say.passes import set_up_of, title_of
from sweep.show.say.setups import SetupsReport
from sweep.show.say.worst import alert_of, alert_of_setups
from sweep.tolerance import AS_DRAGGED
from sweep.units import Units
from sweep.words import visible

__all__ = ["begun", "jobs_page", "sketched", "summary"]  # what the page asks its worker for

MOST_JOBS = 300
"""Files that are listed, the latest first."""

_A_KEY = re.compile(r"[a-z_]+(\.[a-z_0-9]+)*")
_A_SCENE = re.compile(r"^\s*\[stock\]", re.MULTILINE)


def jobs_in(folder: Path) -> list[str]:
    """Return the names of a folder's scenes, the one that was changed last first."""
    found = []
    for path in folder.glob("*.toml"):
        if is_job(folder, path.name):
            with suppress(OSError):  # it has just been taken away
                found.append((path.stat().st_mtime, path.name))
    return [name for _, name in sorted(found, reverse=True)[:MOST_JOBS]]


def is_job(folder: Path, name: str) -> bool:
    """Return whether a scene of that name lies in a folder, and not elsewhere."""
    path = folder / name
    try:
        is_scene = path.name == name and path.suffix == ".toml" and path.is_file()
        return is_scene and _A_SCENE.search(read_text(path, "a scene")) is not None
    except (SweepError, OSError, ValueError):
        return False


def kept_in(folder: Path) -> list[str]:
    """Return the names of the jobs in a folder's record."""
    return jobs_in(folder / RECORD)


def jobs_page(folder: Path, units: Units | None) -> bytes:
    """Return the page of a folder."""
    try:
        shop = shop_in(folder)
    except SceneError:
        shop = {}  # it is told where a job is read
    known = answered_by(shop)
    inches = shop.get("units") == "in" if units is None else not units.metric
    return plain_page(
        "jobs",
        title=f"Jobs in {visible(folder.resolve().name)}",
        jobs=[(name, f"job/{quote(name, safe='')}/", visible(name)) for name in jobs_in(folder)],
        kept=[(f"{RECORD}/{name}", f"{RECORD}/{quote(name, safe='')}/", visible(name)) for name in kept_in(folder)],
        questions=[(one, _words(one), one.name in known) for one in QUESTIONS],
        inches=inches,
    ).encode()


def summary(path: Path, units: Units | None) -> bytes:
    """Return one job in a few words, with its section, as HTML; or why it cannot be shown."""
    try:
        tables = tables_of(read_text(path, "a scene"), path)
        scene = scene_beside(tables, path.parent)
        if scene.lacks_setups:
            return _open(path, scene)
        report = made_of(tables, path.parent, AS_DRAGGED, units).report
    except SweepError as wrong:
        return _json({"html": filled("job.html", wrong=_why(wrong), file=visible(path.name))})
    if isinstance(report, SetupsReport):
        return _several(path, report)
    outcome, shown_in = report.outcome, report.units
    return _json(
        {
            "html": filled(
                "job.html",
                wrong="",
                file=visible(path.name),
                title=title_of(report.scene),
                set_up=set_up_of(outcome, shown_in),
                alert=alert_of(outcome, shown_in),
                flagged=bool(outcome.flags),
                within=None if report.scene.target is None else report.is_within_tolerance,
                kept=_kept(scene.kept),
            ),
            "section": section_of(report, f"section of {visible(path.stem)}"),
        }
    )


def _why(wrong: SweepError) -> str:
    """Return a complaint in words with the place that it is of, where that is a key of the scene."""
    path = path_of(wrong.field) if isinstance(wrong, SceneError) else ""
    where = f"{words_of(path)}: " if _A_KEY.fullmatch(path) else ""
    return where[:1].upper() + where[1:] + in_words(wrong, inches=False)


def _open(path: Path, scene: Scene) -> bytes:
    """Return what is said of a job whose set-ups are still to be found."""
    said = _of_many(path, scene) | {"set_up": "its set-ups are worked out when it is opened", "alert": ""}
    return _json({"html": filled("job.html", **said), "section": ""})


def _of_many(path: Path, scene: Scene) -> dict[str, Any]:
    said: dict[str, Any] = {"wrong": "", "file": visible(path.name), "title": title_of(scene)}
    return said | {"flagged": False, "within": None, "kept": _kept(scene.kept)}


def _several(path: Path, report: SetupsReport) -> bytes:
    """Return one job of several set-ups in a few words, with what they take."""
    scene = report.scene
    said = _of_many(path, scene)
    whole, alert = report.verdict.whole, alert_of_setups(report)
    said |= {
        "set_up": f"{len(scene.setups)} set-ups, {report.moulding.passes} passes",
        "alert": alert.words,
        "flagged": alert.flagged,
        "within": None if whole is None else report.verdict.is_within_tolerance,
    }
    return _json({"html": filled("job.html", **said), "section": overview(report)[0]["section"]})


def _kept(kept: Kept | None) -> str:
    """Return when a job was made and what is kept with it; nothing of one that is not in the record."""
    if kept is None:
        return ""
    block = f", block {visible(kept.block)}" if kept.block else ""
    return f"Made on {kept.date}{block}. {visible(kept.notes)}".strip()


def _words(question: Question) -> str:
    return question.asks[:1].upper() + question.asks[1:]


def _json(answer: dict[str, Any]) -> bytes:
    return json.dumps(answer, allow_nan=False, separators=(",", ":")).encode()
