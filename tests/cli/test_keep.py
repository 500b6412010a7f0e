"""`sweep keep`: a kept job is read again and makes the same moulding, and nothing is ever written over."""

from __future__ import annotations

import threading

import pytest
from demos import SCENES
from terminal import sweep_here

from sweep.plan.complete import complete, plan_setups
from sweep.scene.keep import put_by
from sweep.scene.read import read_scene

DAY = "2026-11-26"
SHOP = """
[saw]
lift_per_turn = "5 mm"
[limits]
rise = "2 mm"
"""


def kept(folder, scene, *words):
    """Copy a demo scene with what it names and the shop into a folder, keep it, and return the kept file."""
    for path in [*SCENES.glob("*.csv"), *SCENES.glob("*.svg"), *SCENES.glob("*.dxf"), SCENES / f"{scene}.toml"]:
        (folder / path.name).write_bytes(path.read_bytes())
    (folder / "shop.toml").write_text(SHOP)
    run = sweep_here("keep", f"{scene}.toml", "--date", DAY, *words, folder=folder)

    assert (run.returncode, run.stderr) == (0, b"")
    return folder / "record" / f"{scene}-{DAY}.toml"


@pytest.mark.parametrize("scene", ["cornice-to-fit", "picture-rail", "tilted-cove", "stopped-cove"])
def test_a_scene_with_nothing_left_out_is_kept_as_it_is_with_what_its_shop_says(tmp_path, scene):
    """The kept one has every value of the job's, though no shop stands beside it; points stand in it."""
    path = kept(tmp_path, scene)
    there, here = read_scene(path), read_scene(tmp_path / f"{scene}.toml")
    if here.target is not None:
        assert there.target.file is None
        here = here.model_copy(update={"target": here.target.model_copy(update={"file": None})})

    assert (there.kept.date, there.kept.scene) == (DAY, f"{scene}.toml")
    assert there.saw.lift_per_turn == 5.0
    assert there.model_copy(update={"kept": None}) == here


def test_what_was_worked_out_is_kept_as_it_was_cut(tmp_path):
    """Set-up and passes to the last figure that a saw could be set to, whatever a later version would work out."""
    path = kept(tmp_path, "frieze-by-marks")
    there, here = read_scene(path), complete(read_scene(tmp_path / "frieze-by-marks.toml")).scene

    assert there.tool == here.tool
    assert there.setup.fence_angle == pytest.approx(here.setup.fence_angle, abs=1e-6)
    assert there.setup.blade_height == pytest.approx(here.setup.blade_height, abs=1e-4)
    assert there.passes.heights == pytest.approx(here.passes.heights, abs=1e-4)


def test_the_passes_of_several_set_ups_are_kept(tmp_path):
    """Those that were planned are written, and planned no more."""
    path = kept(tmp_path, "base-of-two-coves")
    there, here = (plan_setups(read_scene(one)) for one in (path, tmp_path / "base-of-two-coves.toml"))

    assert [one.plan for one in there if one.setting.asked.setup.do == "cove"] == [None, None]
    for one, other in zip(there, here, strict=True):
        assert one.scene.passes.heights == pytest.approx(other.scene.passes.heights, abs=1e-4)


def test_every_comment_is_kept_and_what_was_measured_is_told(tmp_path):
    """From the options and from what a phone wrote down."""
    (tmp_path / "phone.toml").write_text(
        'record = 1\ntitle = "Corner cupboard, cornice cove"\ndate = "2026-11-25"\nsteps = 44\nticked = [1, 2]\n'
        'notes = "cherry"\n[[measured]]\nafter_pass = 5\nwidth = "51.9 mm"\n'
    )
    (tmp_path / "points.csv").write_text("y,z\n-30.4,0\n0,16\n30.4,0\n")
    words = ["--record", "phone.toml", "--width", "60.9 mm", "--points", "points.csv", "--block", "no. 14"]
    path = kept(tmp_path, "corner-cupboard-cornice", *words)
    text, scene = path.read_text(), read_scene(path)
    comments = [line for line in (SCENES / "corner-cupboard-cornice.toml").read_text().splitlines() if "#" in line]

    assert comments and all(line in text.splitlines() for line in comments)
    assert (scene.kept.block, scene.kept.notes, scene.kept.date) == ("no. 14", "cherry", DAY)
    assert [one.after_pass for one in scene.measured] == [5, None]
    assert scene.measured[1].width == 60.9
    assert scene.measured[1].points == ((-30.4, 0.0), (0.0, 16.0), (30.4, 0.0))


def test_a_job_kept_twice_stands_there_twice(tmp_path):
    """The first one stays as it was; a kept job that is kept again goes into the record it stands in."""
    first = kept(tmp_path, "corner-cupboard-cornice")
    before = first.read_bytes()
    kept(tmp_path, "corner-cupboard-cornice", "--notes", "again")
    run = sweep_here("keep", first, "--date", "2026-12-01", folder=tmp_path)

    assert run.returncode == 0, run.stderr
    assert first.read_bytes() == before
    assert sorted(path.name for path in first.parent.iterdir()) == [
        "corner-cupboard-cornice-2026-11-26-2.toml",
        "corner-cupboard-cornice-2026-11-26-2026-12-01.toml",
        "corner-cupboard-cornice-2026-11-26.toml",
    ]


def test_many_who_keep_at_once_lose_nothing(tmp_path):
    """Each text stands in a file of its own."""
    texts = [f"# {number}\n" for number in range(24)]
    threads = [threading.Thread(target=put_by, args=(tmp_path / "record", "job", text)) for text in texts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert sorted(path.read_text() for path in (tmp_path / "record").iterdir()) == sorted(texts)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--date", "yesterday"], b"kept.date: 'yesterday' is no date; write year, month and day"),
        (["--width", "60.9"], b"measured.width, number 1: '60.9' has no unit"),
        (["--width", "93 mm"], b"--width: 93 mm cannot be: the stock is 92 mm there"),
        (["--width", "60 mm", "--pass", "9"], b"--pass: there is no pass 9; write 1 to 8"),
        (["--accuracy", "0.1 mm"], b"measured: nothing is measured in it"),
        (["--points", "none.csv"], b"none.csv: there is no such file"),
        (["--notes", "a\nb"], b"kept.notes: its character number 2 is U+000A"),
        (["--into", "shop"], b"--into: there is a shop.toml in shop, which would have a say in kept jobs"),
        (["--into", "file"], b"--into: file cannot be written"),
        (["--into", "no/such/place"], b"--into: no/such/place cannot be written"),
        (["--record", "phone.toml"], b"phone.toml, title: the record is of 'Frieze', and the scene is 'Corner"),
    ],
)
def test_what_cannot_be_kept_ends_in_one_sentence_and_nothing_is_left(tmp_path, words, says):
    """Naming what to write instead."""
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "shop.toml").write_text("")
    (tmp_path / "file").write_text("")
    (tmp_path / "phone.toml").write_text('record = 1\ntitle = "Frieze"\n')
    (tmp_path / "job.toml").write_bytes((SCENES / "corner-cupboard-cornice.toml").read_bytes())
    before = sorted(tmp_path.rglob("*"))
    run = sweep_here("keep", "job.toml", *words, folder=tmp_path)

    assert (run.returncode, run.stdout) == (2, b"")
    assert says in run.stderr
    assert sorted(tmp_path.rglob("*")) == before
