"""Examines case after case in a process of their own, and keeps what is found with all it takes to see it again."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from .case import Case

LIMIT = 60.0
"""s. Longest that a case may take by the clock."""


@dataclass(frozen=True)
class Find:
    """A case in which something was found.

    Parameters
    ----------
    case : Case
    what : str
        A traceback, or where the process stood when its time was up.
    """

    case: Case
    what: str

    @property
    def kind(self) -> str:
        """What finds of one cause have in common: the error, and the last line of ours that it came from."""
        ours = re.findall(r'File "[^"]*/(sweep/[^"]+)", line (\d+)', self.what)
        timed_out = self.what.startswith("too slow")
        last = f" at {':'.join(ours[0 if timed_out else -1])}" if ours else ""
        errors = re.findall(r"^\w[\w.]*(?:Error|Exception|Warning|Interrupt)\b.*", self.what, re.MULTILINE)
        # a command that ends with status 3 has printed the traceback of its own fault, inside ours
        error = "too slow" if timed_out else (errors or [self.what.strip().splitlines()[-1]])[-1]
        return re.sub(r"\d[\d.e+-]*", "0", error.rpartition("examine.")[2])[:90] + last

    def keep(self, folder: Path) -> Path:
        """Write the case and what was found into a new folder, and return it."""
        place = folder / f"seed-{self.case.seed}"
        place.mkdir(parents=True, exist_ok=True)
        (place / "case.json").write_text(self.case.text())
        (place / "found.txt").write_text(self.what)
        (place / "files").mkdir(exist_ok=True)
        self.case.lay_out(place / "files")
        return place


class Worker:
    """A process that examines cases, started anew after one that ended it."""

    def __init__(self, limit: float = LIMIT) -> None:
        self._limit, self._process = limit, None

    def __enter__(self) -> Worker:
        return self

    def __exit__(self, *_: object) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.communicate()
            self._errors.close()

    def examine(self, case: Case) -> str:
        """Return what is wrong with a case, or nothing."""
        if self._process is None:
            self._errors = tempfile.TemporaryFile("w+", errors="replace")
            self._process = subprocess.Popen(
                [sys.executable, "-m", f"{__package__}.worker", str(self._limit)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=self._errors,
                cwd=Path(__file__).parents[__package__.count(".") + 1],
                text=True,
            )
        try:
            self._process.stdin.write(case.text() + "\n")
            self._process.stdin.flush()
        except BrokenPipeError:
            pass
        line = self._process.stdout.readline()
        if line:
            return json.loads(line)
        status = self._process.wait()
        self._process.stdin.close()
        self._process.stdout.close()
        self._errors.seek(0)
        left = self._errors.read()[-8000:]
        self._errors.close()
        self._process = None
        return f"too slow\n{left}" if "Timeout" in left else f"{left}\nthe process ended with status {status}"


def hunt(cases: Iterable[Case], limit: float = LIMIT) -> Iterator[Find | None]:
    """Yield, for each case, what was found."""
    with Worker(limit) as worker:
        for case in cases:
            what = worker.examine(case)
            yield Find(case, what) if what else None
