"""The shop sheet of several set-ups: the whole job, and each set-up with all that one alone has."""

from __future__ import annotations

import random
import re
from dataclasses import replace

import numpy as np
import pytest
from demos import SEVERAL
from fuzz.scenes import whole_scene
from printed import SMALL_SHEET, Sheet, cropped, level_lines, typed, upright_lines
from reports import COARSE, setups_report_of

from sweep.check.setups import judge_setups
from sweep.cut.moulding import mould
from sweep.errors import SweepError
from sweep.plan.complete import plan_setups
from sweep.scene.read import scene_from
from sweep.show.say.cautions import cautions
from sweep.show.say.flags import sentence_of
from sweep.show.say.passes import pass_rows
from sweep.show.say.setups import SetupsReport, how_it_lies
from sweep.show.sheet.pdf import write_sheet
from sweep.units import Units

PAPERS = [("mm", "a4"), ("in", "letter")]


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    """A function that returns the report of a demo scene and its sheet, made once."""
    made = {}

    def sheet(name: str, style: str, paper: str) -> tuple[SetupsReport, Sheet]:
        if (name, style, paper) not in made:
            report = replace(setups_report_of(name), units=Units(style))
            path = tmp_path_factory.mktemp("sheets") / "sheet.pdf"
            write_sheet(path, report, paper, f"{name}.toml")
            assert path.stat().st_size < SMALL_SHEET
            made[name, style, paper] = report, Sheet(path)
        return made[name, style, paper]

    return sheet


def page_of(sheet: Sheet, words: str) -> int:
    """The first page that has some words."""
    return next(page for page in range(sheet.pages) if words in sheet.text(page))


def is_worth_its_paper(sheet: Sheet, page: int) -> bool:
    """Whether a page has ten lines at least, or the templates."""
    return sheet.lines(page) >= 10 or "Before, the cut drawn on it" in sheet.text(page)


def unbroken(words: str) -> str:
    """Letters and figures alone: a line may be broken behind a hyphen."""
    return re.sub(r"\W", "", typed(words))


@pytest.mark.parametrize(("style", "paper"), PAPERS)
@pytest.mark.parametrize("name", SEVERAL)
def test_every_set_up_has_one_page_with_its_settings_passes_flags_and_templates(sheets, name, style, paper):
    """In the maker's units, one after the other; its steps and cautions stand before; no page of a line or two."""
    report, sheet = sheets(name, style, paper)
    settings, units = report.moulding.settings, report.units
    for page in range(sheet.pages):
        assert sheet.beyond(page, 4.0) == ""
        assert is_worth_its_paper(sheet, page)
        assert "not permission to cut" in sheet.text(page)
    for setting in settings:
        assert typed(f"{setting.asked.place}. {setting.name}") in sheet.text(0)
    pages = []
    for one, setting in zip(report.reports, settings, strict=True):
        page = page_of(sheet, f"page of set-up {setting.asked.place} of {len(settings)}")
        text = sheet.text(page)
        assert typed(f"stock {how_it_lies(setting)}") in text
        for row in pass_rows(one.outcome, units):
            assert f" {row.number} {row.height.bare} {row.rise.bare} {row.feed.bare} " in text
        assert "Before, the cut drawn on it" in text and "After: what goes on" in text
        for flag in one.flags:
            assert unbroken(sentence_of(flag, units)) in unbroken(text)
        pages.append(page)
        told = [f"{step.number} {step.name}." for step in one.steps]
        told += [step.words for step in one.steps]
        told += [caution.words for caution in cautions(one.scene, one.layout, units)]
        before = unbroken("".join(map(sheet.text, range(1, pages[0]))))
        assert [words for words in told if unbroken(words) not in before] == []
    assert pages == list(range(pages[0], pages[0] + len(settings)))
    assert sheet.pages <= 6 + len(settings) and pages[-1] == sheet.pages - 2
    assert "Record of the set-up" in sheet.text(sheet.pages - 1)


@pytest.mark.parametrize(("style", "paper"), PAPERS)
def test_the_end_is_drawn_at_full_size_before_and_after_each_set_up(sheets, style, paper):
    """Base of two coves, 4 in by 1 1/4 in: the stock's sides to 0.1 mm, and the cove of 1/2 in left of what goes on."""
    _, sheet = sheets("base-of-two-coves", style, paper)
    page = page_of(sheet, "Before, the cut drawn on it")
    left, foot = sheet.place(page, "After: what goes on")
    drawn = cropped(sheet.pixels(page), left - 1, foot + 0.5, 101.6 + 14, 31.75 + 9)
    sides = [line[0] for line in upright_lines(drawn, 30)]
    (top, start, end), *_ = level_lines(drawn, 100)
    column = drawn[:, round((sides[0] + 50.8 + 15.875) * 20)]  # the cove's middle is 5/8 in right of the stock's
    levels = np.flatnonzero(column) / 20 - top
    roof = levels[(levels > 5) & (levels < 30)]

    assert np.diff(sides) == pytest.approx([101.6], abs=0.1)
    assert end - start == pytest.approx(101.6, abs=0.4)
    assert roof.mean() == pytest.approx(31.75 - 12.7, abs=0.15)


@pytest.mark.parametrize(("seed", "begin"), [(1, 2), (4, 8), (5, 1)])
def test_no_page_of_a_random_sheet_holds_a_line_or_two(seed, begin, tmp_path):
    """Random set-ups, on stock wider than the page too: ten lines a page, and none in its margins."""
    chance, report, number = random.Random(seed), None, 0
    while report is None:  # about half of them can be cut; those before `begin` are known for taking long to be refused
        table = whole_scene(chance, {})
        number += "setups" in table
        if "setups" not in table or number < begin:
            continue
        try:
            scene = scene_from(table)
            planned = plan_setups(scene)
            moulding = mould(scene, [one.setting for one in planned], COARSE)
            told = SetupsReport(judge_setups(moulding), planned, Units("in" if seed % 2 else "mm"))
            told.cut_list  # noqa: B018  refused where passes stop
        except SweepError:
            continue
        report = told
    write_sheet(tmp_path / "sheet.pdf", report, "letter" if seed % 2 else "a4", "job.toml")
    sheet = Sheet(tmp_path / "sheet.pdf")

    for page in range(sheet.pages):
        assert is_worth_its_paper(sheet, page)
        assert sheet.beyond(page, 4.0) == ""
