"""A short share of `python -m tests.monkey`, which goes on for as long as it is let."""

from __future__ import annotations

import json

from browser import new_page
from demos import cornice_in_passes
from monkey import used
from terminal import told_here

DONE = 6


def test_two_pages_used_at_random_lose_nothing_and_end_as_a_run_of_what_was_saved(browser, tmp_path):
    """Typed, slid, pressed, dragged; no script fails, each edit is in the file, and all figures are the run's."""
    scene = tmp_path / "mine.toml"
    scene.write_text(cornice_in_passes("5 mm", "7 mm", "16 mm"))

    def run(path):
        told = told_here(path, "--out", tmp_path / "out", folder=tmp_path)
        assert told.returncode in (0, 1), told.stderr
        return json.loads((tmp_path / "out" / "result.json").read_text())

    assert used(lambda: new_page(browser), scene, 4, lambda count: count < DONE, run) == (DONE, [])
