"""A folder's desks: one is found by its own file, however many jobs lie beside it."""

from __future__ import annotations

import shutil

import pytest
from demos import CORNICE

from sweep.live import jobs
from sweep.live.shelf import NoJobError, Shelf


def test_a_job_is_found_without_reading_those_beside_it(tmp_path, monkeypatch):
    """One file of twelve is read; a name that leads elsewhere, and a file that is no scene, are no jobs."""
    for number in range(12):
        shutil.copy(CORNICE, tmp_path / f"job-{number}.toml")
    (tmp_path / "notes.toml").write_text("a = 1\n")
    read = []
    monkeypatch.setattr(jobs, "read_text", lambda path, what: read.append(path.name) or path.read_text())
    shelf = Shelf(tmp_path, None, None, None)

    assert shelf.desk("job-7.toml") is shelf.desk("job-7.toml")
    assert read == ["job-7.toml"]
    for name in ("notes.toml", "nothing.toml", str(CORNICE), "../job-1.toml", "", "job-1", "job-1.toml\0"):
        with pytest.raises(NoJobError):
            shelf.desk(name)
