"""The cautions: worded in one file, and told by whatever shows a job."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from reports import report_of
from sent import held_in

import sweep
from sweep.cli import main
from sweep.show.draw.dimensioned_plan import plan_drawing, table_plan
from sweep.show.draw.fence_sketch import fence_sketch
from sweep.show.draw.forces import forces_drawing
from sweep.show.page.page import removal_of, write_removal
from sweep.show.say import cautions
from sweep.show.say.fence import clear_sentence, lines_of, pull_sentence
from sweep.units import Units

PACKAGE = Path(sweep.__file__).parent
WORDED = re.compile(r"permission\s+to\s+cut|qualified\s+instruction|unplug\s+the\s+saw|take\s+fingers", re.IGNORECASE)


def test_no_other_file_of_the_package_words_a_caution():
    """Code, templates and scripts take theirs from `cautions.py`, so that one change reaches all."""
    texts = [path for path in PACKAGE.rglob("*") if path.suffix in {".py", ".html", ".js", ".typ", ".css"}]
    worded = [path.name for path in texts if WORDED.search(re.sub(r'"\s*\n\s*f?"', "", path.read_text("utf-8")))]

    assert len(texts) > 200
    assert worded == ["cautions.py"]


def test_the_help_and_the_page_tell_them(tmp_path):
    """The command line in a sentence; the page in a line at its head and in a paragraph below."""
    helped = CliRunner().invoke(main, ["--help"]).output
    write_removal(tmp_path / "removal.html", removal_of(report_of("corner-cupboard-cornice")))
    page = (tmp_path / "removal.html").read_text("utf-8")

    assert cautions.SENTENCE in " ".join(helped.split())
    assert f"<strong>{cautions.LINE}</strong>" in page
    assert held_in(tmp_path / "removal.html")["model"]["cautions"] == cautions.PARAGRAPH


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "off-the-edge"])
def test_a_second_fence_is_drawn_and_ordered_only_where_the_blade_leaves_room_for_it(name):
    """The cove of the shelf edge runs off the stock's other edge, where a second fence would stand."""
    report, units = report_of(name), Units()
    scene, layout = report.scene, report.layout
    drawings = [
        plan_drawing(table_plan(scene, layout, units), 5),
        fence_sketch(scene, layout, units, 90.0, 90.0),
        forces_drawing(scene, (), units, 90.0, 60.0),
    ]
    drawn = str(drawings)
    told = " ".join(one.words for one in (*cautions.cautions(scene, layout, units), *report.steps))
    room = name == "corner-cupboard-cornice"

    assert ("second fence" in drawn) is room
    assert sum(str(one).count("'dashed'") for one in drawings) == (3 if room else 0)
    assert [title for title, _ in lines_of(layout)] == ["face of the fence", "other edge of the stock"][: 1 + room]
    assert ("fences on both sides" in told.lower()) is room
    assert ("No second fence" in told) is not room
    for said in (pull_sentence(layout, report.job.loads, units), clear_sentence(layout, units)):
        assert ("from both sides" in said or "clear of a second fence" in said) is room
