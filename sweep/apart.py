"""A process beside the program's own: it ends when the program does, however that comes about."""

from __future__ import annotations

import multiprocessing
import os
import signal
from threading import Thread


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
