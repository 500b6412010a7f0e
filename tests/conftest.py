"""Hypothesis profiles, and what every test may lean on."""

from __future__ import annotations

import asyncio
import atexit
import gc
import os
import subprocess
import sys
from collections.abc import Generator, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

if TYPE_CHECKING:  # who only hands out tests to workers loads nothing of the package
    from sweep.scene.model import Scene

# the same random scenes in every run, so that a red test stays red; `deep` looks for new ones
_calm = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.filter_too_much]}
settings.register_profile("quick", max_examples=200, derandomize=True, **_calm)
settings.register_profile("deep", max_examples=5000, print_blob=True, **_calm)
settings.load_profile("quick")

for threads in ("OPENBLAS_NUM_THREADS", "RAYON_NUM_THREADS", "LP_NUM_THREADS"):  # sums, typesetting, solids drawn
    os.environ.setdefault(threads, "1")  # there are as many workers as cores: more threads only wait for each other

LONG = ("test_types.py", "show/test_live_page.py", "cut/test_laws.py", "cli/test_run.py", "plan/test_setup.py")
"""Files that are begun first, so that no worker has a long one left when the others have ended."""


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Return one worker more than there are cores: a worker often waits, for a browser, a server or a sleep."""
    return len(os.sched_getaffinity(0)) + 1 if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Give a worker whole files, in their order, so that what the tests of a file share is made once."""
    if config.getvalue("dist") != "load":  # another way was asked for
        return None
    from xdist.scheduler import LoadFileScheduling

    config.option.loadscopereorder = False  # it would put files of few tests last, the longest test among them
    return LoadFileScheduling(config, log)


@pytest.hookimpl(trylast=True)  # once the profile that was asked for is loaded
def pytest_configure() -> None:
    """Let `quick` draw the same scenes whatever the source holds and whichever files a worker has loaded.

    Of its own accord the library mixes the constants of all local modules in: with every edit, and with every order of
    the files, a test would draw others, and what fails would come and go.
    """
    if settings.get_current_profile_name() == "quick":
        providers._get_local_constants = providers.Constants


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """Collect tests without looking for garbage: there is none, and every look goes through all that is there."""
    gc.disable()
    found = yield
    gc.freeze()
    gc.enable()
    return found


@pytest.hookimpl(wrapper=True)
def pytest_unconfigure() -> Generator[None, object, object]:
    """Let what was collected be found at the end: libraries tell of what is left of them. One look of two will do."""
    gc.unfreeze()
    ended = yield
    gc.freeze()
    atexit.register(gc.unfreeze)
    return ended


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put long files first, and leave the order of all others, and within every file, as it is."""
    first = {Path(__file__).parent / name: k for k, name in enumerate(LONG)}
    items.sort(key=lambda item: first.get(item.path, len(LONG)))


@pytest.fixture(scope="session")
def cornice() -> Scene:
    """The demo scene."""
    from demos import CORNICE

    from sweep.scene.read import read_scene

    return read_scene(CORNICE)


@pytest.fixture(scope="session")
def of_all_workers(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of all workers of a run: the one above a worker's own."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture(scope="session", autouse=True)
def worked_out_once(of_all_workers: Path) -> Iterator[None]:
    """What is worked out once."""
    from found_once import found_once

    with found_once(of_all_workers):
        yield


@pytest.fixture(scope="session")
def drawn(of_all_workers: Path) -> None:
    """Skip where this machine cannot draw: there the rendering library would end the process of the tests."""
    from sweep.show.vtk.can_draw import draw_off_screen

    draw_off_screen()
    if (of_all_workers / "draws").exists():  # another worker has tried it
        return
    probe = "from sweep.show.vtk.canvas import Canvas; Canvas((8, 8)).shot()"
    if subprocess.run([sys.executable, "-c", probe], capture_output=True).returncode:
        pytest.skip("this machine lacks the system's OpenGL libraries")
    (of_all_workers / "draws").touch()


@pytest.fixture
def coarse_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paint pictures a third as fine, where nobody looks at them."""
    from sweep.show.draw import paint_png

    monkeypatch.setattr(paint_png, "DPI", 75)


@pytest.fixture
def coarse_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let served pages be cut as coarsely as `reports.py` cuts, where nobody looks at how finely."""
    from reports import COARSE

    from sweep.live import answers

    monkeypatch.setattr(answers, "AS_RUN", COARSE)


@pytest.fixture(scope="session")
def started() -> Iterator[tuple[Any, Any]]:
    """One browser for all files of a worker, and its loop."""
    from browser import a_browser, in_loop  # what most files never need takes a while to load

    with a_browser() as browser:
        loop = asyncio.get_running_loop()
        with in_loop(None):
            yield browser, loop


@pytest.fixture(scope="module")
def browser(started: tuple[Any, Any]) -> Iterator[Any]:
    """The browser for all pages of a file; `browser.watched` opens one, `serving.served` serves it."""
    from browser import in_loop

    browser, loop = started
    with in_loop(loop):
        yield browser
        for left in browser.contexts:  # by tests that failed
            left.close()
