"""What live pages ask for, handed to those who work it out. A request carries its settings: no page has state here.

What is kept are the texts of scenes as they were when a page was opened, by a digest of the text: pages of
the same file share one, and only the last few are kept.
"""

from __future__ import annotations

import asyncio
import json
from collections import OrderedDict
from datetime import datetime
from pathlib import Path
from typing import Any

from sweep.disk.file import new_file, replace_file
from sweep.errors import SceneError, SweepError
from sweep.live.asked import PageRequest
from sweep.live.names import file_name
from sweep.live.opened import Opened, digests_beside, text_of, version_of
from sweep.live.workers import Workers
from sweep.scene.file import read_text
from sweep.scene.shop import SHOP
from sweep.scene.toml import tables_of
from sweep.units import Units

KEPT = 16
"""Texts of scenes as pages opened them; a page of an older one is asked to reload."""


class Desk:
    """What the pages of one scene ask for.

    Parameters
    ----------
    path : Path
        The scene's file.
    units : Units or None
        In which a page opens; None for those of the scene.
    workers : Workers
        Who work it out: every answer is one of theirs, in bytes of JSON or of a file.
    home : str
        Where the page of the folder is, seen from this one; empty where there is none.
    answers : str
        The module of those answers that are not of a scene: ``"sweep.live.shop_answers:"``.
    """

    def __init__(self, path: Path, units: Units | None, workers: Workers, home: str = "", answers: str = "") -> None:
        self._path, self._units, self._workers, self._home = path, units, workers, home
        self._answers = answers
        self._opened: OrderedDict[str, Opened] = OrderedDict()

    async def page(self) -> bytes:
        """Return the page with the scene as it stands in the file now.

        Raises
        ------
        RefusedError, NoAnswerError
            As every answer does.
        """
        opened: Opened
        text: bytes
        opened, text = await self._workers.work(f"{self._answers}page", self._path, self._units, self._home, self._last)
        self._keep(opened)
        return text

    async def saw(self) -> bytes:
        """Return the page of a phone at the saw, of the scene as it stands in the file now."""
        text: bytes = await self._workers.work(f"{self._answers}saw", self._path, self._units)
        return text

    async def answer(self, name: str, asked: PageRequest) -> bytes:
        """Return the answer of `answers.cut`, `feed` or `solve`."""
        text: bytes = await self._workers.work(f"{self._answers}{name}", self._of(asked), asked)
        return text

    async def file(self, name: str, asked: PageRequest) -> bytes:
        """Return a finished file of the scene with changed settings."""
        content: bytes = await self._workers.work(f"{self._answers}file", self._of(asked), asked, name)
        return content

    async def now(self, asked: PageRequest) -> bytes:
        """Return digests of the file and of what it takes from, when it was written, or why it cannot be read."""
        return await asyncio.to_thread(_now, self._path, asked.changes)

    async def take(self, asked: PageRequest) -> bytes:
        """Return the scene as it stands in its file now with a page's edits laid over it."""
        opened: Opened
        answer: bytes
        opened, answer = await self._workers.work(f"{self._answers}take", self._path, self._units, asked, self._last)
        self._keep(opened)
        return answer

    async def both(self, asked: PageRequest) -> bytes:
        """Return what the file says now beside what a page changed of the text that it knows."""
        opened, answers = self._of(asked), self._answers
        shown: bytes = await self._workers.work(f"{answers}both", self._path, self._units, asked, opened)
        return shown

    async def save(self, asked: PageRequest) -> bytes:
        """Write the changes into the scene's file; what else stands in it is kept."""
        opened = self._of(asked)

        def still() -> None:
            if text_of(self._path) != opened.text:
                raise SceneError(
                    str(self._path), "the file has changed since this page was opened", "reload the page, then save"
                )

        text = await self._workers.work(f"{self._answers}revised", opened, asked)
        still()  # a changed file is told before one that cannot be written
        await asyncio.to_thread(replace_file, self._path, text.encode("utf-8"), "save", still)
        now: Opened
        answer: bytes
        now, answer = await self._workers.work(f"{self._answers}saved", self._path, self._units, asked)
        self._keep(now)
        return answer

    async def copy(self, asked: PageRequest) -> bytes:
        """Write the scene as it is changed into another file beside its own, never over one."""
        opened = self._of(asked)
        path = self._path.parent / file_name(asked.name)
        text: str = await self._workers.work(f"{self._answers}revised", opened, asked)
        await asyncio.to_thread(new_file, path, text.encode("utf-8"), "copy")
        return json.dumps({"file": path.name}).encode()

    async def shop(self, section: str, asked: PageRequest) -> bytes:
        """Write a section of the scene into the folder's shop, and return the scene as it stands then."""
        opened, path = self._of(asked), self._path.parent / SHOP
        before: str | None
        text: str
        before, text = await self._workers.work(f"{self._answers}shop", opened, asked, section)

        def still() -> None:
            if read_text(path, "a shop") != before:
                raise SceneError(str(path), "the file has changed meanwhile", "try again")

        content = text.encode("utf-8")
        if before is None:
            await asyncio.to_thread(new_file, path, content, "shop")
        else:
            await asyncio.to_thread(replace_file, path, content, "shop", still)
        return await self.answer("cut", asked)

    @property
    def _last(self) -> Opened | None:
        return next(reversed(self._opened.values()), None)

    def _keep(self, opened: Opened) -> None:
        self._opened[opened.version] = opened
        self._opened.move_to_end(opened.version)
        while len(self._opened) > KEPT:
            self._opened.popitem(last=False)

    def _of(self, asked: PageRequest) -> Opened:
        if asked.version not in self._opened:
            raise SceneError(str(self._path), "this page was opened too long ago", "reload it")
        return self._opened[asked.version]


def _now(path: Path, changes: dict[str, Any]) -> bytes:
    version, at, words = "", "", ""
    targets = [changes.get("target"), {"file": changes.get("target.file")}]
    try:
        text = text_of(path)
        version = version_of(text)
        at = datetime.fromtimestamp(path.stat().st_mtime).strftime("%H:%M")
        targets.append(tables_of(text, path).get("target"))
    except (SweepError, OSError) as wrong:
        if not version:  # what else is wrong with it is told when it is taken in
            why = wrong.problem.said(False) if isinstance(wrong, SceneError) else str(wrong)
            kept = "What is changed here is kept, and can be saved as another file."
            words = f"The file cannot be read now: {why}. {kept}"
    return json.dumps({"version": version, "at": at, "words": words, "beside": digests_beside(path, targets)}).encode()
