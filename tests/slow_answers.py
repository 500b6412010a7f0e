"""Answers that no page should have to wait for, to be worked out by workers in their tests."""

from __future__ import annotations

import os
import time

from sweep.errors import SceneError


def at_once(given: int) -> int:
    """Return it."""
    return given


def for_ever() -> None:
    """Work without an end, and without a moment's rest."""
    while True:
        pass


def in_one_call() -> int:
    """Work without an end inside one call of the interpreter's own, which no signal handler interrupts."""
    return 9**9**9


def asleep() -> None:
    """Wait without an end."""
    time.sleep(3600)


def asleep_for(seconds: float) -> float:
    """Wait so long."""
    time.sleep(seconds)
    return seconds


def ends_its_process() -> None:
    """As a library does that crashes."""
    os._exit(3)


def prints() -> str:
    """As a library does that tells of its progress."""
    print("100 % done", flush=True)  # noqa: T201
    os.write(1, b"more\n")
    return "answer"


def refuses() -> None:
    """Refuse."""
    raise SceneError("setup.offset", "it is wrong", "write another")


def fails() -> None:
    """Fail."""
    raise ZeroDivisionError
