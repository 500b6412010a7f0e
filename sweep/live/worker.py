"""A process that works out answers, one at a time: it can be ended whatever it is in the middle of.

    python -m sweep.live.worker MODULE SECONDS PATIENCE

It reads tasks from standard input and writes what came of them to standard output, each as a length of 4 bytes and so
much pickle. A task is the name of a function of the module, or of another one
(``sweep.live.shop_answers:page``), and what it is given; what comes of it is one of
("done", value), ("refused", field, sentence) and ("failed",). What takes longer than so many seconds of the processor
is ended by the system, in whatever call it is (POSIX, ITIMER_PROF); PATIENCE is in seconds by the clock.
"""

from __future__ import annotations

import faulthandler
import gc
import importlib
import os
import pickle
import queue
import signal
import struct
import sys
import threading
import traceback
from typing import Any, BinaryIO

from sweep.errors import SweepError

GRACE = 10.0
"""Seconds after which the process ends itself, when whoever should have ended it is gone."""


def main(module: str, seconds: float, patience: float) -> None:
    """Work until standard input ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is for the server, which ends this process
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a library prints is no answer
    tasks: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(sys.stdin.buffer, tasks), daemon=True).start()
    functions = importlib.import_module(module)
    gc.freeze()  # what is loaded stays: to look through it for waste would hold answers up
    with open(os.devnull, "w") as nowhere:  # noqa: PTH123
        while True:
            task = tasks.get()
            faulthandler.dump_traceback_later(patience + GRACE, exit=True, file=nowhere)
            _let_work(seconds)
            content = pickle.dumps(_done(functions, *pickle.loads(task)))
            _let_work(0)
            faulthandler.cancel_dump_traceback_later()
            answers.write(struct.pack("<I", len(content)) + content)
            answers.flush()


def _let_work(seconds: float) -> None:
    """Let this process be ended once it has used so much of the processor from now on; 0 for never."""
    if hasattr(signal, "setitimer"):
        signal.setitimer(signal.ITIMER_PROF, seconds)


def _done(functions: Any, name: str, given: tuple[Any, ...]) -> tuple[Any, ...]:
    try:
        module, _, function = name.rpartition(":")
        return ("done", getattr(importlib.import_module(module) if module else functions, function)(*given))
    except SweepError as wrong:
        return ("refused", str(getattr(wrong, "field", "")), str(wrong))
    except Exception:  # told where the program was started; the page goes on
        traceback.print_exc()
        return ("failed",)


def _listen(source: BinaryIO, tasks: queue.SimpleQueue[bytes]) -> None:
    """Take in tasks; when the server is gone end the process, in the middle of a task too."""
    while len(head := source.read(4)) == 4:
        tasks.put(source.read(*struct.unpack("<I", head)))
    os._exit(0)


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]), float(sys.argv[3]))
