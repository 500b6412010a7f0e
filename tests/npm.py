"""What checks scripts, HTML and GLB files, from npm by the lock file in `tests/web`; fetched when first needed."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
WEB = Path(__file__).parent / "web"
INSTALLED = WEB / "node_modules"
LOCK = "package-lock.json"


def checked_by(tool: str | Path, *words: str | Path) -> str:
    """Return what a tool complains of, nothing where it finds nothing; skip where there is no node or no npm.

    Parameters
    ----------
    tool : str or Path
        A command of a package, or a script of ours that asks one.
    *words : str or Path
        What it is called with.
    """
    if shutil.which("node") is None or shutil.which("npm") is None:
        pytest.skip("there is no node or no npm here; on Debian or Ubuntu, 'apt-get install nodejs npm' brings them")
    if not _is_installed():
        _install()
    script = tool if isinstance(tool, Path) else INSTALLED / ".bin" / tool
    command = ["node", script, *words]
    found = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120)
    return "" if found.returncode == 0 else found.stdout + found.stderr


def source_of(package: str, file: str) -> str:
    """Return a file of a package; skip where there is no npm."""
    if shutil.which("npm") is None:
        pytest.skip("there is no npm here; on Debian or Ubuntu, 'apt-get install nodejs npm' brings it")
    if not _is_installed():
        _install()
    return (INSTALLED / package / file).read_text("utf-8")


def _is_installed() -> bool:
    mark = INSTALLED / LOCK
    return mark.exists() and mark.read_bytes() == (WEB / LOCK).read_bytes()


def _install() -> None:
    """Install aside and put it in place at once: several processes may want it at the same moment."""
    with tempfile.TemporaryDirectory(prefix="node_modules-", dir=WEB) as aside:
        for name in ("package.json", LOCK):
            shutil.copy(WEB / name, aside)
        subprocess.run(["npm", "ci", "--no-audit", "--no-fund", "--ignore-scripts"], cwd=aside, check=True, timeout=300)
        fresh = Path(aside) / "node_modules"
        shutil.copy(WEB / LOCK, fresh)
        if INSTALLED.exists():
            os.rename(INSTALLED, Path(aside) / "old")  # noqa: PTH104
        if not INSTALLED.exists():
            fresh.rename(INSTALLED)
