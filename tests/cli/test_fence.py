"""`sweep fence` as a stranger meets it, and the same figures in `result.json`."""

from __future__ import annotations

import json

import pytest
from demos import CORNICE, SCENES
from terminal import sweep_here


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
def test_the_fence_of_a_scene_is_told_in_plain_ascii_and_in_the_units_asked(tmp_path, style):
    """The table of distances, strips, block, pull and room, through a narrow pipe; nothing is written."""
    run = sweep_here(
        "fence", SCENES / "picture-rail.toml", "--units", style,
        folder=tmp_path, PYTHONIOENCODING="ascii", COLUMNS="40", LC_ALL="C",
    )  # fmt: skip
    # 14 1/2 tan(21 3/8 deg) - 1 1/4 / cos(21 3/8 deg) = 4.333 in
    expected = {"mm": b"110.1 mm left", "in": b"4 21/64 in left", "in-decimal": b"4.33 in left"}[style]

    assert run.returncode == 0, run.stderr.decode()
    assert expected in run.stdout
    for words in (b"Parallel strips", b"Set-up block", b"clear of the fence", b"throat plate"):
        assert words in run.stdout
    assert (b" mm" in run.stdout) == (style == "mm")
    assert b"not permission to cut" in b" ".join(run.stdout.split())
    assert list(tmp_path.iterdir()) == []


def test_a_scene_without_a_table_is_measured_beside_the_blade(tmp_path):
    """At round figures of its maker's units; what fits the table is not judged, and it says so."""
    metric = sweep_here("fence", SCENES / "tilted-cove.toml", folder=tmp_path).stdout.decode()
    inches = sweep_here("fence", SCENES / "tilted-cove.toml", "--units", "in", folder=tmp_path).stdout.decode()

    assert "250.0 mm before the blade's centre" in metric
    assert "10 in before the blade's centre" in inches
    assert "saw.table_depth" in metric


def test_what_does_not_fit_is_flagged_and_ends_in_status_1(tmp_path):
    """A short fence on a saw with no stands; wrong input is status 2."""
    text = (CORNICE).read_text().replace('support_after = "500 mm"\n', "")
    (tmp_path / "scene.toml").write_text(text + '\n[fence]\nlength = "500 mm"\n')
    run = sweep_here("fence", "scene.toml", folder=tmp_path)

    assert run.returncode == 1
    assert b"(fence-short)" in run.stdout
    assert b"(stock-unsupported)" in run.stdout
    (tmp_path / "scene.toml").write_text(text.replace('table_width = "1020 mm"\n', ""))
    wrong = sweep_here("fence", "scene.toml", folder=tmp_path)
    assert (wrong.returncode, wrong.stdout) == (2, b"")
    assert wrong.stderr.startswith(b"error: saw.table_width: it is missing")


def test_a_scene_that_is_not_set_up_is_solved_first(tmp_path):
    """Then the fence of what was found is told."""
    run = sweep_here("fence", SCENES / "arc-from-drawing.toml", folder=tmp_path)

    assert run.returncode == 0, run.stderr.decode()
    assert b"Parallel strips" in run.stdout


def test_a_run_leaves_the_same_figures_in_its_numbers(tmp_path, told):
    """Distances, gap and touches, with their units in their names."""
    said = sweep_here("fence", CORNICE, folder=tmp_path).stdout.decode()
    fence = json.loads((told("corner-cupboard-cornice")[1] / "result.json").read_text())["fence"]

    for line in ("face", "other_edge"):
        for mark in fence[line]["marks"]:
            assert f"{abs(mark['x_mm']):.1f} mm" in said
            assert all(f"{abs(distance):.1f} mm" in said for distance in mark["from_slots_mm"])
    assert f"{fence['strips']['gap_mm']:.2f} mm apart" in said
    for touch in fence["touches"]:
        assert f"{touch['from_fence_mm']:.2f} mm" in said
    assert f"{fence['throat_length_needed_mm']:.1f} mm long" in said
    assert f"{fence['fence_length_needed_mm']:.1f} mm long" in said
