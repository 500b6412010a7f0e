"""Many tasks handed to whatever works them out, a few at a time, and answers as they come.

It is written against the standard library's executor interface (`concurrent.futures.Executor`), so a pool of processes
here and a cluster of machines elsewhere do the same. A process that is killed breaks a pool: a new one is begun, and
what was being worked out is done again, each alone. So what breaks a pool by itself is found, and becomes a reason.
"""

from __future__ import annotations

import os
from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from contextlib import AbstractContextManager, contextmanager
from itertools import chain, islice
from multiprocessing import get_context

from sweep.apart import end_with_program
from sweep.errors import SceneError
from sweep.shop.answer import Task, answered
from sweep.shop.row import FAULT, Answer, without_figures

ALONE = 2
"""How often a task may break a pool that has nothing else to do: once may be chance."""

AHEAD = 2
"""Tasks handed over for each process: the next one is there when the last is done."""

BREAKS = "working it out ends the process that does it (out of memory, or a fault of sweep)"

Opened = Callable[[], AbstractContextManager[tuple[Executor, int]]]
"""Gives an executor and how many tasks it works at side by side."""


def worked_out(tasks: Iterable[Task], opened: Opened, work: Callable[[Task], Answer] = answered) -> Iterator[Answer]:
    """Yield the answer to every task, in the order in which they come.

    Parameters
    ----------
    tasks : iterable of Task
        Taken as they are needed.
    opened : function
        Asked for an executor, and again when it has broken.
    work : function
        What is done with each.

    Raises
    ------
    SceneError
        When a cluster has gone.
    """
    coming, suspects = iter(tasks), deque[Task]()
    broke: Counter[Task] = Counter()
    # ends: each round takes what comes, and a task breaks an executor once beside others and `ALONE` times by itself
    while suspects or (first := list(islice(coming, 1))):
        if not suspects:
            coming = chain(first, coming)
        with opened() as (executor, width):
            running: dict[Future[Answer], Task] = {}
            broken = False
            while not broken:
                if not running:
                    alone = bool(suspects)
                room = 1 if alone else AHEAD * width
                while len(running) < room and (task := suspects.popleft() if alone else next(coming, None)) is not None:
                    running[_submitted(executor, work, task)] = task
                if not running:
                    break
                for future in wait(running, return_when=FIRST_COMPLETED).done:
                    answer = _answer(future, running[future])
                    if answer is None:
                        broken = True
                        continue
                    del running[future]
                    yield answer
        for task in running.values():
            broke[task] += alone
            if broke[task] < ALONE:
                suspects.append(task)
            else:
                yield without_figures(task.profile, BREAKS)


def _answer(future: Future[Answer], task: Task) -> Answer | None:
    """Return what came of a task; None where the executor broke."""
    try:
        return future.result()
    except BrokenExecutor:
        return None
    except CancelledError:
        gone = "its scheduler is gone"
        raise SceneError("--cluster", gone, "start it again and run again: what was worked out is kept") from None
    except Exception as wrong:  # the engine's own, of a task that it gave up
        return without_figures(task.profile, f"{FAULT} ({type(wrong).__name__})")


def _submitted(executor: Executor, work: Callable[[Task], Answer], task: Task) -> Future[Answer]:
    """Return the future of a task; one that has failed already where the executor takes none any more."""
    try:
        return executor.submit(work, task)
    except BrokenExecutor as wrong:
        failed: Future[Answer] = Future()
        failed.set_exception(wrong)
        return failed


def pool_of(workers: int) -> Opened:
    """Return what gives a pool of so many processes, which end with the run."""

    @contextmanager
    def opened() -> Iterator[tuple[Executor, int]]:
        before = os.environ.get(ONE_THREAD)
        os.environ[ONE_THREAD] = "1"  # each process has one core; a library that wants all of them would only wait
        try:
            # fresh processes, not copies of this one: a copy would also hold whatever locks other threads hold
            with ProcessPoolExecutor(workers, get_context("spawn"), end_with_program) as pool:
                try:
                    yield pool, workers
                finally:
                    pool.shutdown(wait=True, cancel_futures=True)
        finally:
            os.environ.pop(ONE_THREAD)
            if before is not None:
                os.environ[ONE_THREAD] = before

    return opened


ONE_THREAD = "OPENBLAS_NUM_THREADS"
"""How many threads numpy's library of linear algebra may take, read when a process begins."""
