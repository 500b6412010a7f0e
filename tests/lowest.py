"""Checks that the lowest versions declared in pyproject.toml do: `python -m tests.lowest [PYTHON ...]`.

For each Python given (this one unless any is): a fresh environment with the lowest version of every library that the
project names itself, all the demo scenes, every command, the live page, and a few tests. Needs the network.
"""

# ruff: noqa: T201

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path

ROOT = Path(__file__).parents[1]
SCENES = sorted((ROOT / "scenes").glob("*.toml"))
TESTS = ["tests/scene", "tests/shape/test_solid.py", "tests/show/test_files.py", "tests/show/test_sanding.py"]


def main(pythons: list[str]) -> int:
    """Check each Python; 1 when anything fails."""
    failed = [python for python in pythons or [sys.executable] if not _holds(python)]
    return 1 if failed else 0


def _holds(python: str) -> bool:
    print(f"== {python}", flush=True)
    with tempfile.TemporaryDirectory(prefix="sweep-lowest-") as folder:
        place = Path(folder)
        own = _installed(python, place)
        wrong = [*_commands(own, place), *_page(own)]
        # old libraries use what is deprecated in newer ones of theirs: no fault of ours
        options = ["-q", "-p", "no:cacheprovider", "-o", "filterwarnings="]
        tests = subprocess.run([own, "-m", "pytest", *options, *TESTS], cwd=ROOT)
    print("does" if not wrong and tests.returncode == 0 else "DOES NOT DO", flush=True)
    return not wrong and tests.returncode == 0


def _installed(python: str, place: Path) -> Path:
    """Return the Python of a fresh environment: sweep, the lowest versions, and what the tests need, as it comes."""
    uv, own = [sys.executable, "-m", "uv"], place / "env" / "bin" / "python"
    install = [*uv, "pip", "install", "-q", "--python", own]
    ready_made = [*install, "--only-binary", ":all:"]
    subprocess.run([*uv, "venv", "-q", "--no-python-downloads", "--python", python, place / "env"], check=True)
    subprocess.run([*ready_made, "--resolution", "lowest-direct", "-r", "pyproject.toml"], cwd=ROOT, check=True)
    source = place / "source"  # building leaves things behind
    shutil.copytree(ROOT / "sweep", source / "sweep", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, source)
    subprocess.run([*install, "--no-deps", source], check=True)
    subprocess.run([*ready_made, "pytest", "hypothesis", "jsonschema", "pint"], check=True)
    return own


def _commands(python: Path, place: Path) -> list[str]:
    """Run every demo scene, one with pictures, and the other commands; return what ended in a traceback."""
    wrong = []
    points = str(ROOT / "scenes" / "measured-offcut.csv")
    picture = str(ROOT / "scenes" / "cornice-end-grain.jpg")
    runs = [
        ["match", points, "--diameter", "254 mm", "--kerf", "3.2 mm"],
        ["trace", picture, "--scale", "100 mm = 1200 px", "--out", "traced.csv"],
        ["match", "traced.csv", "--among", str(ROOT / "scenes" / "record")],
        ["match", points, "--shop", str(ROOT / "scenes" / "drawer" / "shop.toml")],
        ["correct", str(ROOT / "scenes" / "shelf-cove.toml"), "--pass", "3", "--width", "32.3 mm", "--depth", "6.1 mm"],
        ["shop", str(ROOT / "scenes" / "drawer"), "--out", "drawer", "--scenes", "--catalogue"],
        ["keep", str(ROOT / "scenes" / "corner-cupboard-cornice.toml"), "--into", "record"],
    ]
    for scene in SCENES:
        quick = [] if scene.name == "corner-cupboard-cornice.toml" else ["--no-pictures"]
        runs.append(["run", str(scene), "--out", str(place / scene.stem), *quick])
    for scene in ("cornice-to-fit.toml", "arc-from-drawing.toml"):
        runs += [[command, str(ROOT / "scenes" / scene)] for command in ("solve", "fence", "cutlist")]
    for run in runs:
        done = subprocess.run([python.with_name("sweep"), *run], cwd=place, capture_output=True, text=True)
        if done.returncode not in (0, 1, 2) or "Traceback" in done.stderr or "Warning" in done.stderr:
            wrong.append(f"sweep {' '.join(run)}: status {done.returncode}\n{done.stderr[-1500:]}")
            print(wrong[-1], flush=True)
    drawn = {path.name for path in (place / "corner-cupboard-cornice").iterdir()} if not wrong else {"passes.png"}
    return wrong + ([] if "passes.png" in drawn else ["no picture was drawn"])


def _page(python: Path) -> list[str]:
    """Ask for the live page once; return what went wrong."""
    view = [python.with_name("sweep"), "view", "--no-browser", str(SCENES[0])]
    with subprocess.Popen(
        view, cwd=ROOT, stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONUNBUFFERED": "1"}
    ) as shown:
        try:
            address = re.search(r"http://\S+", shown.stdout.readline())
            if address is None:
                return ["sweep view printed no address"]
            with urllib.request.urlopen(address[0], timeout=60) as answer:
                return [] if answer.status == 200 else [f"sweep view answers {answer.status}"]
        except OSError as error:
            return [f"sweep view: {error}"]
        finally:
            shown.terminate()


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
