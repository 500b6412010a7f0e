"""Pages as they are served: in the tests' own process; or by the program, as a maker starts it."""

from __future__ import annotations

import asyncio
import atexit
import re
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import cache
from importlib import import_module
from pathlib import Path
from threading import Thread
from typing import Any

from sweep.errors import SweepError
from sweep.live.server import address, bound, server_for, server_of, trace_app
from sweep.live.shelf import JOBS
from sweep.live.traced import TraceDesk
from sweep.live.workers import RefusedError


@contextmanager
def served(path: Path, port: int = 0) -> Iterator[str]:
    """Give the address of a scene's page, or of a folder's jobs: the program's own server, in a thread of the tests.

    Its answers are worked out by another thread, so that nothing is started or imported anew.
    """
    place, loop = bound(port), _loop()
    server = asyncio.run_coroutine_threadsafe(server_of(path, None, *_workers()), loop).result(60)
    serving = asyncio.run_coroutine_threadsafe(server.serve(sockets=[place]), loop)
    try:
        yield address(place)
    finally:
        server.should_exit = True
        serving.result(20)


@contextmanager
def served_desk(desk: TraceDesk) -> Iterator[str]:
    """Give the address of a traced picture's page, served likewise."""
    place = bound(0)
    server = server_for(trace_app(desk))
    serving = asyncio.run_coroutine_threadsafe(server.serve(sockets=[place]), _loop())
    try:
        yield address(place)
    finally:
        server.should_exit = True
        serving.result(20)


@contextmanager
def program(path: Path, *options: str) -> Iterator[str]:
    """Give the address at which `sweep view` shows a scene: a process of its own, ended at the end."""
    command = [sys.executable, "-m", "sweep", "view", str(path), "--no-browser", *options]
    running = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    try:
        line = running.stdout.readline()
        found = re.search(r"http://\S+", line)
        assert found, line + running.stdout.read()
        yield found[0]
    finally:
        running.terminate()
        running.wait(20)
        running.stdout.close()


@cache
def _loop() -> asyncio.AbstractEventLoop:
    loop = asyncio.new_event_loop()
    thread = Thread(target=loop.run_forever, daemon=True)
    thread.start()

    def end() -> None:
        loop.call_soon_threadsafe(loop.stop)
        thread.join(20)
        loop.close()
        from sweep.live import answers, made  # loaded by then

        for kept in (*vars(answers).values(), *vars(made).values()):
            if hasattr(kept, "cache_clear"):
                kept.cache_clear()  # or the kernel of solids tells of those that are left

    atexit.register(end)
    return loop


class Here:
    """Works answers out as `Workers` do, in this process and one after the other; what fails fails the test.

    Parameters
    ----------
    module : str
        Whose functions are called.
    """

    def __init__(self, module: str) -> None:
        self._module, self._one = module, ThreadPoolExecutor(1)

    async def work(self, name: str, *given: Any) -> Any:
        """Return what a function returns; raise RefusedError for an error of ours."""
        module, _, function = name.rpartition(":")
        answer = getattr(import_module(module or self._module), function)
        try:
            return await asyncio.get_running_loop().run_in_executor(self._one, answer, *given)
        except SweepError as wrong:
            raise RefusedError(str(getattr(wrong, "field", "")), str(wrong)) from None

    async def close(self) -> None:
        """Leave the thread for the next page."""


@cache
def _workers() -> tuple[Here, Here]:
    """Those of scenes and those of folders."""
    return Here("sweep.live.answers"), Here(JOBS)
