"""Where OpenGL is missing; in a file of its own, for the process that draws loads all of it."""

from __future__ import annotations

import os
import signal


def end_the_process(*_: object) -> None:
    """Do what the rendering library does there."""
    os.kill(os.getpid(), signal.SIGSEGV)
