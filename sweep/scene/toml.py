"""A scene's text to plain tables, and the slips that makers make in TOML told in their words."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from sweep.errors import SceneError

_CURLY = re.compile("[“”„‟«»″‘’]")
_BARE = re.compile(
    r"^\s*([A-Za-z_]+)\s*=\s*([+-]?[0-9][^\"'#\[\]{}]*[^\"'#\[\]{}\s0-9.]|[A-Za-z][^\"'#\[\]{}]*?)\s*(?:#.*)?$"
)
_BARE_IN_LIST = re.compile(r"[\[,]\s*[+-]?[0-9][0-9./]*\s*[A-Za-z°%]")
_BARE_INCHES = re.compile(r"^\s*([A-Za-z_]+)\s*=\s*([0-9][0-9 /.,½¼¾-]*[\"'])\s*(?:#.*)?$")
_COLON = re.compile(r"^\s*([A-Za-z_]+)\s*:")
_OPEN_BRACKET = re.compile(r"^\s*\[+[A-Za-z_. ]*\]?\s*(?:#.*)?$")
_INCH_IN_QUOTES = re.compile(r"=\s*(\"[^\"]*[0-9]\")\"\s*(?:#.*)?$")
_TWICE = re.compile(r"Cannot declare \((.*?)\) twice")
_NAME = re.compile(r"'([^']*)'")


def tables_of(text: str, path: Path) -> dict[str, Any]:
    """Return what TOML holds.

    Raises
    ------
    SceneError
        Naming the file and, where the parser knows it, the line, with what is wrong in it.
    """
    if not text.strip():
        raise SceneError(str(path), "the file is empty", "copy one from scenes/ and change it")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        raise _in_our_words(text, path, str(wrong)) from None
    except (RecursionError, ValueError):  # brackets in brackets without end, a number of 4300 figures
        raise SceneError(str(path), "this is not TOML", "compare it with one from scenes/") from None


def _in_our_words(text: str, path: Path, wrong: str) -> SceneError:
    where = re.search(r"at line ([0-9]+)", wrong)
    if where is None:
        return SceneError(str(path), f"this is not TOML ({wrong})", "compare it with one from scenes/")
    line = text.split("\n")[int(where[1]) - 1]
    line = line if len(line) <= 200 else ""  # nobody wrote it by hand
    code = line.partition("#")[0]
    field = f"{path}, line {where[1]}"
    if _CURLY.search(code):
        return SceneError(field, "its quotation marks are curly ones", 'write straight ones, as in "16 mm"')
    if bare := _BARE.match(line):
        return SceneError(field, f"{bare[2]} has no quotation marks", f'write {bare[1]} = "{bare[2]}"')
    if _BARE_IN_LIST.search(line):
        return SceneError(field, "a quantity in the list has no quotation marks", 'write ["3 mm", "6 mm"]')
    if quoted := _INCH_IN_QUOTES.search(line):
        return SceneError(
            field, "the mark of the inch ends the text", f"write {quoted[1][:-1]} in\", or '{quoted[1][1:]}'"
        )
    if bare := _BARE_INCHES.match(line):
        return SceneError(field, f"{bare[2]} has no quotation marks", f"write {bare[1]} = {_in_other_marks(bare[2])}")
    if twice := _TWICE.search(wrong):
        return SceneError(field, f"[{'.'.join(_NAME.findall(twice[1]))}] stands twice", "put its keys below the first")
    if "overwrite a value" in wrong:
        return SceneError(field, f"{code.partition('=')[0].strip()} stands twice in its table", "leave one of them out")
    if colon := _COLON.match(code):
        return SceneError(field, "there is a colon after the key", f"write {colon[1]} = instead")
    if code.count('"') % 2 or (code.count("'") % 2 and '"' not in code):
        return SceneError(field, "a quotation mark has no other one", 'write one before and one after, as in "16 mm"')
    if _OPEN_BRACKET.match(code):
        return SceneError(field, "a bracket has no other one", "write [stock], or [[finish]] above each of several")
    return SceneError(field, f"this is not TOML ({wrong})", "compare it with a scene from scenes/")


def _in_other_marks(text: str) -> str:
    return f'"{text}"' if text.endswith("'") else f"'{text}'"
