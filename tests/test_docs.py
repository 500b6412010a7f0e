"""The words are true: the README's commands, table, example and output are the program's own."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from pydantic import BaseModel

from sweep.scene.model import Scene
from sweep.scene.read import tables_in

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()


def fenced(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def test_ci_runs_exactly_the_readmes_test_command():
    """One command locally is the same command in CI."""
    assert fenced("sh")[1].strip() in (ROOT / ".ci" / "run").read_text().splitlines()


def test_the_readmes_first_command_runs_the_demo_scene():
    """On a scene that is there."""
    scene = fenced("sh")[0].split()[-1]

    assert (ROOT / scene).is_file()


def keys(model: type[BaseModel], place: str = "") -> list[str]:
    found = []
    for name, field in model.model_fields.items():
        tables = [] if name == "blades" else tables_in(field.annotation)  # blades are documented once, as [blade]
        inner = [key for table in tables for key in keys(table, f"{name}.")]
        found += inner or [place + name]
    return list(dict.fromkeys(found))  # kinds of table that share a key name it once


@pytest.mark.parametrize("key", keys(Scene))
def test_every_key_of_a_scene_is_in_the_readmes_table(key):
    """And nothing but keys is in its first column."""
    rows = re.findall(r"^\| (`[^|]*`) \| ", README, re.MULTILINE)

    assert any(f"`{key}`" in row for row in rows)


def test_no_key_of_the_readmes_table_is_unknown():
    """What is documented can be written."""
    table = README[README.index("| key | default | what |") :].split("\n\n")[0]
    documented = {key for row in table.splitlines()[2:] for key in re.findall(r"`([a-z_.]+)`", row.split("|")[1])}

    assert documented == set(keys(Scene))


def test_every_demo_scene_is_in_the_readmes_table():
    """And every one in the table is there."""
    named = set(re.findall(r"^\| `([a-z-]+\.toml)`", README, re.MULTILINE))

    assert named == {path.name for path in (ROOT / "scenes").glob("*.toml")}


def test_the_readmes_python_runs_and_prints_what_is_true():
    """The finished volume is less than the one midway, and the mesh is closed."""
    run = subprocess.run([sys.executable, "-c", fenced("python")[0]], cwd=ROOT, capture_output=True, text=True)

    assert run.stdout == "True True\n", run.stderr


def test_the_readme_shows_what_the_program_prints(tmp_path):
    """Line by line, but for where it was written to."""
    run = subprocess.run(
        [
            sys.executable,
            "-m",
            "sweep",
            "run",
            "scenes/corner-cupboard-cornice.toml",
            "--no-pictures",
            "--out",
            tmp_path / "x",
        ],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    shown = fenced("text")[0].splitlines()
    printed = run.stdout.splitlines()

    assert shown == printed[: len(shown)]
    assert len(shown) > 10
