"""The process in which cases are examined: a case a line comes in, what was found a line goes out."""

from __future__ import annotations

import faulthandler
import json
import os
import sys

from .case import case_of
from .examine import examine

MEMORY_BYTES = 6 << 30


def work(limit: float) -> None:
    """Answer each line of standard input; a case that takes longer than `limit`, s, ends the process.

    Where it stood by then is written to standard error.
    """
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    except ImportError:
        pass
    answers = os.fdopen(os.dup(1), "w")
    os.dup2(2, 1)  # whatever the libraries print is no answer
    for line in sys.stdin:
        faulthandler.dump_traceback_later(limit, exit=True)
        found = examine(case_of(line))
        faulthandler.cancel_dump_traceback_later()
        answers.write(json.dumps(found) + "\n")
        answers.flush()


if __name__ == "__main__":
    work(float(sys.argv[1]))
