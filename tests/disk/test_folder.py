"""A folder of results is swapped in whole, and nothing that a run did not write is ever changed, moved or lost."""

from __future__ import annotations

import json
import os
import shutil
import stat
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import fewer
from swaps import MEMORY

from sweep.disk import folder as swapping
from sweep.disk import lock
from sweep.disk.folder import fit_folder, swapped_in
from sweep.disk.lock import held
from sweep.disk.mark import MARK
from sweep.errors import SceneError

ROOT = Path(__file__).parents[2]


def leave(folder: Path, **files: str) -> None:
    """Leave files in a folder as a run does; `a_b` stands for `a.b`."""
    with swapped_in(folder) as fresh:
        for name, content in files.items():
            (fresh / name.replace("_", ".")).write_text(content)


def seen(top: Path) -> dict[str, tuple]:
    """What is below a folder, each file with its number on the disk, its mode and what it holds."""
    found = {}
    for path in sorted(top.rglob("*")):
        about = path.lstat()
        held = path.read_bytes() if stat.S_ISREG(about.st_mode) else None
        held = path.readlink() if path.is_symlink() else held
        found[str(path.relative_to(top))] = (about.st_ino, about.st_mode, held)
    return found


def test_a_killed_swap_leaves_the_old_results_whole_or_the_new_ones_and_the_next_clears_what_is_aside():
    """Kill -9 at 300 points and 30 chance moments; the user's files in the folder are there each time."""
    run = subprocess.run(
        [sys.executable, ROOT / "tests" / "swaps.py"],
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        timeout=300,
    )
    told = json.loads(run.stdout)

    assert told["broken"] == []
    assert told["killed"] > 300


def test_an_interrupted_run_leaves_the_previous_result_whole(tmp_path):
    """What was there stays, and nothing is left lying about."""
    leave(tmp_path / "job", result_json="first")
    with pytest.raises(KeyboardInterrupt), swapped_in(tmp_path / "job") as fresh:
        (fresh / "result.json").write_text("half")
        raise KeyboardInterrupt

    assert (tmp_path / "job" / "result.json").read_text() == "first"
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


def test_a_new_run_replaces_the_old_one_whole_and_keeps_what_the_user_put_beside_it(tmp_path):
    """No file of an earlier run is left behind; a scene and a note beside the results stay, the very same files."""
    job = tmp_path / "job"
    leave(job, result_json="first", pass_stl="")
    (job / "scene.toml").write_text("mine")
    (job / "lost").symlink_to("nowhere")
    before = seen(job)
    leave(job, result_json="second")

    assert {path.name for path in job.iterdir()} == {"result.json", MARK, "scene.toml", "lost"}
    assert (job / "result.json").read_text() == "second"
    assert {name: seen(job)[name] for name in ("scene.toml", "lost")} == {
        name: before[name] for name in ("scene.toml", "lost")
    }


NAMES = ("result.json", "pass-01.stl", "pass-02.stl", "notes.txt", ".hidden", ".sweep-unfinished-mine")
DOINGS = ("write", "change", "remove", "rename", "protect", "link", "hard link", "folder", "unmark")


def do_as_a_user(folder: Path, doing: str, name: str, other: str) -> None:
    """Do one thing in a folder that a user may do there; nothing where it cannot be done."""
    path, aim = folder / name, folder / other
    try:
        match doing:
            case "write":
                with path.open("x") as file:
                    file.write(f"mine, {name}")
            case "change":
                path.write_text(path.read_text() + "x")
            case "remove":
                path.unlink()
            case "rename" if not os.path.lexists(aim):
                path.rename(aim)
            case "protect":
                path.chmod(0o444)
            case "link":
                path.symlink_to(other)
            case "hard link":
                path.hardlink_to(aim)
            case "folder":
                path.mkdir()
                (path / "inner").write_text("mine")
            case "unmark":
                (folder / MARK).unlink()
    except OSError:
        pass


@given(
    first=st.sets(st.sampled_from(NAMES[:4])),
    doings=st.lists(st.tuples(st.sampled_from(DOINGS), st.sampled_from(NAMES), st.sampled_from(NAMES)), max_size=6),
    second=st.sets(st.sampled_from(NAMES[:4])),
    can_exchange=st.booleans(),
)
@fewer(3 / 16)
def test_no_run_removes_or_changes_what_a_run_did_not_write(first, doings, second, can_exchange):
    """On random folders: a run is refused and changes nothing, or replaces just what runs wrote, all of it."""
    top = Path(tempfile.mkdtemp(dir=MEMORY))
    job = top / "job"
    job.mkdir()
    (top / ".sweep-swapping-0123").mkdir()
    (top / ".sweep-unfinished-notes").write_text("mine")
    if first:
        leave(job, **{name: "first" for name in first})
    wrote = {f"job/{name}": one for name, one in ((MARK, None), *((name, None) for name in first)) if first or one}
    ours = {name: about for name, about in seen(top).items() if name in wrote}
    for doing in doings:
        do_as_a_user(job, *doing)
    before = seen(top)
    theirs = {name: about for name, about in before.items() if ours.get(name) != about and name != "job"}
    refused, exchange = None, swapping.exchanged
    try:
        if not can_exchange:
            swapping.exchanged = lambda one, other: False
        leave(job, **{name: "second" for name in second})
    except SceneError as wrong:
        refused = wrong
    finally:
        swapping.exchanged = exchange
    after = seen(top)
    shutil.rmtree(top)

    if refused is not None:
        assert refused.field == "--out"
        assert after == before
        return
    assert {name: after.get(name) for name in theirs} == theirs
    assert after.keys() - theirs.keys() - {"job"} == {f"job/{name}" for name in (MARK, *second)}
    assert all(after[f"job/{name}"][2] == b"second" for name in second)


def put_behind_a_link(path: Path) -> None:
    """Move a file out of its folder and leave a link to it."""
    path.rename(path.parents[1] / path.name)
    path.symlink_to(path.parents[1] / path.name)


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda job: (job / MARK).unlink(), "holds files that are not a run's (pass.stl, result.json)"),
        (lambda job: (job / MARK).write_text("x"), "holds files that are not a run's"),
        (lambda job: (job / "pass.stl").write_text("edited"), "changed or protected since a run wrote them (pass.stl)"),
        (lambda job: (job / "pass.stl").chmod(0o444), "changed or protected since a run wrote them (pass.stl)"),
        (lambda job: put_behind_a_link(job / "pass.stl"), "changed or protected since a run wrote them (pass.stl)"),
        (lambda job: (job / "photos").mkdir(), "holds a folder that no run wrote (photos)"),
        (lambda job: (job / "more.stl").write_text(""), "files of your own where results would go (more.stl)"),
        (lambda job: job.chmod(0o555), "is read-only"),
        (os.chdir, "is the folder you are in"),
    ],
)
def test_what_may_not_be_replaced_or_carried_over_is_refused_and_named(tmp_path, monkeypatch, spoil, words):
    """One sentence each, and everything is as it was."""
    monkeypatch.chdir(tmp_path.parent)
    job = tmp_path / "job"
    leave(job, result_json="first", pass_stl="first")
    spoil(job)
    before = seen(tmp_path)
    with pytest.raises(SceneError) as wrong:
        leave(job, result_json="second", more_stl="second")

    assert words in str(wrong.value)
    assert seen(tmp_path) == before


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("file", "file is a file"),
        ("file/below", "file is a file, and no folder can stand in it"),
        ("x" * 300, "File name too long"),
        ("dangling", "is a link that leads nowhere"),
        ("dangling/below", "is a link that leads nowhere"),
        ("loop", "is a link that leads nowhere"),
        ("/proc", "is a mount point"),
        ("/proc/below/it", "cannot be written"),
    ],
)
def test_a_place_where_no_folder_can_stand_is_refused_in_one_sentence(tmp_path, place, words):
    """And no folder above it is left."""
    (tmp_path / "file").write_text("mine")
    (tmp_path / "dangling").symlink_to(tmp_path / "unmounted")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    before = seen(tmp_path)
    with pytest.raises(SceneError) as wrong:
        leave(tmp_path / place, result_json="")

    assert str(wrong.value).startswith("--out: ")
    assert words in str(wrong.value)
    assert seen(tmp_path) == before


def test_without_rights_a_folder_is_refused(tmp_path):
    """As a user who may not write there; an administrator becomes one for the moment."""
    tmp_path.chmod(0o555)
    administrator = os.geteuid() == 0
    try:
        if administrator:
            os.seteuid(65534)
        with pytest.raises(SceneError, match=r"cannot be written \(Permission denied\); give a place"):
            leave(tmp_path / "new" / "job", result_json="")
    finally:
        if administrator:
            os.seteuid(0)
        tmp_path.chmod(0o755)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("how", ["to write", "to make", "to exchange", "to link"])
def test_whatever_the_system_refuses_midway_the_old_results_are_there_and_nothing_else(tmp_path, monkeypatch, how):
    """A full disk and the like, at each kind of step, with the user's file in the folder."""
    job = tmp_path / "job"
    leave(job, result_json="first")
    (job / "notes.txt").write_text("mine")
    before = seen(tmp_path)

    def full(*_, **__) -> None:
        raise OSError(28, "No space left on device")

    step = {"to write": (os, "fsync"), "to make": (Path, "mkdir"), "to link": (os, "link")}
    monkeypatch.setattr(*step.get(how, (swapping, "exchanged")), full)
    for folder in (job, tmp_path / "new" / "deep" / "job"):
        if folder == job or how == "to write":
            with pytest.raises(SceneError, match=r"No space left on device.; make room on the disk"):
                leave(folder, result_json="second")

    assert seen(tmp_path) == before


def test_a_disk_that_is_really_full_keeps_the_old_results(tmp_path):
    """A file system of 256 KB in memory."""
    if os.geteuid() != 0 or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=256k", "x", tmp_path]).returncode:
        pytest.skip("no file system can be mounted here")
    try:
        leave(tmp_path / "job", result_json="first")
        before = seen(tmp_path)
        with pytest.raises(SceneError, match=r"No space left on device.; make room on the disk"):
            leave(tmp_path / "job", result_json="x" * 300_000)
        assert seen(tmp_path) == before
        with pytest.raises(SceneError, match="is a mount point"):
            fit_folder(tmp_path)
    finally:
        subprocess.run(["umount", tmp_path], check=True)


def test_through_a_link_the_real_folder_is_written(tmp_path):
    """The link stays a link."""
    leave(tmp_path / "real", result_json="first")
    (tmp_path / "link").symlink_to("real")
    leave(tmp_path / "link", result_json="second")

    assert (tmp_path / "link").readlink() == Path("real")
    assert (tmp_path / "real" / "result.json").read_text() == "second"
    assert {path.name for path in tmp_path.iterdir()} == {"real", "link"}


def test_modes_are_kept_and_new_ones_are_those_that_the_user_asks_for(tmp_path):
    """The folder and each file that is written again keep their modes; the umask says the others."""
    before = os.umask(0o027)
    try:
        leave(tmp_path / "job", result_json="", pass_stl="")
        new = [(tmp_path / "job" / name).stat().st_mode & 0o777 for name in ("", "result.json", MARK)]
        (tmp_path / "job").chmod(0o2711)
        (tmp_path / "job" / "result.json").chmod(0o604)
        leave(tmp_path / "job", result_json="")
        (tmp_path / "empty").mkdir(mode=0o700)
        leave(tmp_path / "empty", result_json="")
    finally:
        os.umask(before)

    assert new == [0o750, 0o640, 0o640]
    assert (tmp_path / "job").stat().st_mode & 0o7777 == 0o2711
    assert (tmp_path / "job" / "result.json").stat().st_mode & 0o777 == 0o604
    assert (tmp_path / "empty").stat().st_mode & 0o777 == 0o700


def test_runs_at_once_wait_for_each_other(tmp_path):
    """Four processes swap forty times each; no run fails, the folder is never gone, nothing is left aside."""
    job = tmp_path / "job"
    leave(job, result_json="0")
    (job / "notes.txt").write_text("mine")
    code = (
        "import sys; from pathlib import Path; from sweep.disk.folder import swapped_in\n"
        "for k in range(40):\n"
        "    with swapped_in(Path(sys.argv[1])) as fresh: (fresh / 'result.json').write_text(f'{sys.argv[2]}')\n"
    )
    runs = [
        subprocess.Popen([sys.executable, "-c", code, job, str(number)], cwd=ROOT, stderr=subprocess.PIPE)
        for number in range(1, 5)
    ]
    gone = 0
    while any(run.poll() is None for run in runs):
        gone += not job.is_dir()
        time.sleep(0.001)

    assert [run.communicate()[1] for run in runs] == [b""] * 4
    assert gone == 0
    assert (job / "result.json").read_text() in "1234"
    assert (job / "notes.txt").read_text() == "mine"
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


def test_a_run_that_is_kept_waiting_says_so(tmp_path, monkeypatch):
    """After the time it is said to wait; the results are as they were."""
    leave(tmp_path / "job", result_json="first")
    monkeypatch.setattr(lock, "LONGEST_WAIT", 0.1)
    for work in (fit_folder, lambda folder: leave(folder, result_json="second")):
        with held(tmp_path), pytest.raises(SceneError, match=r"another run has been writing in .* for 0.1 s; wait"):
            work(tmp_path / "job")

    assert (tmp_path / "job" / "result.json").read_text() == "first"


def test_what_a_running_run_has_aside_is_left_alone(tmp_path):
    """Another run to the same place begins and ends meanwhile; the last one to end stands."""
    with swapped_in(tmp_path / "job") as slow:
        (slow / "result.json").write_text("slow")
        leave(tmp_path / "job", result_json="quick")
        assert (slow / "result.json").read_text() == "slow"

    assert (tmp_path / "job" / "result.json").read_text() == "slow"
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


def test_a_file_that_the_user_saves_in_the_moment_of_the_swap_is_kept(tmp_path, monkeypatch):
    """Both as it was carried over and as it was saved; one that is new is there under its name."""
    job, exchange = tmp_path / "job", swapping.exchanged
    leave(job, result_json="first", pass_stl="first")
    (job / "notes.txt").write_text("mine")

    def saved_meanwhile(fresh: Path, place: Path) -> bool:
        (place / "saved").write_text("mine, later")
        (place / "saved").replace(place / "notes.txt")
        (place / "new.txt").write_text("mine, new")
        (place / "pass.stl").write_text("mine, edited")
        return exchange(fresh, place)

    monkeypatch.setattr(swapping, "exchanged", saved_meanwhile)
    leave(job, result_json="second")
    held = {path.name: path.read_text() for path in job.iterdir() if path.name != MARK}

    assert held == {
        "result.json": "second",
        "notes.txt": "mine",
        "notes.txt.kept-1": "mine, later",
        "new.txt": "mine, new",
        "pass.stl": "mine, edited",
    }
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


def test_the_mark_can_be_checked_with_the_systems_own_program(tmp_path):
    """GNU coreutils' `sha256sum --check --strict` reads it; common practice for lists of digests."""
    if shutil.which("sha256sum") is None:
        pytest.skip("there is no sha256sum here")
    leave(tmp_path / "job", result_json="one", pass_stl="two")
    check = ["sha256sum", "--check", "--strict", MARK]
    assert subprocess.run(check, cwd=tmp_path / "job", capture_output=True).returncode == 0

    (tmp_path / "job" / "pass.stl").write_text("three")
    assert subprocess.run(check, cwd=tmp_path / "job", capture_output=True).returncode == 1
