"""The file that a phone at the saw leaves, read within bounds; its form is told in `kept.py`."""

from __future__ import annotations

from pathlib import Path

from pydantic import ValidationError

from sweep.errors import SceneError
from sweep.scene.complaint import in_one_sentence
from sweep.scene.file import read_text
from sweep.scene.kept import Record
from sweep.scene.places import Tables
from sweep.scene.toml import tables_of


def read_record(path: Path) -> tuple[Record, list[Tables]]:
    """Return what a phone wrote down, and its `[[measured]]` as they are written.

    Raises
    ------
    SceneError
        Naming the file and the first field that cannot be used.
    """
    tables = tables_of(read_text(path, "a record that a phone left"), path)
    if "record" not in tables:
        raise SceneError(str(path), "this is no record of a phone at the saw", "give the file that it wrote down")
    try:
        return Record.model_validate(tables), tables.get("measured", [])
    except ValidationError as wrong:
        complaints = sorted(wrong.errors(), key=lambda error: error["type"] != "extra_forbidden")
        found = in_one_sentence(complaints[0], Record)
        raise SceneError(f"{path}, {found.field}", found.problem, found.remedy) from None
    except SceneError as wrong:
        raise SceneError(f"{path}, {wrong.field}", wrong.problem, wrong.remedy) from None


def record_of(path: Path | None, title: str) -> tuple[Record, list[Tables]]:
    """Return the same of a scene with that title; an empty one where no phone left any.

    Raises
    ------
    SceneError
        Where it is another scene's.
    """
    if path is None:
        return Record(record=1), []
    record, measured = read_record(path)
    if record.title and record.title != title:
        raise SceneError(
            f"{path}, title",
            f"the record is of '{record.title[:60]}', and the scene is '{title[:60]}'",
            "give the record of this scene",
        )
    return record, measured
