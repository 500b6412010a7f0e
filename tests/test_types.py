"""Types: strict in the whole package, in the version of the checker that `pyproject.toml` names, and telling."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]

HALF_KNOWN = """
from pathlib import Path
from sweep import complete, read_scene, simulate

scene = read_scene(Path("scene.toml"))
simulate(complete(scene).scene)
simulate(scene)
"""


CHECKER = "import gc; gc.disable(); gc.enable = gc.disable; from mypy.__main__ import console_entry; console_entry()"
"""The checker, which keeps all that it reads until it has told what it found: to look for garbage is a tenth of it."""


def test_every_type_holds_and_only_a_scene_with_set_up_and_passes_can_be_cut(tmp_path):
    """The checker finds nothing in the package, and in the lines above the last one alone."""
    user = tmp_path / "half_known.py"
    user.write_text(HALF_KNOWN)
    command = [sys.executable, "-c", CHECKER, "--no-error-summary", "--hide-error-context", "sweep", str(user)]
    found = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)

    complaint = 'error: Argument 1 to "simulate" has incompatible type "Scene"; expected "WholeScene"  [arg-type]'
    assert found.stderr == ""
    assert [line.partition("half_known.py:")[2] for line in found.stdout.splitlines()] == [f"7: {complaint}"]
