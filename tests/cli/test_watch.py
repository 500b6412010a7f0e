"""`sweep watch` where no window can be opened, and with wrong input."""

from __future__ import annotations

import sys

import pytest
from demos import SCENES
from terminal import sweep, sweep_here


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere a desk always has a display")
@pytest.mark.parametrize("display", ["", ":987"])
def test_without_a_display_it_ends_in_one_sentence_and_status_2(tmp_path, display):
    """Whether none is named or the one that is named is not there."""
    run = sweep(
        "watch", SCENES / "too-greedy.toml", folder=tmp_path, DISPLAY=display, WAYLAND_DISPLAY="", XDG_RUNTIME_DIR=""
    )

    assert run.returncode == 2
    assert run.stderr.startswith(b"error: No window was opened: ")
    assert run.stderr.count(b"\n") == 1
    assert run.stdout == b""
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("old", "new"), [('blade_height = "16 mm"', 'blade_height = "15 mm"'), ('"66 mm"', "66"), ("[stock]", "[stock")]
)
def test_wrong_input_gives_the_same_sentence_as_a_run(tmp_path, old, new):
    """A scene is read the same way, whatever is done with it."""
    text = (SCENES / "too-greedy.toml").read_text()
    (tmp_path / "scene.toml").write_text(text.replace(old, new, 1))
    watched, ran = (sweep_here(command, "scene.toml", folder=tmp_path, DISPLAY="") for command in ("watch", "run"))

    assert watched.returncode == ran.returncode == 2
    assert watched.stderr == ran.stderr
    assert b"Traceback" not in watched.stderr
