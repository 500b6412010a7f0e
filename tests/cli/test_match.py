"""`sweep match` as a stranger meets it, on the demo's offcut."""

from __future__ import annotations

import pytest
from demos import CORNICE, SCENES
from terminal import sweep, sweep_here

OFFCUT = SCENES / "measured-offcut.csv"


@pytest.mark.parametrize("blade", [["--diameter", "254 mm", "--kerf", "3.2 mm"], ["--blade", CORNICE]])
def test_the_demo_offcut_is_matched(tmp_path, blade):
    """25 deg and 13 mm, as it was invented, whichever way the blade is given."""
    run = sweep_here("match", OFFCUT, *blade, folder=tmp_path)
    text = run.stdout.decode()

    assert run.returncode == 0, run.stderr
    assert "25.00 deg" in text
    assert "13.01 mm" in text
    assert "This blade can have cut it" in text
    assert list(tmp_path.iterdir()) == []


def test_an_outline_of_another_blade_is_refused(tmp_path):
    """A half circle: status 1 and a sentence that stands out."""
    rows = "".join(f"{y / 10},{(20**2 - (y / 10) ** 2) ** 0.5:.3f}\n" for y in range(-200, 201, 8))
    flats = "".join(f"{side * (21 + k)},0\n" for side in (-1, 1) for k in range(6))
    (tmp_path / "points.csv").write_text(rows + flats)
    run = sweep("match", "points.csv", "--diameter", "254 mm", "--kerf", "3.2 mm", folder=tmp_path)

    assert run.returncode == 1, run.stderr
    assert b"! NOT an outline of this blade" in run.stdout


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["none.csv", "--diameter", "254 mm", "--kerf", "3.2 mm"], b"none.csv: there is no such file"),
        ([OFFCUT, "--diameter", "254", "--kerf", "3.2 mm"], b"diameter: '254' has no unit"),
        ([OFFCUT, "--diameter", "254 mm"], b"blade.kerf: it is missing"),
        ([OFFCUT, "--blade", OFFCUT], b"this is not TOML"),
        ([OFFCUT, "--diameter", "254 mm", "--kerf", "3.2 mm", "--accuracy", "0.1"], b"--accuracy: '0.1' has no unit"),
    ],
)
def test_wrong_input_ends_in_one_sentence_and_status_2(tmp_path, words, says):
    """Naming what cannot be used."""
    run = sweep_here("match", *words, folder=tmp_path)

    assert run.returncode == 2
    assert says in run.stderr
    assert b"Traceback" not in run.stderr
