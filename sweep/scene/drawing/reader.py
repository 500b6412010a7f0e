"""A process of its own that reads drawings, one after another, with limits of time and memory for each.

A drawing of a few lines, or a fault in the libraries that read drawings, can ask for hours or for all the memory there
is. Then the process is ended, that drawing is refused, and the next one has a new process.
"""

from __future__ import annotations

import json
import queue
import subprocess
import time
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread
from typing import IO, Any

from sweep.bounded import command, surroundings
from sweep.scene.drawing.child import REMEDY

CPU_SECONDS, WALL_SECONDS = 5, 20
"""Most time that reading one may take, of the processor and by the clock: lines that fill 2 MB take about 3 s."""

MEMORY_BYTES = 1 << 30
"""Most memory that reading may take; the libraries alone ask for about 300 MB of addresses."""

LARGEST = 100_000.0
"""mm. Farthest that a coordinate may lie from the drawing's origin: 100 m, beyond any sheet."""

MOST_READ = 500
"""Drawings that one process reads: what the libraries keep of each does not pile up."""

NO_FONTS = '{"version": 2, "font-faces": []}'
"""What the reader of DXF finds for a list of fonts: it would search the whole system for them, and keep what it found
among the user's files."""

TOO_MUCH = f"reading it takes more than {CPU_SECONDS} s or {MEMORY_BYTES >> 30} GB"


_TOO_MUCH = {"problem": TOO_MUCH, "remedy": REMEDY}


class DrawingReader:
    """Reads drawings by a process that is begun when it is first needed, and ends with the block it is used in."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[str] | None = None
        self._answers: queue.SimpleQueue[str] = queue.SimpleQueue()
        self._kept: TemporaryDirectory[str] | None = None
        self._read = 0

    def __enter__(self) -> DrawingReader:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def answer(self, path: Path, most_points: int) -> dict[str, Any]:
        """Return what `child.answer` does of a drawing, or that reading it takes too much.

        A process that somebody killed says nothing of the drawing, so the first time a new one reads it again.

        Raises
        ------
        OSError
            When no process can be started.
        """
        found = self._tried(path, most_points)
        return self._tried(path, most_points) or _TOO_MUCH if found is None else found

    def _tried(self, path: Path, most_points: int) -> dict[str, Any] | None:
        """Return the answer, or None where the process was killed: not by its limits, whose signal is another."""
        ends_by = time.monotonic() + WALL_SECONDS
        if self._read >= MOST_READ:
            self.close()
        process = self._process or self._begun()
        self._read += 1
        try:
            assert process.stdin is not None  # a pipe
            process.stdin.write(json.dumps([str(path.absolute()), most_points]) + "\n")
            process.stdin.flush()
            found: dict[str, Any] = json.loads(self._answers.get(timeout=max(ends_by - time.monotonic(), 0.0)))
        except queue.Empty:
            self.close()
            return _TOO_MUCH
        except (OSError, ValueError):  # it was ended
            with suppress(subprocess.TimeoutExpired):
                process.wait(WALL_SECONDS)
            killed = process.returncode == -9
            self.close()
            return None if killed else _TOO_MUCH
        return found

    def close(self) -> None:
        """End the process."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            for pipe in (self._process.stdin, self._process.stdout):
                with suppress(OSError):  # what was still to be written has no reader any more
                    pipe.close()  # type: ignore[union-attr]  # both are pipes
        if self._kept is not None:
            self._kept.cleanup()
        self._process = self._kept = None
        self._read = 0

    def _begun(self) -> subprocess.Popen[str]:
        self._kept = TemporaryDirectory(prefix="sweep-drawing-")
        fonts = Path(self._kept.name) / "ezdxf" / "font_manager_cache.json"
        fonts.parent.mkdir()
        fonts.write_text(NO_FONTS, encoding="utf-8")
        self._process = subprocess.Popen(
            command("sweep.scene.drawing.child", CPU_SECONDS, MEMORY_BYTES, LARGEST),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            cwd=Path(__file__).parent,
            env=surroundings(XDG_CACHE_HOME=self._kept.name),
            encoding="utf-8",
        )
        self._answers = queue.SimpleQueue()
        assert self._process.stdout is not None  # a pipe
        Thread(target=_listen, args=(self._process.stdout, self._answers), daemon=True).start()
        return self._process


def _listen(source: IO[str], answers: queue.SimpleQueue[str]) -> None:
    """Hand on every line, and at the end of them nothing, which is no answer."""
    with suppress(ValueError, OSError):  # closed by whoever ended the process
        for line in source:
            answers.put(line)
    answers.put("")
