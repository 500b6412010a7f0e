"""The desks of a folder's jobs, one for each page that was asked for, and what the page of the folder asks."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from sweep.live.asked import Text
from sweep.live.desk import Desk
from sweep.live.jobs import is_job
from sweep.live.profile import SentProfile
from sweep.live.workers import Workers
from sweep.scene.keep import RECORD
from sweep.scene.shop import SHOP
from sweep.units import Units

JOBS = "sweep.live.jobs"


class NoJobError(Exception):
    """There is no such job in the folder."""


class AskedOfFolder(BaseModel):
    """A request of the folder's page: a job's name, or the answers for a new one."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")

    name: Annotated[str, Field(max_length=300)] = ""
    inches: bool = False
    profile: SentProfile | None = None
    given: Annotated[dict[Text, Annotated[str, Field(max_length=400)]], Field(max_length=40)] = {}


def asked_of_folder(body: bytes) -> AskedOfFolder:
    """Return what a request's body asks for; raise ValueError for one that no page of ours sends."""
    return AskedOfFolder.model_validate_json(body)


class Shelf:
    """A folder of jobs.

    Parameters
    ----------
    folder : Path
    units : Units or None
        In which pages open; None for those of each scene.
    workers : Workers
        Of jobs, who answer for scenes; those of the folder's own page are others.
    folder_workers : Workers
    """

    def __init__(self, folder: Path, units: Units | None, workers: Workers, folder_workers: Workers) -> None:
        self._folder, self._units = folder, units
        self._workers, self._folder_workers = workers, folder_workers
        self._desks: dict[Path, Desk] = {}

    def desk(self, name: str) -> Desk:
        """Return the desk of a job.

        Raises
        ------
        NoJobError
        """
        return self._desk("", name)

    def kept(self, name: str) -> Desk:
        """Return the desk of a job in the record.

        Raises
        ------
        NoJobError
        """
        return self._desk(RECORD, name)

    def _desk(self, below: str, name: str) -> Desk:
        path = self._folder / below / name
        if path not in self._desks:
            if not is_job(self._folder / below, name):
                raise NoJobError(name)
            self._desks[path] = Desk(path, self._units, self._workers, home="../../")
        return self._desks[path]

    def shop(self) -> Desk:
        """Return the desk of the folder's shop, which may not be written yet."""
        path = self._folder / SHOP
        if path not in self._desks:
            answers = "sweep.live.shop_answers:"
            self._desks[path] = Desk(path, self._units, self._folder_workers, home="../", answers=answers)
        return self._desks[path]

    async def page(self) -> bytes:
        """Return the page of the folder."""
        text: bytes = await self._folder_workers.work("jobs_page", self._folder, self._units)
        return text

    async def summary(self, asked: AskedOfFolder) -> bytes:
        """Return one job in a few words."""
        name = asked.name.removeprefix(f"{RECORD}/")
        folder = self._folder if name == asked.name else self._folder / RECORD
        if not is_job(folder, name):
            return b'{"html":""}'
        answer: bytes = await self._folder_workers.work("summary", folder / name, self._units)
        return answer

    async def sketch(self, asked: AskedOfFolder) -> bytes:
        """Return what comes of the answers for a new job so far."""
        answer: bytes = await self._folder_workers.work(
            "sketched", self._folder, asked.given, asked.inches, asked.profile
        )
        return answer

    async def new(self, asked: AskedOfFolder) -> bytes:
        """Write a new job, and return where its page is."""
        answer: bytes = await self._folder_workers.work(
            "begun", self._folder, asked.name, asked.given, asked.inches, asked.profile
        )
        return answer
