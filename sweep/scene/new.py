"""A new scene from a maker's answers: a text with comments, in the notation of the answers, that `sweep run` takes."""

from __future__ import annotations

import json
import os
import re
import textwrap
from pathlib import Path
from typing import Any

from sweep.errors import SceneError
from sweep.scene.documented import documented_keys, plain
from sweep.scene.keys import Stock
from sweep.scene.notation import told_as_written
from sweep.scene.questions import PROFILE, Question
from sweep.scene.read import read_key
from sweep.scene.target import Target

Answers = dict[str, "str | int"]
"""From a key of the scene to what is written there."""

_HEAD = (
    "A new scene, as `sweep new` writes it. `sweep solve` works out the set-up and the passes, and `--write` puts them "
    "in here; `sweep keys` tells everything else that may be written."
)
_INDENT, _COLUMNS = 32, 110
_FOR_OTHERS = re.compile(r"required|^see |^leave the whole")
_BETWEEN = re.compile(r"\s*[x×X]\s*")
_NUMBER = re.compile(r"(?=.*[0-9½¼¾⅛⅜⅝⅞])[^A-Za-z\"'″′]*")


def read_answer(question: Question, text: str, file: Path) -> Answers:
    """Return what an answer writes into a scene, each part of it checked as reading the scene would.

    Parameters
    ----------
    question : Question
    text : str
        ``"48 in x 3 in x 3/4 in"``; a length without a unit has that of the next one: ``"48 x 3 x 3/4 in"``.
    file : Path
        The scene's, beside which the file of a profile is looked for.

    Raises
    ------
    SceneError
    """
    parts = _BETWEEN.split(text.strip()) if len(question.keys) > 1 else [text.strip()]
    if len(parts) != len(question.keys):
        example = " or ".join(f'"{one}"' for one in dict.fromkeys(question.example))
        raise SceneError(question.option, f"'{text[:60]}' is not {len(question.keys)} sizes", f"write {example}")
    if question is PROFILE:
        parts = [os.path.relpath(parts[0], file.parent).replace(os.sep, "/")]
    found: Answers = {}
    for key, part in zip(question.keys, _with_units(parts, question.keys), strict=True):
        value: str | int = int(part) if key == "blade.teeth" and part.isdecimal() and len(part) < 10 else part
        with told_as_written(tables_of_answers({key: value})):
            read_key(key, value)
        found[key] = value
    if "blade.bevel" in found:
        found["blade.tip"] = "alternate bevel"
    if question.keys[0].startswith("target."):
        found["target.shape"] = "points" if question is PROFILE else "cove"
    return found


def refuse_beyond_stock(answers: Answers) -> None:
    """Refuse a mark that leaves no cove in the stock, before the other marks are known.

    Raises
    ------
    SceneError
    """
    tables = tables_of_answers(answers)
    other = {"depth": "1 mm"} if "shoulders" in tables["target"] else {"width": "1 mm"}
    with told_as_written(tables):
        Target.model_validate(tables["target"] | other).marked_on(Stock.model_validate(tables["stock"]))


def tables_of_answers(answers: Answers) -> dict[str, Any]:
    """Return answers as the tables of a scene."""
    tables: dict[str, Any] = {}
    for path, value in answers.items():
        section, _, name = path.rpartition(".")
        (tables.setdefault(section, {}) if section else tables)[name] = value
    return tables


def new_text(answers: Answers) -> str:
    """Return answers as the text of a scene: its keys in their order, each with what it means."""
    lines, section = textwrap.wrap(f"# {_HEAD}", _COLUMNS, subsequent_indent="# "), ""
    for key in documented_keys():
        if key.path not in answers:
            continue
        if key.section != section:
            section = key.section
            lines += ["", f"[{section}]"]
        lines += _with_comment(f"{key.name} = {_quoted(answers[key.path])}", _meaning(key.description))
    return "\n".join(lines) + "\n"


def _with_units(parts: list[str], keys: tuple[str, ...]) -> list[str]:
    """Return the parts of an answer, each length that has no unit with that of the next one that has."""
    found, unit = [], ""
    for part, key in zip(reversed(parts), reversed(keys), strict=True):
        if key == "blade.teeth" or len(parts) == 1:
            found.append(part)
        elif part and _NUMBER.fullmatch(part):
            found.append(f"{part} {unit}".strip())
        else:
            unit = re.sub(r"^[^A-Za-z\"'″′]*", "", part)
            found.append(part)
    return found[::-1]


def _quoted(value: str | int) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    return f"'{value}'" if '"' in value and "'" not in value else json.dumps(value, ensure_ascii=False)


def _meaning(description: str) -> str:
    """Return what a key means, without what is said to whoever might leave it out."""
    clauses = [clause for clause in plain(description).split("; ") if not _FOR_OTHERS.search(clause)]
    return "; ".join(clauses)


def _with_comment(line: str, comment: str) -> list[str]:
    """Return a line with a comment beside it, which goes on below where it is long."""
    start = max(_INDENT, len(line) + 2)
    first, *more = textwrap.wrap(comment, max(40, _COLUMNS - start - 2))
    return [f"{line.ljust(start)}# {first}", *(f"{' ' * start}# {rest}" for rest in more)]
