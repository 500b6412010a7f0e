"""Answers are worked out side by side, each within its time, whatever one of them does."""

from __future__ import annotations

import asyncio
import time

import pytest

from sweep.live.workers import MOST_WAITING, NoAnswerError, RefusedError, Workers

LIMIT = 1.0


def with_workers(work, count: int = 2, limit: float = LIMIT, patience: float = LIMIT):
    """Return what comes of a coroutine that is given workers, closed after it."""

    async def whole():
        workers = Workers("slow_answers", count, limit, patience)
        try:
            return await work(workers)
        finally:
            await workers.close()

    return asyncio.run(whole())


@pytest.fixture(autouse=True)
def _importable(monkeypatch):
    """The processes find the tests' answers too."""
    from pathlib import Path

    here = Path(__file__).parents[1]
    monkeypatch.setenv("PYTHONPATH", f"{here}:{here.parent}")


def test_what_takes_too_long_is_ended_and_does_not_stop_the_others():
    """The others are answered while three such go on, and all of them after it."""

    async def work(workers):
        assert await asyncio.gather(*(workers.work("at_once", k) for k in range(4))) == [0, 1, 2, 3]  # all are started
        long = [asyncio.create_task(workers.work(name)) for name in ("for_ever", "in_one_call", "asleep")]
        await asyncio.sleep(0)
        started = time.monotonic()
        assert [await workers.work("at_once", k) for k in range(5)] == list(range(5))
        assert time.monotonic() - started < LIMIT
        for one in await asyncio.gather(*long, return_exceptions=True):
            assert isinstance(one, NoAnswerError)
            assert "longer than 1 s" in str(one)
        assert time.monotonic() - started < LIMIT + 1.5
        return await asyncio.gather(*(workers.work("at_once", k) for k in range(4)))

    assert with_workers(work, count=4) == [0, 1, 2, 3]


@pytest.mark.parametrize("name", ["for_ever", "in_one_call"])
def test_what_works_too_long_is_told_from_what_waits_for_a_busy_machine(name):
    """Time is that of the processor: what sleeps longer than it may work is answered."""

    async def work(workers):
        with pytest.raises(NoAnswerError, match=r"longer than 0\.2 s of the processor's time"):
            await workers.work(name)
        return await workers.work("asleep_for", 0.5)

    assert with_workers(work, count=1, limit=0.2, patience=60.0) == 0.5


def test_a_crash_a_failure_and_a_refusal_are_told_and_the_next_answer_is_right(capfd):
    """A library that prints spoils no answer."""

    async def work(workers):
        with pytest.raises(NoAnswerError, match="failed"):
            await workers.work("ends_its_process")
        with pytest.raises(NoAnswerError, match="failed"):
            await workers.work("fails")
        with pytest.raises(RefusedError, match="it is wrong") as refused:
            await workers.work("refuses")
        assert refused.value.field == "setup.offset"
        return await workers.work("prints")

    assert with_workers(work, count=1) == "answer"
    assert "ZeroDivisionError" in capfd.readouterr().err


def test_more_than_so_many_wait_for_no_answer():
    """One too many is told so at once; the others are answered."""

    async def work(workers):
        asked = [asyncio.create_task(workers.work("at_once", k)) for k in range(MOST_WAITING + 3)]
        return await asyncio.gather(*asked, return_exceptions=True)

    *answered, last = with_workers(work)
    assert answered[:MOST_WAITING] == list(range(MOST_WAITING))
    assert isinstance(last, NoAnswerError)


def test_nobody_waits_for_a_queue_of_long_answers():
    """No longer than one of them may take: then a sentence comes, and later an answer again."""

    async def work(workers):
        long = [asyncio.create_task(workers.work("asleep")) for _ in range(6)]
        await asyncio.sleep(0)
        started = time.monotonic()
        with pytest.raises(NoAnswerError, match="at once"):
            await workers.work("at_once", 1)
        waited = time.monotonic() - started
        ended = await asyncio.gather(*long, return_exceptions=True)
        assert all(isinstance(one, NoAnswerError) for one in ended)
        assert await workers.work("at_once", 2) == 2
        return waited

    assert with_workers(work) < LIMIT + 1.5
