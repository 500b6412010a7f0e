"""A new job's profile: beside it under its own name, never over another file, and refused in one sentence."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest
from demos import SCENES

from sweep.errors import SweepError
from sweep.live.new_job import begun, sketched
from sweep.live.profile import SentProfile
from sweep.scene.read import read_scene

GIVEN = {"stock": "900 x 92 x 22", "blade": "254 x 3.2 x 40", "speed": "4000"}
LINE = [["-20", "0"], ["0", "9"], ["20", "0"]]
ACROSS = [["-46", "0"], ["-30", "0"], ["0", "11"], ["30", "0"], ["46", "0"]]


def dropped(name: str, content: bytes, whole: bool = False) -> SentProfile:
    """A file as the page sends it."""
    return SentProfile(name=name, content=base64.b64encode(content).decode(), whole=whole)


def written(folder: Path) -> dict[str, bytes]:
    """What lies in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_a_dropped_file_lies_beside_its_job_byte_for_byte_and_is_shared_by_the_next(tmp_path):
    """Another of the same name is refused and replaces nothing; so is a job whose name is taken."""
    content = (SCENES / "tilted-cove.csv").read_bytes()
    begun(tmp_path, "one", GIVEN, False, dropped("my cove.CSV", content))
    begun(tmp_path, "two", GIVEN, False, dropped("my cove.CSV", content))
    before = written(tmp_path)
    for name, profile in (("three", dropped("my cove.CSV", b"-9,0\n0,4\n9,0\n")), ("two", SentProfile(points=LINE))):
        with pytest.raises(SweepError, match="already, and it stays"):
            begun(tmp_path, name, GIVEN, False, profile)

    assert (written(tmp_path), set(before)) == (before, {"one.toml", "two.toml", "my cove.CSV"})
    assert before["my cove.CSV"] == content
    assert read_scene(tmp_path / "two.toml").target == read_scene(tmp_path / "one.toml").target


def test_a_drawn_profile_keeps_inches_and_one_of_a_whole_moulding_waits_for_its_set_ups(tmp_path):
    """Fractions stand in the file as they were drawn."""
    line = [["-1 3/8", "0"], ["1/16 in", "7/16"], ["1.375", "0 mm"]]
    begun(
        tmp_path,
        "inch",
        {"stock": "36 x 3 1/2 x 7/8", "blade": "10 x 1/8 x 40", "speed": "3450"},
        True,
        SentProfile(points=line),
    )
    begun(tmp_path, "whole", GIVEN, False, SentProfile(points=ACROSS, whole=True))

    assert (tmp_path / "inch.csv").read_text() == "y in,z in\n-1 3/8,0\n1/16,7/16\n1 3/8,0\n"
    assert read_scene(tmp_path / "inch.toml").target.size == pytest.approx((2.75 * 25.4, 7 / 16 * 25.4))
    assert read_scene(tmp_path / "whole.toml").lacks_setups


@pytest.mark.parametrize(
    ("profile", "says"),
    [
        (dropped("../../x.csv", b"\0\xff\xfe"), "UTF-8"),
        (dropped("x.exe", b"1,2"), "no file of a profile"),
        (dropped(".svg", b""), "no file of a profile"),
        (dropped("x.svg", b"<svg xmlns='http://www.w3.org/2000/svg'/>"), "line"),
        (dropped("x.csv", b"1,2\nnan,3\n"), "oint 2 is 'nan,3'"),
        (SentProfile(name="x.csv", content="!"), "did not come whole"),
    ],
)
def test_a_file_that_has_no_profile_is_refused_in_its_place_and_nothing_is_written(tmp_path, profile, says):
    """As it is looked at, and as the job is begun."""
    answer = json.loads(sketched(tmp_path, GIVEN, False, profile))
    assert says in answer["refused"]["profile"]
    assert "/" not in answer["refused"]["profile"]
    with pytest.raises(SweepError, match=says):
        begun(tmp_path, "job", GIVEN, False, profile)
    assert written(tmp_path) == {}


def test_a_blade_of_which_the_shop_says_a_part_is_asked_for(tmp_path):
    """A mark alone is no blade; one that is whole, or a list of them, is."""
    given = {"stock": GIVEN["stock"], "speed": "4000", "width": "56", "depth": "14"}
    for blade, missing in (
        ('[blade]\nmax_speed = "7000 rpm"\n', ["blade"]),
        ('[blade]\nteeth = 40\ndiameter = "254 mm"\nkerf = "3.2 mm"\n', []),
        ('[[blades]]\nname = "a"\nteeth = 40\ndiameter = "254 mm"\nkerf = "3.2 mm"\n', []),
    ):
        (tmp_path / "shop.toml").write_text(blade)
        assert json.loads(sketched(tmp_path, given, False))["missing"] == missing


def test_points_that_are_none_are_told_one_by_one(tmp_path):
    """And the section comes once all can be."""
    wrong = SentProfile(points=[["-20", "0"], ["0", "high"], ["20", "0"]])
    answer = json.loads(sketched(tmp_path, GIVEN, False, wrong))
    assert set(answer["profile"]["wrong"]) == {"1"}
    assert answer["section"] == ""
    answer = json.loads(sketched(tmp_path, GIVEN, False, SentProfile(points=LINE)))
    assert (answer["profile"]["points"], answer["profile"]["sides"]) == ([[-20, 0], [0, 9], [20, 0]], [92, 22])
    assert answer["section"].startswith("<svg")
    with pytest.raises(SweepError, match="some of its points"):
        begun(tmp_path, "job", GIVEN, False, wrong)
