"""The screens of a phone at the saw: what comes before what, their figures, and what they never say."""

from __future__ import annotations

import dataclasses
import math
import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from demos import SEVERAL, cornice_with
from drawn import words_of
from permission import permission_in
from reports import COARSE, report_of, setups_report_of

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.show import page
from sweep.show.draw.at_saw.picture import picture_of
from sweep.show.page.at_saw import saw_model
from sweep.show.say.at_saw.flagged import BARRING
from sweep.show.say.at_saw.job import screens_of
from sweep.show.say.cautions import cautions
from sweep.show.say.flags import sentence_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.units import MM_PER_INCH, Units

SCENES = ("cornice-to-fit", "picture-rail", "too-greedy", "stopped-cove", "off-the-edge", "base-of-two-coves")
"""Between them they have every kind of screen."""


def told(name: str) -> Report | SetupsReport:
    """The report of a demo scene."""
    return setups_report_of(name) if name in SEVERAL else report_of(name)


@pytest.mark.parametrize("name", SCENES)
def test_every_pass_is_set_cut_and_looked_at_in_its_turn_after_scrap(name):
    """Common practice: scrap goes first and is measured; every blank at a height before the blade is raised."""
    report = told(name)
    screens = screens_of(report)
    keys, kinds = [one.key for one in screens], [one.kind for one in screens]
    reports = [report] if isinstance(report, Report) else list(report.reports)

    assert len(set(keys)) == len(keys)
    assert keys[0] == "cautions"
    assert keys[-1] == "keep"
    shown = [kind for kind in kinds if kind not in ("read", "pace")]
    each = []
    for one in reports:
        bars = any(flag.code in BARRING for flag in one.flags)
        later = len(one.job.passes) - 1
        if bars:  # what is not cut is not looked at
            each += ["set", "barred", "barred"] + ["set", "barred"] * later
        else:
            each += ["set", "cut", "look", "cut"] + ["set", "cut", "look"] * later
    assert shown == each
    assert all(one.banner == "out" for one in screens if one.kind in ("set", "look", "pace", "barred"))
    assert all((one.banner == "turns") is (one.kind == "cut") for one in screens)
    assert kinds.count("pace") == len(reports)
    for before, after in pairwise(screens):
        if after.kind == "cut":
            assert before.banner == "out"


@pytest.mark.parametrize("name", SCENES)
def test_the_first_screen_has_every_flag_and_every_caution(name):
    """And every flag stands once more where it matters, but for those that only a second list would repeat."""
    report = told(name)
    first, *rest = screens_of(report)
    reports = [report] if isinstance(report, Report) else list(report.reports)
    flags = [flag for one in reports for flag in one.flags]

    assert set(flags) <= set(first.flags)
    wanted = {one.words for each in reports for one in cautions(each.scene, each.layout, each.units)}
    assert {one.words for one in first.cautions} == wanted
    assert set(flags) <= {flag for one in rest for flag in one.flags}


def test_the_pages_own_words_cannot_be_read_as_permission_either():
    """What stands between the marks of the template, and every sentence of its scripts."""
    parts = Path(page.__file__).parent / "parts"
    found = re.findall(r">([^<>{}]+)<", (parts / "at_saw.html").read_text())
    for name in ("at_saw", "saw_record", "saw_told", "pacer", "hold", "saw_page"):
        code = re.sub(r"^ *(//|/?\*).*", "", (parts / f"{name}.js").read_text(), flags=re.MULTILINE)
        found += [text[1:-1] for text in re.findall(r'"[^"\n]*"|`[^`\n]*`', code) if " " in text]
    assert len(found) > 12
    for text in found:
        assert permission_in(text) is None, text


def test_a_cornices_figures_are_those_of_a_closed_form():
    """Width at the table of a disc's oblique cut, 2 sqrt(r^2 - (r - h)^2) sin a + k cos a: plane geometry."""
    report = report_of("cornice-to-fit")
    screens = {one.key: one for one in screens_of(report)}
    radius, kerf, angle = 127.0, 3.2, math.radians(28)
    below = 0.0
    for number, height in enumerate((2.4, 4.8, 7.0, 9.0, 11.0, 13.0, 15.0, 16.0), start=1):
        width = 2 * math.sqrt(radius**2 - (radius - height) ** 2) * math.sin(angle) + kerf * math.cos(angle)
        look = screens["scrap-look" if number == 1 else f"pass-{number}-look"]
        assert look.big[0].shown == f"{width:.2f} mm"
        assert look.measure.flat == f"{(92 - width) / 2:.2f} mm"
        setting = screens[f"pass-{number}-set"].big[0]
        assert setting.shown == f"{height:.2f} mm"
        assert setting.note == (f"up {height - below:.2f} mm" if number > 1 else "up from the table")
        below = height
    assert len(screens) == 44
    assert all(screens[f"pass-{number}-cut"].count == 5 for number in range(1, 9))
    assert [big.shown for big in screens["mitre"].big] == ["35.26 deg", "30.00 deg"]


def test_turns_of_the_wheel_are_told_where_a_turn_is_known_to_lift_and_nowhere_else():
    """16 mm at 4 mm a turn is 4 turns, and from 7 to 9 mm half a turn."""
    plain = screens_of(report_of("corner-cupboard-cornice"))
    assert not any("turns" in big.note for one in plain for big in one.big)
    scene = scene_from(cornice_with(saw={"lift_per_turn": "4 mm"}))
    turned = {one.key: one for one in screens_of(Report(judge(simulate(scene, COARSE)), Units()))}
    assert "4.00 turns" in turned["height"].big[0].note
    assert turned["pass-4-set"].big[0].note == "up 2.00 mm, 0.50 turns"


def test_a_blade_too_fast_or_a_stock_too_short_takes_the_place_of_every_cut():
    """The flag's own sentence stands there; nothing on the phone leads on to a cut."""
    screens = screens_of(report_of("too-greedy"))
    barred = [one for one in screens if one.kind == "barred"]
    assert not any(one.kind == "cut" for one in screens)
    assert len(barred) == 3
    for one in barred:
        said = [sentence_of(flag, Units()) for flag in one.flags]
        assert any("do not run this blade" in sentence for sentence in said)
        assert any("too short to pass safely" in sentence for sentence in said)


def test_a_job_is_another_one_once_any_key_of_it_is_changed():
    """Ticks of the old one must not stand on the new one."""

    def job(**changed: object) -> str:
        scene = scene_from(cornice_with(passes={"heights": ["8 mm", "16 mm"]}, **changed))
        return saw_model(Report(judge(simulate(scene, COARSE)), Units()))["job"]

    assert job() == job()
    assert job() != job(setup={"fence_angle": "28.01 deg"})


def test_lengths_are_in_the_makers_units():
    """An inch scene's screens have no millimetre."""
    for one in screens_of(report_of("picture-rail")):
        for big in one.big:
            assert "mm" not in big.shown
        for words in one.words:
            assert not re.search(r"\d mm\b", words), words
    width = 2 * math.sqrt(127**2 - (127 - 3 / 8 * MM_PER_INCH) ** 2) * math.sin(math.radians(21.375))
    width += MM_PER_INCH / 8 * math.cos(math.radians(21.375))
    last = next(one for one in screens_of(report_of("picture-rail")) if one.key == "pass-6-look")
    assert last.big[0].shown == "1 1/2 in"
    assert width / MM_PER_INCH == pytest.approx(1.5, abs=1 / 128)


@pytest.mark.parametrize("name", ["base-of-two-coves", "coved-panel-edge"])
def test_no_word_of_a_picture_is_cut_off_by_its_border(name):
    """In fractions of an inch, which are long: one that is cut off at its beginning reads as another."""
    report = dataclasses.replace(setups_report_of(name), units=Units("in"))
    pictures = {one.picture for one in screens_of(report) if one.picture is not None}
    for picture in pictures:
        drawing, _ = picture_of(picture, report)
        room = shapely.box(0, 0, drawing["width"], drawing["height"]).buffer(0.3)
        assert [word.text for word in words_of(drawing) if not room.contains(word.room)] == [], picture


def test_what_is_kept_of_several_set_ups_is_drawn_whole_and_no_higher_than_it_is():
    """The outline has the section's shape: its share of the square on its width; 1.5 mm are left above and below."""
    report = setups_report_of("base-of-two-coves")
    drawn, _ = picture_of(screens_of(report)[-1].picture, report)
    rings = [np.array(ring) for part in drawn["parts"] for ring in part["rings"]]
    places, left = np.vstack(rings), report.moulding.section_before(len(report.moulding.settings))

    assert len(rings) == len(section.rings(left)) == 1
    x, y = rings[0].T
    area = abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2
    width = report.moulding.scene.stock.width
    assert area / np.ptp(x) ** 2 == pytest.approx(section.area(left) / width**2, rel=1e-3)
    assert (places[:, 1].min(), drawn["height"] - places[:, 1].max()) == pytest.approx((1.5, 1.5))
