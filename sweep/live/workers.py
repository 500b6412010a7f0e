"""A few processes that work out answers side by side, each answer within its time."""

from __future__ import annotations

import asyncio
import pickle
import signal
import struct
import sys
from contextlib import suppress
from typing import Any

from sweep.errors import SweepError

COUNT = 2
"""Processes: while one page waits for something long, the others go on."""

LIMIT = 30.0
"""Seconds of the processor that one answer may take; a slider's takes some hundredths, set-ups for a moulding five."""

PATIENCE = 300.0
"""Seconds by the clock: on a busy machine an answer takes many times as long as it works."""

MOST_WAITING = 20
"""Answers that may be waiting to be begun; each waits by the clock no longer than one may work."""

OVER = getattr(signal, "SIGPROF", None)
"""The signal that ends a process of ours whose time is over; None where a system does not count it (Windows)."""

CLOSED = 5.0
"""Seconds in which a process has ended whose end of the pipe is closed."""

BUSY = "Too much is asked for at once; close other pages of this job, or wait a little."
TOO_LONG = (
    "This took longer than {} and was stopped: all stands as it was before. "
    "Change something else, or work it out by 'sweep run' or 'sweep solve', which take the time they need."
)
ENDED = "The program that serves this page is ending."
FAILED = "The program failed to work this out; it says why where it was started."


class NoAnswerError(SweepError):
    """An answer took too long, was one too many, or failed for a reason printed where the program was started."""


class RefusedError(SweepError):
    """What was asked for cannot be used.

    Parameters
    ----------
    field : str
        Which setting it is about, or nothing.
    sentence : str
    """

    def __init__(self, field: str, sentence: str) -> None:
        self.field = field
        super().__init__(sentence)


class Workers:
    """Processes that are started when they are first needed, and again where one has ended.

    Parameters
    ----------
    module : str
        Whose functions are called.
    count : int
    limit, patience : float, seconds
        Of the processor, and by the clock.
    """

    def __init__(
        self,
        module: str = "sweep.live.answers",
        count: int = COUNT,
        limit: float = LIMIT,
        patience: float = PATIENCE,
    ) -> None:
        self._module, self._limit = module, limit
        self._patience = limit if OVER is None else patience
        self._free = asyncio.Semaphore(count)
        self._idle: list[asyncio.subprocess.Process] = []
        self._waiting = 0

    async def work(self, name: str, *given: Any) -> Any:
        """Return what a function of the module returns for what it is given.

        Raises
        ------
        RefusedError
            For an error of ours that the function raised.
        NoAnswerError
            When it took longer than it may, failed otherwise, or too many others wait.
        """
        if self._waiting >= MOST_WAITING:
            raise NoAnswerError(BUSY)
        self._waiting += 1
        try:
            await asyncio.wait_for(self._free.acquire(), self._limit)
        except TimeoutError:
            raise NoAnswerError(BUSY) from None
        except asyncio.CancelledError:
            raise NoAnswerError(ENDED) from None
        finally:
            self._waiting -= 1
        try:
            return await self._by_a_process(name, given)
        finally:
            self._free.release()

    async def _by_a_process(self, name: str, given: tuple[Any, ...]) -> Any:
        process = self._idle.pop() if self._idle else await self._started()
        try:
            answer = await asyncio.wait_for(_exchanged(process, (name, given)), self._patience)
        except TimeoutError:
            await _end(process)
            raise NoAnswerError(TOO_LONG.format(f"{self._patience:g} s")) from None
        except (OSError, EOFError):
            if await _end(process, CLOSED) == -(OVER or 0):
                raise NoAnswerError(TOO_LONG.format(f"{self._limit:g} s of the processor's time")) from None
            raise NoAnswerError(FAILED) from None
        except asyncio.CancelledError:
            await _end(process)
            raise NoAnswerError(ENDED) from None
        self._idle.append(process)
        if answer[0] == "done":
            return answer[1]
        if answer[0] == "refused":
            raise RefusedError(*answer[1:])
        raise NoAnswerError(FAILED)

    async def _started(self) -> asyncio.subprocess.Process:
        command = [sys.executable, "-m", "sweep.live.worker", self._module, str(self._limit), str(self._patience)]
        pipe = asyncio.subprocess.PIPE
        return await asyncio.create_subprocess_exec(*command, stdin=pipe, stdout=pipe)

    async def close(self) -> None:
        """End every process that waits for work."""
        while self._idle:
            await _end(self._idle.pop())


async def _exchanged(process: asyncio.subprocess.Process, task: tuple[str, tuple[Any, ...]]) -> tuple[Any, ...]:
    """Hand a task to a process, and return what came of it."""
    assert process.stdin is not None and process.stdout is not None  # both are pipes
    content = pickle.dumps(task)
    process.stdin.write(struct.pack("<I", len(content)) + content)
    await process.stdin.drain()
    (length,) = struct.unpack("<I", await process.stdout.readexactly(4))
    answer: tuple[Any, ...] = pickle.loads(await process.stdout.readexactly(length))
    return answer


async def _end(process: asyncio.subprocess.Process, grace: float = 0.0) -> int:
    """End a process that does not end by itself within some seconds, and return its status."""
    try:
        return await asyncio.wait_for(process.wait(), grace)
    except TimeoutError:
        with suppress(ProcessLookupError):
            process.kill()
        return await process.wait()
