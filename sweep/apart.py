"""Processes beside the program's own: each ends when the program does, however that comes about."""

from __future__ import annotations

import ctypes
import multiprocessing
import os
import signal
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from threading import Thread
from typing import Any


class Apart:
    """A process that does one thing after the other while the program goes on."""

    def __init__(self, pool: ProcessPoolExecutor) -> None:
        self._pool = pool

    @contextmanager
    def doing(self, work: Callable[..., None], *given: Any) -> Iterator[None]:
        """Have something done while the block goes on; it is done after it.

        Raises
        ------
        OSError
            What it raised, or that the process was ended from outside.
        """
        try:
            done = self._pool.submit(work, *given)
            try:
                yield
            finally:
                wait([done])  # whoever clears up after a failure must find it at rest
            done.result()
        except BrokenProcessPool:
            raise OSError("a process that the program had begun was ended from outside") from None

    def end(self) -> None:
        """Let it end, which takes a while, once all that it was given is done."""
        self._pool.shutdown(wait=False)


@contextmanager
def apart(load: Callable[[], None]) -> Iterator[Apart]:
    """Give a process that loads what it will need while this one goes on; it ends with the block at the latest."""
    # a fresh process, not a copy of this one: a copy would also hold whatever locks other threads hold
    with ProcessPoolExecutor(1, get_context("spawn"), end_with_program) as pool:
        pool.submit(load)
        yield Apart(pool)


def give_back() -> None:
    """Give the memory that this process has freed back to the system, where the C library keeps it (glibc)."""
    trim = getattr(ctypes.CDLL(None), "malloc_trim", None) if sys.platform == "linux" else None
    if trim is not None:
        trim(0)


def end_with_program() -> None:
    """Make this process end with the one that began it: at once when that is interrupted, and when it is killed.

    A pool's process waits at a pipe that it holds both ends of, so nothing there tells it that nobody is left to write.
    """
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    parent = multiprocessing.parent_process()
    assert parent is not None

    def watch() -> None:
        parent.join()
        os._exit(1)

    Thread(target=watch, daemon=True).start()
