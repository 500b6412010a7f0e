"""Answers kept on the disk as they come, so that a run that is ended loses none and the next one goes on.

They stand in a hidden folder beside the place of the results, one a line behind the digest of what was asked. While a
run works it holds the folder's lock, which the system lets go of however the run ends. A line that was not written to
its end is none. The results have a copy, so a later run works out only what is new or changed.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from sweep.disk.lock import Lock, held
from sweep.disk.place import real_place, refusing
from sweep.errors import SceneError
from sweep.shop.answer import Task
from sweep.shop.program import program
from sweep.shop.row import Answer, answer_in

ANSWERS = "answers.jsonl"
"""The name of the file."""

OPTION = "--out"

_LINE = re.compile(rb"([0-9a-f]{64}) (\{.*\})\n")


def digest_of(task: Task) -> str:
    """Return what tells one question from another: the job, what is asked of it, and the program."""
    asked = f"{program()}\n{task.full}\n{task.profile}\n{task.jobs}"
    return hashlib.sha256(asked.encode("utf-8", "surrogatepass")).hexdigest()


class Journal:
    """Answers by the digests of their questions: in a file that grows, and in earlier ones that are only read."""

    def __init__(self, grows: BinaryIO, earlier: Iterable[BinaryIO]) -> None:
        self._grows = grows
        self._places: dict[str, tuple[BinaryIO, int]] = {}
        for file in (*earlier, grows):
            file.seek(0)
            place = 0
            for line in file:
                if found := _LINE.fullmatch(line):
                    self._places[found[1].decode()] = (file, place)
                place += len(line)
        self._begin_line()

    def __contains__(self, digest: str) -> bool:
        return digest in self._places

    def add(self, digest: str, answer: Answer) -> None:
        """Keep an answer.

        Raises
        ------
        OSError
        """
        line = f"{digest} {answer.as_text()}\n".encode()
        self._grows.write(line)  # the file was opened to be appended to: it comes to the end, wherever that is
        self._grows.flush()
        self._places[digest] = (self._grows, self._grows.tell() - len(line))

    def line(self, digest: str) -> bytes:
        """Return the line that keeps an answer; raise KeyError where there is none."""
        file, place = self._places[digest]
        file.seek(place)
        return file.readline()

    def answer(self, digest: str) -> Answer:
        """Return an answer; raise KeyError where none is kept."""
        found = _LINE.fullmatch(self.line(digest))
        assert found is not None  # it was read or written so
        return answer_in(found[2].decode())

    def forget_what_cannot_be_read(self) -> None:
        """Leave out what is a line but no answer, as an older program may have written."""
        for digest in list(self._places):
            try:
                self.answer(digest)
            except (ValueError, TypeError, KeyError):
                del self._places[digest]

    def _begin_line(self) -> None:
        """End the line in the middle of which a run was ended."""
        if self._grows.seek(0, 2):
            self._grows.seek(-1, 2)
            if self._grows.read(1) != b"\n":
                self._grows.write(b"\n")


@contextmanager
def kept_beside(folder: Path) -> Iterator[Journal]:
    """Give the answers that are kept for the results in `folder`, to this run alone; they stay until `cleared`.

    Raises
    ------
    SceneError
        When another run works on the same results, or nothing can be written there.
    """
    place = _place_beside(folder)
    with ExitStack() as files, refusing(OPTION, folder):
        place.mkdir(parents=True, exist_ok=True)
        if files.enter_context(held(place)) is Lock.ANOTHERS:
            raise SceneError(
                OPTION, f"another run works on {folder}", "wait until it has ended, or give another folder"
            )
        earlier = [files.enter_context(path.open("rb")) for path in [folder / ANSWERS] if path.is_file()]
        grows = files.enter_context((place / ANSWERS).open("a+b"))
        journal = Journal(grows, earlier)
        journal.forget_what_cannot_be_read()
        try:
            yield journal
        finally:
            if not grows.seek(0, 2):  # nothing was kept: a run that was refused leaves nothing behind
                cleared(folder)


def cleared(folder: Path) -> None:
    """Remove what is kept beside the results, once they are there."""
    place = _place_beside(folder)
    with suppress(OSError):
        (place / ANSWERS).unlink()
        place.rmdir()


def _place_beside(folder: Path) -> Path:
    place = real_place(folder, OPTION)
    return place.with_name(f".sweep-shop-{place.name}")
