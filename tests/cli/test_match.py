"""`sweep match` as a stranger meets it, on the demo's offcut."""

from __future__ import annotations

import pytest
from demos import CORNICE, SCENES
from terminal import sweep, sweep_here

from sweep.show.say.numbers.match import BladesAnswer

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


RACK = """
[saw]
max_height = "80 mm"

[[blades]]
name = "ten inch"
teeth = 40
diameter = "254 mm"
kerf = "3.2 mm"

[[blades]]
name = "eight inch"
teeth = 24
diameter = "203 mm"
kerf = "3 mm"

[[blades]]
name = "round nose"
teeth = 2
profile = [[-6, 20], [0, 26], [6, 20]]
"""


@pytest.mark.parametrize("where", ["beside", "here", "named"])
def test_without_a_blade_every_one_of_the_shop_is_tried(tmp_path, where):
    """The shop beside the points, or in the current folder, or the one that is named."""
    points, here = tmp_path / "points", tmp_path / "here"
    points.mkdir(), here.mkdir()
    (points / "offcut.csv").write_bytes(OFFCUT.read_bytes())
    place = {"beside": points / "shop.toml", "here": here / "shop.toml", "named": tmp_path / "rack.toml"}[where]
    place.write_text(RACK)
    words = ["--shop", place] if where == "named" else []
    run = sweep_here("match", points / "offcut.csv", *words, folder=here)
    text = run.stdout.decode()

    assert run.returncode == 0, run.stderr
    assert text.index("'ten inch'") < text.index("'eight inch'") < text.index("'round nose'")
    assert "'round nose' cannot: at its closest, " in text
    assert "Diameters are hard to tell apart. 'ten inch' and 'eight inch', each set as above" in text
    assert "25.00 deg" in text[text.index("With 'ten inch':") :]


def test_what_is_said_of_several_blades_is_said_in_numbers(tmp_path):
    """The same order, and why one cannot."""
    (tmp_path / "shop.toml").write_text(RACK)
    run = sweep_here("match", OFFCUT, "--json", folder=tmp_path)
    answer = BladesAnswer.model_validate_json(run.stdout)

    assert [(one.blade, one.can) for one in answer.blades] == [
        ("ten inch", True),
        ("eight inch", True),
        ("round nose", False),
    ]
    assert answer.blades[0].fence_angle.value_deg == pytest.approx(25, abs=0.05)
    assert 0.2 < answer.likeness.mistaken < 0.5
    assert answer.likeness.needed_accuracy_mm < 0.1


@pytest.mark.parametrize(
    ("shop", "words", "says"),
    [
        (None, [], b"--blade: no blade is given, and there is no shop.toml beside the points or here"),
        (RACK, ["--shop", "shop.toml", "--diameter", "10 in"], b"--blade: blades are given in two ways"),
        (None, ["--shop", "rack.toml"], b"rack.toml: there is no such file"),
        ("[saw]\nspeed = '4000 rpm'\n", [], b"shop.toml, blades: it has no blade"),
        ("[stock]\n", [], b"shop.toml, stock: a shop has no such table"),
        (RACK.replace('name = "ten inch"\n', ""), [], b"shop.toml, blades: each needs a name of its own"),
        (RACK.replace('"3 mm"', '"3"'), [], b"shop.toml, blades.kerf, number 2: '3' has no unit"),
        (RACK.replace('kerf = "3 mm"\n', ""), [], b"shop.toml, blade.kerf: it is missing"),
        (RACK.replace('"80 mm"', '"80 m"'), [], b"shop.toml, max_height: '80 m' is more than"),
    ],
)
def test_a_shop_that_cannot_be_tried_ends_in_one_sentence(tmp_path, shop, words, says):
    """Naming its file and what to write."""
    if shop is not None:
        (tmp_path / "shop.toml").write_text(shop)
    run = sweep_here("match", OFFCUT, *words, folder=tmp_path)

    assert (run.returncode, run.stdout) == (2, b"")
    assert says in run.stderr
