"""The program in a process of its own, as a terminal runs it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

SCENES = Path(__file__).parents[1] / "scenes"


def sweep(*words: str | Path, folder: Path, **environment: str) -> subprocess.CompletedProcess:
    """Run `sweep` with these words in a folder, some environment variables changed."""
    return subprocess.run(
        [sys.executable, "-m", "sweep", *map(str, words)],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(SCENES.parent)} | environment,
        capture_output=True,
        timeout=120,
    )
