"""The style check, as its own tool has it, in the version that `pyproject.toml` names."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("rule", [["check"], ["format", "--check"]], ids=["lint", "format"])
def test_every_file_keeps_to_the_style(rule):
    """The linter complains of nothing and the formatter would change nothing, tests included."""
    ran = subprocess.run(
        [sys.executable, "-m", "ruff", *rule, "--no-cache", "."], cwd=ROOT, capture_output=True, text=True
    )

    assert ran.returncode == 0, ran.stdout + ran.stderr


def test_every_docstring_names_what_it_is_about():
    """None begins with 'Of ...', which leaves the reader to guess what is meant."""
    files = [path for folder in ("sweep", "tests") for path in (ROOT / folder).rglob("*.py")]
    nameless = re.compile(r'^\s*"""Of ', re.MULTILINE)

    assert [str(path.relative_to(ROOT)) for path in files if nameless.search(path.read_text())] == []


def test_every_count_of_random_scenes_is_a_share_of_the_profile():
    """So a deeper profile deepens all of them; a number of a test's own would override it."""
    fixed = re.compile(r"max_examples=(?!round\(share)")
    named = {path.name for path in (ROOT / "tests").rglob("*.py") if fixed.search(path.read_text())}

    assert named == {"conftest.py", "test_style.py"}
