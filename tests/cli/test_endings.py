"""How the program ends when the system refuses: one sentence and status 2, and never 1 but for a finding."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import click
import pytest
from demos import SCENES
from terminal import sweep, sweep_here

from sweep.endings import FAULT, INTERRUPTED, REFUSED, status_of
from sweep.errors import SceneError

SCENE = SCENES / "stopped-cove.toml"
ENVIRONMENT = os.environ | {"PYTHONPATH": str(SCENES.parent)}


def shell(line: str, folder, *words) -> subprocess.CompletedProcess:
    """Run a line of the shell in which `sweep` is this program and `$1`, `$2` are these words."""
    program = f'sweep() {{ "{sys.executable}" -m sweep "$@"; }}; '
    return subprocess.run(
        ["bash", "-c", program + line, "bash", *map(str, words)],
        cwd=folder,
        env=ENVIRONMENT,
        capture_output=True,
        timeout=120,
    )


def assert_refused(run: subprocess.CompletedProcess, words: bytes) -> None:
    """Assert that a run ended with status 2 and one sentence of these words."""
    assert run.returncode == 2, run.stderr.decode()
    assert run.stderr.startswith(b"error: ")
    assert run.stderr.count(b"\n") == 1
    assert words in run.stderr


def test_results_that_nobody_reads_about_are_whole_and_a_scene_beside_them_outlives_the_next_run(tmp_path):
    """`sweep run r/scene.toml --out r` into a pipe that is closed, and with no output at all."""
    run = shell('sweep run "$1" --no-pictures --out r | true; exit ${PIPESTATUS[0]}', tmp_path, SCENE)
    assert_refused(run, b"what is printed was not read to its end")
    (tmp_path / "r" / "scene.toml").write_bytes(SCENE.read_bytes())
    (tmp_path / "r" / "note.txt").write_text("mine")
    run = shell("sweep run r/scene.toml --no-pictures --out r >&- 2>&- <&-", tmp_path)
    assert run.returncode == 0

    assert (tmp_path / "r" / "scene.toml").read_bytes() == SCENE.read_bytes()
    assert (tmp_path / "r" / "note.txt").read_text() == "mine"
    assert [path.name for path in tmp_path.iterdir()] == ["r"]
    check = ["sha256sum", "--quiet", "--check", ".written-by-sweep"]  # nothing printed has landed in a file
    assert subprocess.run(check, cwd=tmp_path / "r").returncode == 0


@pytest.mark.parametrize("command", ["--help", "run --help"])
def test_a_pipe_that_nobody_reads_ends_in_one_sentence(tmp_path, command):
    """The status is not 1, which is kept for findings."""
    run = shell(f"sweep {command} | true; exit ${{PIPESTATUS[0]}}", tmp_path)

    assert_refused(run, b"what is printed was not read to its end")


@pytest.mark.parametrize("command", ['fence "$1"', "--version"])
def test_a_full_device_to_print_on_ends_in_one_sentence(tmp_path, command):
    """As /dev/full is."""
    run = shell(f"sweep {command} > /dev/full", tmp_path, SCENE)

    assert_refused(run, b"what is printed cannot be written (No space left on device)")


def test_a_terminal_that_lacks_letters_of_the_title_gets_the_rest(tmp_path):
    """Status 0: what was cut is well."""
    title = "Corniche à l'égyptienne 飾り"
    text = re.sub(r"^title = .*$", f'title = "{title}"', SCENE.read_text(), flags=re.MULTILINE)
    (tmp_path / "scene.toml").write_text(text, encoding="utf-8")
    run = sweep_here("fence", "scene.toml", folder=tmp_path, PYTHONIOENCODING="ascii", LC_ALL="C")

    assert run.returncode == 0, run.stderr.decode()
    assert b"Corniche ? l'?gyptienne ??" in run.stdout


def test_a_disk_without_room_ends_in_one_sentence_with_nothing_left(tmp_path):
    """No file may grow beyond 8 KB: the system refuses as a full disk does."""
    run = shell('ulimit -f 8; sweep run "$1" --no-pictures --out new/job', tmp_path, SCENE)

    assert_refused(run, b"error: --out: new/job cannot be written (File too large); make room on the disk")
    assert list(tmp_path.iterdir()) == []


def test_what_may_not_be_written_is_said_before_anything_is_worked_out(tmp_path):
    """`--out .`, and a read-only scene with --write; status 2 and nothing written."""
    scene = tmp_path / "scene.toml"
    scene.write_text((SCENES / "arc-from-drawing.toml").read_text())
    scene.chmod(0o444)

    assert_refused(sweep_here("run", SCENE, "--out", ".", folder=tmp_path), b"--out: . is the folder you are in")
    assert_refused(sweep("solve", scene, "--write", folder=tmp_path), b"scene.toml is read-only")
    assert scene.read_text() == (SCENES / "arc-from-drawing.toml").read_text()


@pytest.mark.parametrize(
    ("wrong", "status", "words"),
    [
        (SceneError("stock.width", "it is wrong", "write another"), REFUSED, "error: stock.width: it is wrong; write"),
        (click.Abort(), INTERRUPTED, "error: interrupted."),
        (click.UsageError("no such option"), REFUSED, "Error: no such option"),
        (click.FileError("a.toml", "gone"), REFUSED, "Could not open file 'a.toml'"),
        (BrokenPipeError(32, "Broken pipe"), REFUSED, "error: what is printed cannot be written (Broken pipe)"),
        (PermissionError(13, "Permission denied", "a.bin"), REFUSED, "error: a.bin cannot be used (Permission denied)"),
        (SystemExit(1), REFUSED, "error: what is printed was not read to its end"),
        (MemoryError(), REFUSED, "error: this takes more memory than there is"),
        (ZeroDivisionError("a fault"), FAULT, "error: this is a fault of sweep"),
    ],
)
def test_status_1_means_a_finding_and_nothing_else(capsys, wrong, status, words):
    """Whatever a command or a library raises; only our own faults show a traceback."""

    def command() -> int:
        raise wrong

    assert status_of(command) == status
    told = capsys.readouterr().err
    assert words in told
    assert ("Traceback" in told) == (status == FAULT)
    assert (status_of(lambda: 1), status_of(lambda: 0), status_of(lambda: None)) == (1, 0, 0)
