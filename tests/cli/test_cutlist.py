"""`sweep cutlist` as a stranger meets it."""

from __future__ import annotations

import json

import pytest
from demos import CORNICE, SCENES
from terminal import sweep_here, told_here

ORDER = '\n[order]\nrectangle = ["600 mm", "320 mm"]\nsides = 3\nboards = ["2.4 m"]\n'
PANEL = (
    '\n[panel]\nspecies = "white oak"\nwidth = "300 mm"\nmoisture = ["6 %", "12 %"]\n'
    'moisture_at_fitting = "9 %"\nlip = "8 mm"\ngap = "{gap} mm"\n'
)


def scene_with(folder, *sections: str) -> str:
    """Write the cornice with more sections."""
    text = (CORNICE).read_text()
    (folder / "mine.toml").write_text(text + "".join(sections))
    return "mine.toml"


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
def test_the_picture_rails_list_fits_any_terminal(tmp_path, style):
    """ASCII, 40 columns, in each of the units; no figure is lost."""
    run = sweep_here(
        "cutlist", SCENES / "picture-rail.toml", "--units", style,
        folder=tmp_path, PYTHONIOENCODING="ascii", COLUMNS="40", LC_ALL="C",
    )  # fmt: skip

    assert run.returncode == 0, run.stderr.decode()
    assert run.stdout.isascii()
    assert {"mm": b"1003.3 mm", "in": b"39 1/2 in", "in-decimal": b"39.50 in"}[style] in run.stdout
    assert b"1 of them spare" in run.stdout
    assert b"not permission to cut" in b" ".join(run.stdout.split())
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("gap", "status"), [(4, 0), (1, 1)])
def test_what_is_printed_is_in_the_result_and_flagged_there_too(tmp_path, gap, status):
    """The same panel, list and exit status from `cutlist` and from `run`."""
    scene = scene_with(tmp_path, ORDER, PANEL.format(gap=gap))
    listed, run = sweep_here("cutlist", scene, folder=tmp_path), told_here(scene, folder=tmp_path)
    result = json.loads((tmp_path / "out" / "mine" / "result.json").read_text())

    assert (listed.returncode, run.returncode) == (status, status), listed.stderr + run.stderr
    assert (b"(gap-small)" in listed.stdout) == (b"(gap-small)" in run.stdout) == (status == 1)
    assert [flag["code"] for flag in result["flags"]] == ["gap-small"] * status
    assert result["panel"]["gap_left_mm"] == pytest.approx(gap - 300 * 0.00365 * 3 / 2)
    assert [piece["length_mm"] for piece in result["cut_list"]["pieces"]] == pytest.approx([645, 342.5, 342.5])
    assert result["cut_list"]["passed"] == 3
    assert f"About {result['cut_list']['time_at_saw_s'] // 60 + 1:.0f} min at the saw".encode() in listed.stdout


def test_a_scene_that_orders_nothing_has_neither(tmp_path, told):
    """Null in the result, and one sentence from `cutlist`."""
    result = json.loads((told("stopped-cove")[1] / "result.json").read_text())
    run = sweep_here("cutlist", SCENES / "stopped-cove.toml", folder=tmp_path)

    assert (result["cut_list"], result["panel"]) == (None, None)
    assert run.returncode == 2
    assert run.stderr.startswith(b"error: order: nothing is ordered; write either lengths = [")


def test_blanks_too_short_to_pass_are_flagged(tmp_path):
    """Shorter than 300 mm."""
    text = (CORNICE).read_text().replace('"900 mm"', '"290 mm"')
    (tmp_path / "short.toml").write_text(text + '\n[order]\nlengths = ["200 mm"]\n')
    run = sweep_here("cutlist", "short.toml", folder=tmp_path)

    assert run.returncode == 1
    assert b"(stock-short)" in run.stdout
