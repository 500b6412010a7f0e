"""Runs of the demo scenes that several tests look at."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from subprocess import CompletedProcess

import pytest
from demos import SCENES
from terminal import sweep_here

Ran = Callable[[str], tuple[CompletedProcess, Path]]


@pytest.fixture(scope="session")
def ran(tmp_path_factory: pytest.TempPathFactory) -> Ran:
    """Run a demo scene without pictures, once: how that ended and the folder it left, to be looked at only."""
    folder = tmp_path_factory.mktemp("demos")

    @cache
    def run(name: str) -> tuple[CompletedProcess, Path]:
        ended = sweep_here("run", SCENES / f"{name}.toml", "--no-pictures", folder=folder)
        return ended, folder / "out" / name

    return run
