"""What the page of a folder shows: its jobs, each in a line, and a new one from what a maker has in hand."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.disk.file import fit_new_file, new_file
from sweep.errors import SceneError, SweepError
from sweep.live.made import made_of
from sweep.live.names import file_name
from sweep.plan.complete import complete
from sweep.quantity import is_bare
from sweep.scene.edits import key_at
from sweep.scene.file import read_text
from sweep.scene.keep import RECORD
from sweep.scene.kept import Kept
from sweep.scene.model import Scene
from sweep.scene.new import Answers, new_text, read_answer, tables_of_answers
from sweep.scene.notation import told_as_written
from sweep.scene.places import require_beside
from sweep.scene.questions import PROFILE, QUESTIONS, STOCK, Question, answered_by, left_open
from sweep.scene.read import scene_beside
from sweep.scene.shop import shop_in
from sweep.scene.toml import tables_of
from sweep.scene.typed import from_typed
from sweep.show.page.model import section_of
from sweep.show.page.page import plain_page
from sweep.show.page.refusals import in_words
from sweep.show.page.setups import overview
from sweep.show.page.template import filled
from sweep.show.say.passes import set_up_of, title_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.say.worst import alert_of, alert_of_setups
from sweep.tolerance import AS_DRAGGED
from sweep.units import Units
from sweep.words import visible

MOST_JOBS = 300
"""Files that are listed, the latest first."""

_A_SCENE = re.compile(r"^\s*\[stock\]", re.MULTILINE)


def jobs_in(folder: Path) -> list[str]:
    """Return the names of a folder's scenes, the one that was changed last first."""
    found = []
    for path in folder.glob("*.toml"):
        try:
            if path.is_file() and _A_SCENE.search(read_text(path, "a scene")):
                found.append((path.stat().st_mtime, path.name))
        except (SweepError, OSError):
            continue
    return [name for _, name in sorted(found, reverse=True)[:MOST_JOBS]]


def kept_in(folder: Path) -> list[str]:
    """Return the names of the jobs in a folder's record."""
    return jobs_in(folder / RECORD)


def jobs_page(folder: Path, units: Units | None) -> bytes:
    """Return the page of a folder."""
    inches = units is not None and not units.metric
    try:
        known = answered_by(shop_in(folder))
    except SceneError:
        known = {}  # it is told where a job is read
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
        return _json({"html": filled("job.html", wrong=in_words(wrong, inches=False), file=visible(path.name))})
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


def sketched(folder: Path, given: dict[str, str], inches: bool) -> bytes:
    """Return what comes of the answers so far: why some cannot be, what is missing, and the section of all of them."""
    answers, refused = _read(folder, given, inches)
    missing = [one.name for one in left_open({name: "" for name in answers} | answered_by(shop_in(folder)))]
    answer: dict[str, Any] = {"refused": refused, "missing": missing, "section": "", "words": ""}
    if not refused and not missing:
        tables = tables_of_answers(_together(answers))
        try:
            with told_as_written(tables):
                scene = complete(scene_beside(tables, folder)).scene
                report = Report(judge(simulate(scene, AS_DRAGGED)), scene.units)
        except SweepError as wrong:
            answer["refused"] = {_asked_by(wrong): _told(wrong)}
        else:
            alert = alert_of(report.outcome, report.units)
            answer |= {
                "section": section_of(report, "section of the new job"),
                "words": f"{set_up_of(report.outcome, report.units)}. {alert}",
            }
    return _json(answer)


def begun(folder: Path, name: str, given: dict[str, str], inches: bool) -> bytes:
    """Write a new scene, never over a file, and return where its page is.

    Raises
    ------
    SceneError
    """
    answers, refused = _read(folder, given, inches)
    missing = left_open({name: "" for name in answers} | answered_by(shop_in(folder)))
    if refused or missing:
        raise SceneError("job", "something is missing or cannot be", "look at the fields that are marked")
    written = _together(answers)
    tables = tables_of_answers(written)
    with told_as_written(tables):
        complete(scene_beside(tables, folder))
    path = folder / file_name(name)
    fit_new_file(path, "name")
    new_file(path, new_text(written).encode("utf-8"), "name")
    return _json({"go": f"job/{quote(path.name, safe='')}/"})


def _read(folder: Path, given: dict[str, str], inches: bool) -> tuple[dict[str, Answers], dict[str, str]]:
    """Return the answers that can be, by question, and why the others cannot."""
    answers: dict[str, Answers] = {}
    refused: dict[str, str] = {}
    for one in QUESTIONS:
        text = given.get(one.name, "").strip()
        if not text:
            continue
        try:
            if one is PROFILE:
                require_beside(text)
            answers[one.name] = read_answer(one, _with_unit(one, text, inches), folder / "new.toml")
        except SweepError as wrong:
            refused[one.name] = _told(wrong)
    return answers, refused


def _with_unit(question: Question, text: str, inches: bool) -> str:
    """Return an answer with the unit that is meant where it has none."""
    if len(question.keys) == 1:
        return str(from_typed(key_at({}, question.keys[0]), text, None, inches))
    parts = re.split(r"\s*[x×X]\s*", text)
    lengths = len(parts) if question is STOCK else len(parts) - 1
    if lengths > 0 and is_bare(parts[lengths - 1]):
        parts[lengths - 1] += " in" if inches else " mm"
    return " x ".join(parts)


def _together(answers: dict[str, Answers]) -> Answers:
    return {key: value for answer in answers.values() for key, value in answer.items()}


def _asked_by(wrong: SweepError) -> str:
    """Return the question that a complaint is about, or nothing."""
    field = getattr(wrong, "field", "")
    return next((one.name for one in QUESTIONS if field in one.keys), "")


def _told(wrong: SweepError) -> str:
    return in_words(wrong, getattr(wrong, "inches", False))


def _words(question: Question) -> str:
    return question.asks[:1].upper() + question.asks[1:]


def _json(answer: dict[str, Any]) -> bytes:
    return json.dumps(answer, allow_nan=False, separators=(",", ":")).encode()
