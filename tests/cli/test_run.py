"""The command line as a stranger meets it: its words, files and exit status."""

from __future__ import annotations

import json
import re

import pytest
from demos import CORNICE, SCENES
from pypdf import PdfReader
from sent import held_in
from terminal import sweep, sweep_here, told_here


@pytest.mark.parametrize(
    ("name", "status"),
    [
        ("picture-rail", 0),
        ("cornice-to-fit", 0),
        ("ripped-pair", 0),
        ("too-greedy", 1),
    ],
)
def test_a_demo_scene_runs_exits_as_the_readme_says_and_leaves_all_files(tmp_path, name, status):
    """0 where all is well, 1 where something is flagged; mitred or ripped, in mm and in inches."""
    run = sweep_here("run", SCENES / f"{name}.toml", "--no-pictures", folder=tmp_path)
    folder = tmp_path / "out" / name
    result = json.loads((folder / "result.json").read_text())
    passes = {f"pass-{number:02d}.stl" for number in range(1, len(result["passes"]) + 1)}
    if name == "cornice-to-fit":
        passes.add("mitred.stl")
    if name == "ripped-pair":
        passes |= {"piece-1.stl", "piece-2.stl"}

    assert run.returncode == status, run.stderr.decode()
    assert {path.name for path in folder.iterdir()} == passes | {
        "result.json", "passes.csv", "finished.stl", "finished.3mf", "finished.glb", "sanding-block.stl", "scraper.svg",
        "removal.html", "sheet.pdf", ".written-by-sweep",
    }  # fmt: skip
    assert (folder / "removal.html").stat().st_size < 1_200_000
    inches = name == "picture-rail"  # the one that is written in inches is answered in inches, on Letter
    assert (b"in2" in run.stdout, b"mm2" in run.stdout) == (inches, not inches)
    assert PdfReader(folder / "sheet.pdf").pages[0].mediabox.width == pytest.approx(612 if inches else 595.28, abs=0.1)
    assert b"not permission to cut" in run.stdout
    assert b"Left out by --no-pictures: passes.png, load.png, fence.png, surface.png and removal.gif." in run.stdout


@pytest.mark.parametrize(
    ("name", "status"), [("corner-cupboard-cornice", 0), ("tilted-cove", 0), ("stopped-cove", 0), ("off-the-edge", 1)]
)
def test_the_other_demo_scenes_exit_as_the_readme_says(tmp_path, name, status):
    """The same, by what is printed and the numbers; those that are not set up are in `test_solve.py`."""
    run = told_here(SCENES / f"{name}.toml", folder=tmp_path)
    result = json.loads((tmp_path / "out" / name / "result.json").read_text())

    assert run.returncode == status, run.stderr.decode()
    assert len(result["passes"]) > 0
    assert b"not permission to cut" in run.stdout


def test_of_an_unknown_wood_every_output_says_that_power_is_not_checked(tmp_path):
    """Terminal, the first page of the sheet, the page and the answer of `solve`."""
    scene = CORNICE.read_text().replace("white oak", "Brazilian cherry")
    (tmp_path / "job.toml").write_text(scene)
    (tmp_path / "open.toml").write_text(re.sub(r"\[passes\].*?(?=\n\[)", "", scene, flags=re.DOTALL))
    run = sweep_here("run", "job.toml", "--no-pictures", folder=tmp_path)
    solved = sweep_here("solve", "open.toml", folder=tmp_path)
    folder = tmp_path / "out" / "job"
    told = (run.stdout.decode(), PdfReader(folder / "sheet.pdf").pages[0].extract_text(),
            held_in(folder / "removal.html")["model"]["forces"], solved.stdout.decode())  # fmt: skip

    assert (run.returncode, solved.returncode) == (0, 0)
    for text in told:
        assert "power, push and bending of the plate are not checked" in " ".join(text.split())


def test_flagged_passes_stand_out_without_colour(tmp_path):
    """An exclamation mark, and a sentence with the code."""
    run = told_here(SCENES / "too-greedy.toml", folder=tmp_path, NO_COLOR="1")
    text = run.stdout.decode()

    assert "\x1b" not in text
    assert len(re.findall(r"^! +\d ", text, re.MULTILINE)) == 2
    assert "(rise-large)" in text


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
def test_a_terminal_that_knows_only_ascii_gets_the_whole_table(tmp_path, style):
    """Through a pipe, 40 columns wide, no figure is lost and no character fails."""
    run = told_here(
        SCENES / "picture-rail.toml", "--units", style,
        folder=tmp_path, PYTHONIOENCODING="ascii", COLUMNS="40", LC_ALL="C",
    )  # fmt: skip

    assert run.returncode == 0, run.stderr.decode()
    assert run.stdout.isascii()
    expected = {"mm": b"|38.13 |", "in": b"|  1 1/2 |", "in-decimal": b"|1.501 |"}[style]
    assert expected in run.stdout


def test_where_the_process_that_writes_meshes_is_ended_a_sentence_says_so_and_nothing_is_left(tmp_path):
    """As the system does where memory runs out; the run is not to blame, and no half a folder stays."""
    ends_at("trimesh", tmp_path)
    run = sweep(
        "run", SCENES / "stopped-cove.toml", "--no-pictures", folder=tmp_path, PYTHONPATH=f"{SCENES.parent}:{tmp_path}"
    )

    assert run.returncode == 2
    assert run.stderr.decode().startswith("error: ")
    assert "ended from outside" in run.stderr.decode()
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())


def test_wrong_input_ends_in_one_sentence_status_2_and_no_files(tmp_path):
    """Nothing is written, and nobody sees a traceback."""
    text = (CORNICE).read_text()
    wrongs = {
        "stock.lenght": text.replace("length =", "lenght ="),
        "passes.heights": text.replace('"4.8 mm"', '"1 mm"'),
        "setup.blade_height": text.replace('"22.5 mm"', '"15 mm"'),
        "target.width": text.replace('"60.8 mm"', '"200 mm"'),
        "stock.width": text.replace('"92 mm"', "92"),
        "nothing.toml": "",
    }
    for field, content in wrongs.items():
        (tmp_path / "nothing.toml").write_text(content)
        run = sweep_here("run", "nothing.toml", folder=tmp_path)

        assert run.returncode == 2
        assert run.stderr.decode().startswith(f"error: {field}"), run.stderr.decode()
        assert run.stderr.count(b"\n") == 1
        assert b"Traceback" not in run.stderr
        assert [path.name for path in tmp_path.iterdir()] == ["nothing.toml"]


def test_an_option_that_makes_no_sense_is_wrong_input_too(tmp_path):
    """Status 2."""
    for words in (["--chord", "5"], ["--units", "cubits"], ["--out", "/dev/null"]):
        assert sweep_here("run", SCENES / "picture-rail.toml", *words, "--no-pictures", folder=tmp_path).returncode == 2


def ends_at(library, folder):
    """Have every process that looks for a library end at once, without a word, if the folder is on its path."""
    (folder / "sitecustomize.py").write_text(
        "import os, sys\n"
        "class Ends:\n"
        "    def find_spec(name, *_):\n"
        f"        if name.split('.')[0] == {library!r}: os.kill(os.getpid(), 9)\n"
        "sys.meta_path.insert(0, Ends)\n"
    )


def test_without_the_systems_opengl_the_run_does_everything_else(tmp_path):
    """The process that loads the rendering library ends, as it does where they are missing; a sentence names them."""
    ends_at("vtkmodules", tmp_path)
    run = sweep("run", SCENES / "stopped-cove.toml", folder=tmp_path, PYTHONPATH=f"{SCENES.parent}:{tmp_path}")

    assert run.returncode == 0, run.stderr.decode()
    assert b"libegl1 libgl1-mesa-dri" in run.stdout
    assert (tmp_path / "out" / "stopped-cove" / "finished.stl").exists()
    assert (tmp_path / "out" / "stopped-cove" / "load.png").exists()
    assert (tmp_path / "out" / "stopped-cove" / "fence.png").exists()
    assert not (tmp_path / "out" / "stopped-cove" / "passes.png").exists()
