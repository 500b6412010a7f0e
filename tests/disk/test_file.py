"""A file of the user's is written back whole or not at all, behind its link, with its mode."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sweep.disk.file import new_file, replace_file
from sweep.errors import SceneError


def test_through_links_the_real_file_is_written_with_its_mode(tmp_path):
    """A link to a link to it; nothing is left beside either."""
    (tmp_path / "far").mkdir()
    real = tmp_path / "far" / "real.toml"
    real.write_text("old")
    real.chmod(0o640)
    (tmp_path / "far" / "near.toml").symlink_to("real.toml")
    (tmp_path / "link.toml").symlink_to("far/near.toml")
    replace_file(tmp_path / "link.toml", b"new", "save")

    assert real.read_text() == "new"
    assert not real.is_symlink()
    assert real.stat().st_mode & 0o777 == 0o640
    assert (tmp_path / "link.toml").readlink() == Path("far/near.toml")
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["far", "link.toml", "near.toml", "real.toml"]


def test_a_new_file_has_the_mode_that_the_user_asks_for(tmp_path):
    """The umask."""
    before = os.umask(0o077)
    try:
        replace_file(tmp_path / "new.toml", b"new", "--write")
    finally:
        os.umask(before)

    assert (tmp_path / "new.toml").read_text() == "new"
    assert (tmp_path / "new.toml").stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("protected", "is read-only"),
        ("folder", "is not a plain file"),
        ("/dev/null", "is not a plain file"),
        ("pipe", "is not a plain file"),
        ("dangling", "is a link that leads nowhere"),
        ("none/new.toml", "has no folder to stand in"),
        ("protected/new.toml", "cannot be written|has no folder to stand in"),
        ("x" * 300, "File name too long"),
    ],
)
def test_what_is_not_a_writable_file_is_refused(tmp_path, name, words):
    """One sentence that names the option; nothing is changed."""
    (tmp_path / "protected").write_text("mine")
    (tmp_path / "protected").chmod(0o444)
    (tmp_path / "folder").mkdir()
    (tmp_path / "dangling").symlink_to("nowhere")
    os.mkfifo(tmp_path / "pipe")
    before = sorted(path.lstat() for path in tmp_path.rglob("*"))
    with pytest.raises(SceneError, match=words) as wrong:
        replace_file(tmp_path / name, b"new", "--write")

    assert wrong.value.field == "--write"
    assert sorted(path.lstat() for path in tmp_path.rglob("*")) == before


def test_a_full_disk_leaves_the_old_file(tmp_path, monkeypatch):
    """And nothing beside it."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / "scene.toml").write_text("old")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(SceneError, match=r"No space left on device.; make room"):
        replace_file(tmp_path / "scene.toml", b"new", "save")

    assert (tmp_path / "scene.toml").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["scene.toml"]


def test_whoever_writes_is_asked_last_and_may_leave_it(tmp_path):
    """The file is as it was, and nothing is left beside it."""

    def changed() -> None:
        raise SceneError("save", "the file has changed", "reload")

    (tmp_path / "scene.toml").write_text("old")
    with pytest.raises(SceneError, match="has changed"):
        replace_file(tmp_path / "scene.toml", b"new", "save", changed)

    assert (tmp_path / "scene.toml").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["scene.toml"]


@pytest.mark.parametrize("links", [True, False], ids=["links", "no links"])
def test_a_new_file_is_never_written_over_one_that_came_in_between(tmp_path, monkeypatch, links):
    """Whether or not the file system can give a second name; nothing is left beside either."""

    def link(fresh: Path, place: Path) -> None:
        if place.name == "late.toml":
            place.write_text("theirs")  # between our look and our writing
        if not links:
            raise OSError("no links here")
        real(fresh, place)

    real = os.link
    monkeypatch.setattr(os, "link", link)
    new_file(tmp_path / "new.toml", b"new", "FILE")
    for name in ("new.toml", "late.toml"):
        with pytest.raises(SceneError, match=r"FILE: .*\.toml (already|cannot be written)"):
            new_file(tmp_path / name, b"other", "FILE")

    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"new.toml": "new", "late.toml": "theirs"}
