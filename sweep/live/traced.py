"""The desk of a traced picture: its page, and the points that are saved from it."""

from __future__ import annotations

import asyncio
import json
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from sweep.disk.file import new_file, replace_file
from sweep.errors import SceneError
from sweep.show.page.traced import traced_page
from sweep.show.pictures.traced import traced_png
from sweep.trace.face import MOST_WHOLE, Traced
from sweep.trace.reader import Seen
from sweep.trace.written import points_text
from sweep.units import Units
from sweep.words import visible

Place = Annotated[float, Field(ge=0, le=1_000_000, allow_inf_nan=False)]


class Points(BaseModel):
    """What a page saves: points in pixels of its picture, in order."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")

    points: Annotated[list[Annotated[list[Place], Field(min_length=2, max_length=2)]], Field(max_length=MOST_WHOLE)]


def asked_points(body: bytes) -> Points:
    """Return the points that a page saves; raise ValueError for what no page of ours sends."""
    return Points.model_validate_json(body)


@dataclass(eq=False)
class TraceDesk:
    """A traced picture that is being corrected.

    Parameters
    ----------
    seen : Seen
    traced : Traced
        As it was found.
    image : str
        Name of the picture.
    points, picture : Path
        The files that are written: new ones, and later only what this desk wrote itself.
    units : Units
    """

    seen: Seen
    traced: Traced
    image: str
    points: Path
    picture: Path
    units: Units

    def __post_init__(self) -> None:
        self._written: dict[Path, bytes] = {}
        self._alone = asyncio.Lock()

    async def page(self) -> bytes:
        """Return the page."""
        return traced_page(self.seen, self.traced, self.image, self.points.name, self.units).encode()

    async def save(self, asked: Points) -> bytes:
        """Write the points and the picture of their outline, and say where.

        Raises
        ------
        SceneError
            When they make no outline, or a file cannot be written, or is somebody else's.
        """
        moved = replace(self.traced, pixels=np.array(asked.points, float).reshape(-1, 2))
        text = points_text(moved, moved.pixels)
        async with self._alone:
            await asyncio.to_thread(self._write, self.picture, traced_png(self.seen, moved))
            await asyncio.to_thread(self._write, self.points, text.encode("utf-8"))
        places = f"{visible(str(self.points))} and {visible(str(self.picture))}"
        return json.dumps({"sentence": f"{len(moved.pixels)} points are written to {places}."}).encode()

    def _write(self, path: Path, content: bytes) -> None:
        if path not in self._written:
            new_file(path, content, "--out")
        else:

            def still() -> None:
                if not path.exists() or path.read_bytes() != self._written[path]:
                    raise SceneError("--out", f"{path} has been changed since", "move it away, and save again")

            replace_file(path, content, "--out", still)
        self._written[path] = content
