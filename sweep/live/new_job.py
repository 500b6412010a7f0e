"""A new job from what a maker has in hand: looked at while it is written, and begun as a file of its own."""

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
from sweep.live.names import file_name
from sweep.live.profile import SentProfile, file_of, points_of
from sweep.plan.complete import complete
from sweep.quantity import is_bare, read_quantity
from sweep.scene.edits import key_at
from sweep.scene.model import Scene
from sweep.scene.new import Answers, new_text, read_answer, tables_of_answers
from sweep.scene.notation import told_as_written
from sweep.scene.places import Tables, require_beside
from sweep.scene.questions import PROFILE, QUESTIONS, STOCK, Question, answered_by, left_open
from sweep.scene.read import scene_beside
from sweep.scene.shop import shop_in
from sweep.scene.typed import from_typed
from sweep.show.page.model import section_of
from sweep.show.page.refusals import in_words
from sweep.show.say.passes import set_up_of
from sweep.show.say.profile import verdict_of
from sweep.show.say.report import Report
from sweep.show.say.worst import alert_of
from sweep.tolerance import AS_DRAGGED
from sweep.units import LENGTH


def sketched(folder: Path, given: dict[str, str], inches: bool, profile: SentProfile | None = None) -> bytes:
    """Return what comes of the answers so far: why some cannot be, what is missing, and the section of all of them."""
    answers, refused = _read(folder, given, inches)
    missing = _missing(folder, answers, profile)
    answer: dict[str, Any] = {"missing": missing, "section": "", "words": "", "profile": None}
    target: Tables = {}
    if profile is not None:
        try:
            points, wrong = points_of(profile, inches)
        except SweepError as told:
            refused[PROFILE.name] = _told(told)
        else:
            answer["profile"] = {"points": points, "wrong": wrong, "sides": _sides(answers)}
            target = {"target": {"shape": "points", "points": points, "whole": profile.whole}}
            missing += ["points"] if wrong else []
    if not refused and not missing:
        tables = tables_of_answers(_together(answers)) | target
        try:
            with told_as_written(tables):
                answer |= _seen(scene_beside(tables, folder))
        except SweepError as told:
            refused[_asked_by(told)] = _told(told)
    return json.dumps(answer | {"refused": refused}, allow_nan=False, separators=(",", ":")).encode()


def begun(folder: Path, name: str, given: dict[str, str], inches: bool, profile: SentProfile | None = None) -> bytes:
    """Write a new scene and the file of its profile, never over a file, and return where its page is.

    Raises
    ------
    SceneError
    """
    answers, refused = _read(folder, given, inches)
    if refused or _missing(folder, answers, profile):
        raise SceneError("job", "something is missing or cannot be", "look at the fields that are marked")
    path, written = folder / file_name(name), _together(answers)
    fit_new_file(path, "name")
    tables, beside = tables_of_answers(written), None
    if profile is not None:
        points, wrong = points_of(profile, inches)
        if wrong:
            raise SceneError("profile", "some of its points cannot be", "look at those that are marked")
        called, content = file_of(profile, path.name, inches)
        beside = folder / called
        written |= {"target.shape": "points", "target.file": called} | ({"target.whole": True} if profile.whole else {})
        tables |= {"target": {"shape": "points", "points": points, "whole": profile.whole}}
    with told_as_written(tables):
        scene = scene_beside(tables, folder)
        if not scene.lacks_setups:
            complete(scene)
    if beside is not None:
        _lay_beside(beside, content)
    new_file(path, new_text(written).encode("utf-8"), "name")
    return json.dumps({"go": f"job/{quote(path.name, safe='')}/"}).encode()


def _lay_beside(path: Path, content: bytes) -> None:
    """Write the file of a profile; the same one that is there already does."""
    if not (path.is_file() and path.read_bytes() == content):
        new_file(path, content, "profile")


def _missing(folder: Path, answers: dict[str, Answers], profile: SentProfile | None) -> list[str]:
    known = {name: "" for name in answers} | answered_by(shop_in(folder))
    return [one.name for one in left_open(known | ({} if profile is None else {PROFILE.name: ""}))]


def _sides(answers: dict[str, Answers]) -> list[float] | None:
    """Return the stock's width and thickness, mm, once they are known."""
    stock = answers.get(STOCK.name)
    return None if stock is None else [read_quantity(stock[key], LENGTH) for key in ("stock.width", "stock.thickness")]


def _seen(scene: Scene) -> dict[str, str]:
    """Return the section of a job that can be cut, and what is said of it."""
    if scene.lacks_setups:
        return {"words": "Its set-ups are worked out when it is opened."}
    report = Report(judge(simulate(complete(scene).scene, AS_DRAGGED)), scene.units)
    return {
        "section": section_of(report, "section of the new job"),
        "words": f"{set_up_of(report.outcome, report.units)}. {verdict_of(report.outcome, report.units)} "
        f"{alert_of(report.outcome, report.units)}",
    }


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
