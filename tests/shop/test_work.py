"""Every task is answered once, whatever breaks, and what breaks by itself is a reason."""

from __future__ import annotations

from concurrent.futures import BrokenExecutor, Future
from contextlib import contextmanager

import pytest
from drawers import AtOnce
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer

from sweep.errors import SceneError
from sweep.shop import work
from sweep.shop.answer import Task
from sweep.shop.row import FAULT, without_figures
from sweep.shop.work import ALONE, BREAKS, worked_out


class Breaking(AtOnce):
    """Holds tasks until it is full or asked again, and breaks when one of them says so, all it holds with it."""

    def __init__(self, breaks):
        self._breaks, self._broken = breaks, False

    def submit(self, task_work, /, task):
        """Return a future that is done, or has failed with all that follow once this executor is broken."""
        self._broken = self._broken or self._breaks(task)
        if self._broken:
            future = Future()
            future.set_exception(BrokenExecutor())
            return future
        return super().submit(task_work, task)


@fewer(1 / 4)
@given(
    st.integers(0, 20),
    st.sets(st.integers(0, 19), max_size=4),
    st.lists(st.integers(0, 40), max_size=5),
    st.integers(1, 5),
)
def test_every_task_is_answered_once_and_only_what_always_breaks_has_no_figures(count, bad, chance, width):
    """Executors that break at some tasks always, and now and then by chance, as a process that is killed does."""
    asked = []

    def breaks(task):
        asked.append(task)
        return int(task.profile) in bad or len(asked) in chance

    @contextmanager
    def opened():
        yield Breaking(breaks), width

    tasks = [Task(str(number), ("{}",)) for number in range(count)]
    answers = list(worked_out(tasks, opened, lambda task: without_figures(task.profile, "done")))

    told = {answer.profile: answer.best.reason for answer in answers}
    assert sorted(answer.profile for answer in answers) == sorted(str(number) for number in range(count))
    for name, reason in told.items():
        assert reason == BREAKS if int(name) in bad else reason in ("done", BREAKS)
    assert sum(reason == BREAKS for reason in told.values()) <= len(bad & set(range(count))) + len(chance) // ALONE


def test_a_fault_of_one_task_is_its_reason(monkeypatch):
    """Whatever an engine raises of a task that it gave up; the others go on."""

    def fails(task):
        if task.profile == "b":
            raise KeyError(task)
        return without_figures(task.profile, "done")

    @contextmanager
    def opened():
        yield AtOnce(), 1

    found = {one.profile: one.best.reason for one in worked_out([Task(name, ("",)) for name in "abc"], opened, fails)}

    assert found["a"] == found["c"] == "done"
    assert found["b"].startswith(FAULT)


def test_no_executor_is_opened_for_nothing():
    """A run that finds all it asks for kept starts no process."""

    def opened():
        raise AssertionError

    assert list(worked_out([], opened)) == []


def test_a_cluster_without_a_scheduler_is_refused():
    """In one sentence that names the address."""
    from sweep.shop import cluster

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cluster, "WAIT", 0.2)
        with (
            pytest.raises(SceneError, match=r"no scheduler at tcp://127\.0\.0\.1:9"),
            cluster.cluster_at("tcp://127.0.0.1:9")(),
        ):
            pass


def test_a_scheduler_that_does_not_answer_is_told_in_words_though_the_client_has_none(monkeypatch):
    """What the client raises of a wait that was too long may say nothing."""
    import distributed

    from sweep.shop import cluster

    def too_long(*_, **__):
        raise TimeoutError

    monkeypatch.setattr(distributed, "Client", too_long)
    with (
        pytest.raises(SceneError, match=r"no scheduler at tcp://a:1 \(TimeoutError\)"),
        cluster.cluster_at("tcp://a:1")(),
    ):
        pass


def test_a_pool_s_processes_have_one_thread_each_and_this_one_keeps_its_own(monkeypatch):
    """What was set before is set afterwards."""
    monkeypatch.setenv(work.ONE_THREAD, "3")
    with work.pool_of(1)():
        assert work.os.environ[work.ONE_THREAD] == "1"
    assert work.os.environ[work.ONE_THREAD] == "3"
