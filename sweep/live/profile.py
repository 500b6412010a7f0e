"""A profile that a maker gives with a new job: drawn on the page, or a file that was dropped on it."""

from __future__ import annotations

import base64
import re
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from sweep.errors import SceneError, SweepError
from sweep.quantity import is_bare, read_quantity
from sweep.scene.drawing.read import MOST_BYTES
from sweep.scene.points import points_in
from sweep.units import LENGTH, Units

Cell = Annotated[str, Field(max_length=40)]
Points = list[list[float]]

KINDS = (".csv", ".dxf", ".svg")
"""Files that can be dropped."""


class SentProfile(BaseModel):
    """A profile as the page sends it.

    Parameters
    ----------
    name, content : str
        Of the file that was dropped, in base64; empty where it is drawn.
    points : list of (str, str)
        As they were drawn or typed, y and z.
    whole : bool
        Whether it is the whole moulding.
    """

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")

    name: Annotated[str, Field(max_length=200)] = ""
    content: Annotated[str, Field(max_length=MOST_BYTES * 4 // 3 + 4)] = ""
    points: Annotated[list[Annotated[list[Cell], Field(min_length=2, max_length=2)]], Field(max_length=500)] = []
    whole: bool = False


def points_of(profile: SentProfile, inches: bool) -> tuple[Points, dict[int, str]]:
    """Return the points of a profile, mm, and of those that are typed and are none, which and why."""
    if profile.name:
        return _of_file(profile), {}
    found, wrong = [], {}
    for number, cells in enumerate(profile.points):
        try:
            found.append([_length(cell, inches) for cell in cells])
        except (SweepError, ValueError) as refused:
            wrong[number] = str(refused)
    return found, wrong


def file_of(profile: SentProfile, job: str, inches: bool) -> tuple[str, bytes]:
    """Return the name and the content of the file that a new job keeps its profile in.

    Parameters
    ----------
    profile : SentProfile
    job : str
        The name of the job's file: a profile that is drawn is called after it.
    inches : bool
        Whether it is written in inches.
    """
    if profile.name:
        return _plain_name(profile.name), _content(profile)
    units, (points, _) = Units("in" if inches else "mm"), points_of(profile, inches)
    unit = "in" if inches else "mm"
    lines = [f"y {unit},z {unit}"]
    lines += [",".join(units.written(cell).removesuffix(f" {unit}") for cell in point) for point in points]
    return f"{Path(job).stem}.csv", ("\n".join(lines) + "\n").encode()


def _of_file(profile: SentProfile) -> Points:
    name, content = _plain_name(profile.name), _content(profile)
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(content)
        return points_in(path, profile.whole)


def _plain_name(name: str) -> str:
    """Return the name of a file that can lie beside a scene."""
    path = Path(re.sub(r"[^\w .,()-]", "-", name).lstrip(". -"))
    if path.suffix.lower() not in KINDS or not path.stem:
        raise SceneError("profile", "this is no file of a profile", "drop points (CSV) or a drawing (DXF, SVG)")
    return f"{path.stem[:60]}{path.suffix}"


def _content(profile: SentProfile) -> bytes:
    try:
        return base64.b64decode(profile.content, validate=True)
    except ValueError:
        raise SceneError("profile", "the file did not come whole", "drop it again") from None


def _length(cell: str, inches: bool) -> float:
    text = cell.strip()
    return read_quantity(f"{text} {'in' if inches else 'mm'}" if is_bare(text) else text, LENGTH)
