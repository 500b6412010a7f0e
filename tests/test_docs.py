"""The words are true: the README's commands, table, example and output are the program's own."""

from __future__ import annotations

import doctest
import importlib
import io
import json
import re
import shlex
from contextlib import chdir, redirect_stdout
from pathlib import Path

from terminal import sweep_here, told_here

from sweep.show.terminal.keys import keys_table
from sweep.units import ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()


def fenced(language: str) -> list[str]:
    """Every block of the README in one language."""
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def test_ci_runs_exactly_the_readmes_test_command():
    """One command locally is the same command in CI."""
    assert fenced("sh")[1].strip() in (ROOT / ".ci" / "run").read_text().splitlines()


def test_the_readmes_first_command_runs_the_demo_scene():
    """On a scene that is there."""
    scene = fenced("sh")[0].split()[-1]

    assert (ROOT / scene).is_file()


def test_the_readmes_first_scene_is_complete_and_its_commands_run(tmp_path):
    """About twenty lines, solved within tolerance, cut with nothing flagged."""
    (tmp_path / "plinth.toml").write_text(fenced("toml")[0])
    told = [line.partition("#")[0].split() for line in fenced("sh")[2].splitlines()]
    commands = [[Path(word).name for word in words] for words in told if "view" not in words]

    assert len(fenced("toml")[0].splitlines()) < 26
    assert [words[:2] for words in commands] == [["sweep", "solve"], ["sweep", "run"]]
    for _, command, *words in commands:
        ended = told_here(*words, folder=tmp_path) if command == "run" else sweep_here(command, *words, folder=tmp_path)
        assert (ended.returncode, ended.stderr) == (0, b"")
    assert json.loads((tmp_path / "out/plinth/result.json").read_text())["check"]["within_tolerance"]


def test_every_example_in_a_docstring_is_true():
    """Found in the text first: most modules have none, and some take long to load."""
    with_examples = [path for path in (ROOT / "sweep").rglob("*.py") if ">>>" in path.read_text("utf-8")]
    names = [".".join(path.relative_to(ROOT).with_suffix("").parts) for path in with_examples]
    ran = {name: doctest.testmod(importlib.import_module(name)) for name in names}

    assert len(ran) >= 14
    assert {name: result for name, result in ran.items() if result.failed or not result.attempted} == {}


def test_the_readmes_table_of_keys_is_what_the_program_prints():
    """From what stands beside each key in the model; `sweep keys --table` prints it anew."""
    table = README[README.index("| key | default |") :].split("\n\n")[0]

    assert table == keys_table().rstrip("\n")


def test_the_readme_names_every_unit_that_is_read():
    """Kind by kind, by one of its spellings."""
    listed = re.search(r"The units are ([^.]*)\. A bare", README)[1].replace("and ", "").replace("\n", " ")
    kinds = (LENGTH, ANGLE, SPEED, ROTATION, POWER, FORCE, DENSITY, TIME, AREA, SHARE)
    for kind, names in zip(kinds, listed.split("; "), strict=True):
        named = [kind.units[name.strip().casefold()] for name in names.split(", ")]

        assert set(named) == set(kind.units.values()), kind.name


def test_every_demo_scene_is_in_the_readmes_table():
    """And every one in the table is there."""
    named = set(re.findall(r"^\| `([a-z-]+\.toml)`", README, re.MULTILINE))

    assert named == {path.name for path in (ROOT / "scenes").glob("*.toml")}


def test_the_readmes_python_runs_and_prints_what_is_true():
    """The finished volume is less than the one midway, and the mesh is closed."""
    printed = io.StringIO()
    with chdir(ROOT), redirect_stdout(printed):
        exec(fenced("python")[0], {})

    assert printed.getvalue() == "True True\n"


def test_the_readme_shows_what_the_program_prints(tmp_path):
    """Line by line, but for where it was written to."""
    run = told_here("scenes/corner-cupboard-cornice.toml", "--out", tmp_path / "x", folder=ROOT)
    shown = fenced("text")[0].splitlines()
    printed = run.stdout.decode().splitlines()

    assert shown == printed[: len(shown)]
    assert len(shown) > 10


def test_the_house_in_developers_md_is_as_it_stands():
    """Every folder of the package is told, and whatever is named of it is there."""
    house = re.search(r"## The house\n(.*?)\n## ", (ROOT / "DEVELOPERS.md").read_text(), re.DOTALL)[1]
    package = ROOT / "sweep"
    told = re.findall(r"^- (.*?)(?=^- |\n\n|\Z)", house, re.DOTALL | re.MULTILINE)[:-1]

    assert len(told) > 10
    for init in package.glob("*/**/__init__.py"):
        folder = init.parent.relative_to(package)
        assert any(f"`{name}/`" in house for name in (folder, folder.name)) or folder.name == "show"
    files = {path.name for path in package.rglob("*.*")} | {"result.json", "passes.csv"}
    for room in told:
        folders = [package / name for name in re.findall(r"`([a-z/]+)/`", room.split(":")[0]) if name != "sweep"]
        modules = {path.stem for folder in folders or [package] for path in folder.rglob("*.py")}
        for name in re.findall(r"`([a-z_.]+)`", room):
            assert name in (files if "." in name else modules), room


def test_the_readmes_correction_is_what_the_program_says(tmp_path):
    """The demo whose fence slipped, is told as the README shows it."""
    command = next(block for block in fenced("sh") if "sweep correct" in block)
    shown = README[README.index("<!-- output of that command -->") :].split("```")[1].removeprefix("text\n")
    words = shlex.split(command.replace("\\\n", " "))[1:]
    run = sweep_here(*words, folder=ROOT)
    printed = [line.rstrip() for line in run.stdout.decode().splitlines()]

    assert run.returncode == 1, run.stderr
    assert shown.splitlines() == printed[: len(shown.splitlines())]
    assert len(shown.splitlines()) > 15
