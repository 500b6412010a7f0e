"""`sweep trace` as a stranger meets it, on the demo's picture."""

from __future__ import annotations

import pytest
from demos import SCENES
from PIL import Image
from terminal import sweep_here

PICTURE = SCENES / "cornice-end-grain.jpg"
SCALE = ["--scale", "100 mm = 1200 px"]


def test_the_demo_picture_is_traced_and_its_points_are_matched(tmp_path):
    """28 deg and 16 mm, as it was drawn; the outline lies beside the points, to look at."""
    (tmp_path / "end.jpg").write_bytes(PICTURE.read_bytes())
    run = sweep_here("trace", "end.jpg", *SCALE, folder=tmp_path)
    text = run.stdout.decode()

    assert run.returncode == 0, run.stderr
    assert "on the top of the picture; the wood is 92.0" in text
    assert "A camera held 2 deg askew draws this width 0.056 mm narrower" in text
    assert "0.036 mm (one standard deviation)" in text and "0.026 mm of it is what the JPEG's compression does" in text
    assert 'Next: sweep match end-points.csv --accuracy "0.04 mm"' in text
    with Image.open(tmp_path / "end-points-outline.png") as drawn:
        assert max(drawn.size) == 1600

    words = ["--diameter", "254 mm", "--kerf", "3.2 mm", "--tilts", "0 deg", "0 deg"]
    match = sweep_here("match", "end-points.csv", "--accuracy", "0.04 mm", *words, folder=tmp_path)
    assert match.returncode == 0, match.stderr
    assert "This blade can have cut it" in match.stdout.decode()
    before = sorted((path.name, path.read_bytes()) for path in tmp_path.iterdir())
    again = sweep_here("trace", "end.jpg", *SCALE, folder=tmp_path)
    assert (again.returncode, again.stdout) == (2, b"")
    assert b"there is end-points.csv already, and it stays" in again.stderr
    assert sorted((path.name, path.read_bytes()) for path in tmp_path.iterdir()) == before


@pytest.mark.parametrize(
    ("image", "words", "says"),
    [
        ("none.png", SCALE, b"none.png: there is no such file"),
        ("scene.png", SCALE, b"scene.png: this is neither a PNG nor a JPEG picture"),
        ("end.jpg", [], b"--scale: no scale is given"),
        ("end.jpg", ["--scale", "3 px"], b"--scale: '3 px' is no scale"),
    ],
)
def test_what_cannot_be_traced_ends_in_one_sentence_and_nothing_is_left(tmp_path, image, words, says):
    """Naming the file, or the option."""
    (tmp_path / "end.jpg").write_bytes(PICTURE.read_bytes())
    (tmp_path / "scene.png").write_text("[stock]\n")
    before = sorted(tmp_path.iterdir())
    run = sweep_here("trace", image, *words, folder=tmp_path)

    assert (run.returncode, run.stdout) == (2, b"")
    assert says in run.stderr
    assert sorted(tmp_path.iterdir()) == before
