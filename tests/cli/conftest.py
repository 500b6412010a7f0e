"""Runs of the demo scenes that several tests look at."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from subprocess import CompletedProcess

import pytest
from demos import SCENES
from terminal import told_here

Ran = Callable[[str], tuple[CompletedProcess, Path]]


@pytest.fixture(scope="session")
def told(tmp_path_factory: pytest.TempPathFactory) -> Ran:
    """Run a demo scene for its words and numbers, once: how that ended and its folder, to be looked at only."""
    folder = tmp_path_factory.mktemp("demos")

    @cache
    def run(name: str) -> tuple[CompletedProcess, Path]:
        ended = told_here(SCENES / f"{name}.toml", folder=folder)
        return ended, folder / "out" / name

    return run
