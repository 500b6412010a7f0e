"""A scene from a few words: on the command line, and asked for on a terminal."""

from __future__ import annotations

import io
import os
import pty
import signal
import subprocess
import sys
import tomllib
from contextlib import suppress
from pathlib import Path

import pytest
from demos import SCENES
from terminal import sweep_here, told_here

from sweep.scene.documented import documented_keys
from sweep.scene.questions import QUESTIONS
from sweep.scene.read import read_scene

IN_INCHES = {
    "--stock": "48 x 3 in x 3/4 in",
    "--wood": "cherry",
    "--shoulders": '3/8"',
    "--above": "1/4 in",
    "--blade": "10 in x 1/8 in x 40",
    "--speed": "3450 rpm",
    "--motor": "1.75 hp",
    "--fence": "far",
    "--feed": "7 ft/min",
}


def words(**changes: str | None) -> list[str]:
    """Return the options, some of them changed or left out."""
    options = IN_INCHES | {f"--{name}": text for name, text in changes.items()}
    return [word for name, text in options.items() if text is not None for word in (name, text)]


def test_a_scene_from_options_is_written_as_typed_with_its_meaning_and_runs(tmp_path):
    """Every answer stands in it in its own notation, and `run` takes it."""
    made = sweep_here("new", "shelf.toml", *words(), folder=tmp_path)
    text = (tmp_path / "shelf.toml").read_text()

    assert made.returncode == 0 and made.stderr == b""
    assert tomllib.loads(text) == {
        "stock": {"length": "48 in", "width": "3 in", "thickness": "3/4 in", "species": "cherry"},
        "blade": {"diameter": "10 in", "kerf": "1/8 in", "teeth": 40},
        "saw": {"speed": "3450 rpm", "motor": "1.75 hp"},
        "plan": {"feed_speed": "7 ft/min", "fence_side": "far"},
        "target": {"shape": "cove", "shoulders": '3/8"', "wood_above": "1/4 in"},
    }
    assert 'length = "48 in"                # the piece before the cut\n' in text
    assert max(map(len, text.splitlines())) <= 110
    assert told_here("shelf.toml", folder=tmp_path).returncode in (0, 1)
    assert read_scene(tmp_path / "shelf.toml").units.style == "in"


def test_nothing_is_written_over_and_nothing_is_left_where_an_option_is_wrong(tmp_path):
    """The folder holds what it held, to the byte."""
    (tmp_path / "mine.toml").write_text("mine")
    taken = sweep_here("new", "mine.toml", *words(), folder=tmp_path)
    wrong = sweep_here("new", "new.toml", *words(shoulders="2 in"), folder=tmp_path)
    nowhere = sweep_here("new", "none/new.toml", *words(), folder=tmp_path)

    assert [taken.returncode, wrong.returncode, nowhere.returncode] == [2, 2, 2]
    assert taken.stderr == b"error: FILE: there is mine.toml already, and it stays; give a name that is not taken.\n"
    assert wrong.stderr.startswith(b"error: target.shoulders: two of 2 in leave no cove in stock 3 in wide")
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"mine.toml": "mine"}


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"stock": "48 in x 3 in"}, "--stock: '48 in x 3 in' is not 3 sizes"),
        ({"stock": "48 x 3 x 1"}, "stock.length: '48' has no unit"),
        ({"blade": "10 in x 1/8 in x forty"}, "blade.teeth: this is not what belongs here; write a whole number."),
        ({"fence": "left"}, "plan.fence_side: 'left' is not known here; write 'near' or 'far'."),
        ({"above": "1/8 in"}, "target.wood_above: 1/8 in above the cove makes it 5/8 in deep"),
        ({"width": "2 in"}, "target.shoulders: the width already says it"),
        (
            {"speed": None, "above": None},
            '--above: it is missing; write, for example, --above "5/16 in" --speed "3450 rpm".',
        ),
        ({"profile": "nothing.csv", "shoulders": None, "above": None}, "nothing.csv: there is no such file"),
    ],
)
def test_a_wrong_option_is_refused_in_the_words_of_its_field(tmp_path, changes, says):
    """One sentence, before anything is written."""
    ended = sweep_here("new", "new.toml", *words(**changes), folder=tmp_path)

    assert ended.returncode == 2
    assert ended.stderr.decode().startswith(f"error: {says}")
    assert not list(tmp_path.iterdir())


def test_what_the_shop_beside_it_says_need_not_be_said(tmp_path):
    """The scene has no blade and no saw of its own, and `solve` takes it."""
    (tmp_path / "shop.toml").write_text(
        '[saw]\nspeed = "3450 rpm"\n[blade]\nteeth = 40\ndiameter = "10 in"\nkerf = "1/8 in"\n'
    )
    without = {name: None for name in ("blade", "speed", "motor")}
    made = sweep_here("new", "shelf.toml", *words(**without), folder=tmp_path)

    assert (made.returncode, made.stderr) == (0, b"")
    assert not {"blade", "saw"} & tomllib.loads((tmp_path / "shelf.toml").read_text()).keys()
    assert sweep_here("solve", "shelf.toml", folder=tmp_path).returncode == 0


def test_without_a_terminal_and_without_options_one_sentence_says_what_to_write(tmp_path):
    """A script is never left waiting."""
    nothing, only_file = sweep_here("new", folder=tmp_path), sweep_here("new", "a.toml", folder=tmp_path)

    assert (nothing.returncode, only_file.returncode) == (2, 2)
    assert nothing.stderr.decode() == "error: FILE: it is missing; name the file to write, for example plinth.toml.\n"
    assert only_file.stderr.decode().startswith('error: --stock: it is missing; write, for example, --stock "900 mm x')


def test_a_profile_in_a_file_is_named_from_where_the_scene_stands(tmp_path):
    """The scene is in another folder than the one the command is given in."""
    (tmp_path / "scenes").mkdir()
    (tmp_path / "offcut.csv").write_text((SCENES / "tilted-cove.csv").read_text())
    options = words(profile="offcut.csv", shoulders=None, above=None, stock="900 mm x 92 mm x 25 mm")
    made = sweep_here("new", "scenes/new.toml", *options, folder=tmp_path)

    assert made.returncode == 0, made.stderr
    target = tomllib.loads((tmp_path / "scenes" / "new.toml").read_text())["target"]
    assert target == {"shape": "points", "file": "../offcut.csv"}


class Typing(io.StringIO):
    """What somebody types at a terminal."""

    def isatty(self) -> bool:
        return True


def test_asked_with_nothing_it_asks_one_by_one_and_again_where_an_answer_is_wrong(tmp_path, monkeypatch):
    """Enter takes what is shown in brackets, in the notation of the stock; a mark off the stock is refused at once."""
    (tmp_path / "taken.toml").write_text("")
    typed = ["taken.toml", "c.toml", "", "48 x 3 in", "4 ft x 3 in x 3/4 in", "cherry", "", "2 in", "3/8 in", "1/4 in",
             "10 in x 1/8 in x 40", "", "3450", "3450 rpm", "", "", ""]  # fmt: skip
    monkeypatch.setattr(sys, "stdin", Typing("\n".join(typed) + "\n"))
    ended = sweep_here("new", folder=tmp_path)
    said = ended.stdout.decode()

    assert ended.returncode == 0, ended.stderr
    assert said.count("Error: ") == 4
    assert said.index("two of 2 in leave no cove") < said.index("The wood above the cove (for example 5/16 in)")
    assert "A name for the job [c]" in said and "along the fence [6 ft/min]" in said
    written = tomllib.loads((tmp_path / "c.toml").read_text())
    assert written["title"] == "c" and written["plan"] == {"feed_speed": "6 ft/min", "fence_side": "near"}
    assert "motor" not in written["saw"] and "bevel" not in written["blade"]


def test_what_is_missing_beside_options_is_asked_for_and_no_more(tmp_path, monkeypatch):
    """Who writes half of it is asked the other half."""
    monkeypatch.setattr(sys, "stdin", Typing("1/4 in\n"))
    ended = sweep_here("new", "c.toml", *words(above=None, feed=None), folder=tmp_path)

    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.startswith(b"The wood above the cove (for example 5/16 in): Written to c.toml\n")
    assert "feed_speed" not in (tmp_path / "c.toml").read_text()


@pytest.mark.parametrize("end", ["\x04", "\x03"], ids=["end of input", "Ctrl+C"])
def test_on_a_real_terminal_the_end_of_the_input_or_ctrl_c_leaves_nothing(tmp_path, end):
    """In the middle of the questions; status 130, and no file."""
    ours, theirs = pty.openpty()
    running = subprocess.Popen(
        [sys.executable, "-m", "sweep", "new", "c.toml"], stdin=theirs, stdout=subprocess.PIPE, stderr=theirs,
        cwd=tmp_path, env=os.environ | {"PYTHONPATH": str(SCENES.parent)}, preexec_fn=_own_terminal(theirs),
    )  # fmt: skip
    os.close(theirs)
    with running, os.fdopen(ours, "wb", buffering=0) as keys:
        assert running.stdout is not None
        assert running.stdout.read(18) == b"A name for the job"
        try:
            for _ in range(30):  # pressed in the very moment before it listens, a key would be waited for again
                keys.write(end.encode())
                with suppress(subprocess.TimeoutExpired):
                    running.wait(timeout=1)
                    break
            assert running.returncode == 130
        finally:
            running.kill()
    assert not list(tmp_path.iterdir())


def _own_terminal(theirs: int):
    """Make the terminal the one that Ctrl+C is sent through."""

    def make() -> None:
        os.setsid()
        signal.signal(signal.SIGINT, signal.SIG_DFL)  # a shell's jobs in the background are started deaf to it
        os.close(os.open(os.ttyname(theirs), os.O_RDWR))

    return make


def test_every_question_is_for_keys_that_there_are_and_its_examples_are_read(tmp_path):
    """In both notations."""
    from sweep.scene.new import read_answer

    paths = {key.path for key in documented_keys()}
    for question in QUESTIONS:
        assert set(question.keys) <= paths
        for example in question.example:
            assert set(question.keys) <= set(read_answer(question, example, Path("c.toml")))
