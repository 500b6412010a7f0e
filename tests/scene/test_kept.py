"""What was made, in a scene, and the file that a phone leaves: read as it is written, and refused in one sentence."""

from __future__ import annotations

import pytest
from demos import cornice_with

from sweep.errors import SceneError
from sweep.scene.read import scene_from
from sweep.scene.record import read_record

RECORD = """
record = 1
title = "Corner cupboard, cornice cove"
date = "2026-11-26"
block = "no. 14"
notes = "the fence came off a hair"
steps = 44
ticked = [1, 2, 3]
counted = [5, 5, 4]

[[measured]]
after_pass = 5
width = "51.9 mm"
depth = "7/16 in"

[[measured]]
points = [[-40, 0], [0, 16.5]]
accuracy = "0.05 mm"
"""


def test_what_a_phone_wrote_down_is_read_as_it_stands(tmp_path):
    """Lengths in mm and in inches, and the tables as they are written for whoever copies them."""
    path = tmp_path / "record.toml"
    path.write_text(RECORD)
    record, tables = read_record(path)

    assert (record.title, record.date, record.ticked, record.counted) == (
        "Corner cupboard, cornice cove",
        "2026-11-26",
        (1, 2, 3),
        (5, 5, 4),
    )
    assert [one.after_pass for one in record.measured] == [5, None]
    assert record.measured[0].depth == pytest.approx(7 / 16 * 25.4)
    assert [one.accuracy for one in record.measured] == [0.1, 0.05]
    assert tables[0] == {"after_pass": 5, "width": "51.9 mm", "depth": "7/16 in"}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the file is empty"),
        ("record = 2", ", record: '2' is not known here; write 1."),
        ("title = 'x'", ": this is no record of a phone at the saw; give the file that it wrote down."),
        ("record = 1\ntick = [1]", ", tick: there is no such key; the nearest known key is ticked."),
        ("record = 1\nticked = [0]", ", ticked, number 1: 0 is less than 1"),
        (f"record = 1\nticked = [{'1,' * 3000}]", ", ticked: there are more than 2000 in it"),
        (f"record = 1\nticked = {'[' * 5000}", ": this is not TOML"),
        (f"record = 1\nsteps = {'9' * 5000}", ": this is not TOML"),
        ('record = 1\ndate = "2026-13-45"', ", date: '2026-13-45' is no date; write year, month and day"),
        ("record = 1\ndate = 2026-11-26", ", date: this is not what belongs here; write text in quotation marks."),
        ('record = 1\nnotes = "a\\u202eb"', ", notes: its character number 2 is U+202E"),
        ('record = 1\n[[measured]]\nwidth = "60.9"', ", measured.width, number 1: '60.9' has no unit"),
        ("record = 1\n[[measured]]\nafter_pass = 3", ", measured: nothing is measured in it"),
        ('record = 1\n[[measured]]\nwidht = "6 mm"', "there is no such key; the nearest known key is width."),
        ("record = 1\n[[measured]]\npoints = [[1, nan]]", "nan is no number"),
        ('record = 1\n[measured]\nwidth = "60.9 mm"', "write [[measured]] above each"),
        ("record = 1\nmeasured = 3", ", measured: this is not what belongs here; write a list in square brackets."),
    ],
)
def test_a_record_that_no_phone_of_ours_left_is_refused_in_one_sentence(tmp_path, text, says):
    """Whatever is in it, naming the file."""
    path = tmp_path / "record.toml"
    path.write_text(text)
    with pytest.raises(SceneError) as wrong:
        read_record(path)

    assert str(wrong.value).startswith(str(path))
    assert says in str(wrong.value)


def test_a_kept_scene_holds_what_was_measured_and_is_cut_as_before():
    """No figure follows from what is kept beside it."""
    tables = cornice_with()
    measured = [{"width": "60.9 mm"}, {"depth": "16.1 mm", "accuracy": "0.05 mm"}]
    kept = scene_from(tables | {"kept": {"date": "2026-11-26"}, "measured": measured})
    plain = scene_from(tables)

    assert kept.kept.date == "2026-11-26"
    assert [one.width for one in kept.measured] == [60.9, None]
    assert kept.model_copy(update={"kept": None, "measured": ()}) == plain
