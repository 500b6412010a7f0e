"""Several set-ups on the live page, in a real browser: each is changed, and all is what the library makes of it."""

from __future__ import annotations

import shutil
import tomllib

import pytest
from browser import opened, press, settled, shown_volume, slide, table, typed, watched
from demos import SCENES
from serving import served

from sweep.live.made import cut_whole
from sweep.show.say.passes import pass_rows, pass_table

FILE = "base-of-two-coves.toml"


def test_set_ups_are_changed_added_moved_and_saved_on_the_page(browser, tmp_path):
    """Sliders, passes, kinds, order; then the file holds what the page shows, with its comments."""
    scene = tmp_path / shutil.copy(SCENES / FILE, tmp_path)
    with served(scene) as address, watched(browser, address) as page:
        slide(page, "#pass", 99)
        opened(page, "#form-setups-0")
        slide(page, "#setups-0-blade_height-slider", 0.375)
        assert page.evaluate("[sweepPage.setups.place, sweepPage.number]") == [0, 4]  # seen at its last pass
        typed(page, "setups.1.passes.heights.0", "1/8")
        typed(page, "setups.2.width", "7/16")
        typed(page, "setups.2.depth", "9 in")
        assert "Write less than 5 in." in page.text_content("#setups-2-depth-note")
        page.keyboard.press("Escape")
        settled(page)
        opened(page, "#add-setups")
        page.select_option("#add-setups", "rip")
        press(page, "add", "setups")
        assert page.evaluate("sweepPage.model.of") == 3  # a new one is on the saw at once
        press(page, "up", "setups.3")
        page.click("#undo")
        settled(page)
        press(page, "remove", "setups.3")

        page.click("#save")
        settled(page)
        shown = page.evaluate("sweepPage.setups.models.map((one) => one.passes.map(({ cells }) => cells))")
        slide(page, "#pass", 99)
        volume = shown_volume(page)

    text = scene.read_text()
    data = tomllib.loads(text)
    large, small, step = data["setups"]
    assert large["blade_height"] == large["passes"]["heights"][-1] == "3/8 in"
    assert small["passes"]["heights"][0] == "1/8 in"
    assert (step["width"], step["depth"]) == ("7/16 in", "1/4 in")
    assert [line for line in (SCENES / FILE).read_text().splitlines() if "# " in line and line not in text] == []
    report = cut_whole(data, tmp_path, None)
    assert shown == [
        [list(row) for row in pass_table(pass_rows(one.outcome, one.units)).under_units()] for one in report.reports
    ]
    assert volume == pytest.approx(report.moulding.jobs[-1].finished.volume, rel=1e-6)


def test_a_job_of_one_set_up_becomes_one_of_several_and_goes_back_with_undo(browser, tmp_path):
    """Its set-up is the first of them, a cove; what its marks said goes, and is told."""
    scene = tmp_path / shutil.copy(SCENES / "frieze-by-marks.toml", tmp_path)
    with served(scene) as address, watched(browser, address) as page:
        before = table(page)
        opened(page, "#add-setups")
        page.select_option("#add-setups", "rabbet")
        press(page, "add", "setups")

        assert page.evaluate("sweepPage.setups.models.map(({ name }) => name)") == [
            "1. cove 1",
            "2. rabbet 2, cut 1 of 2",
            "3. rabbet 2, cut 2 of 2",
        ]
        assert page.text_content("#notices") == ""
        page.select_option("#setups-1-do", "rip")
        settled(page)
        assert page.evaluate("sweepPage.setups.models.length") == 2
        page.click("#undo")
        page.click("#undo")
        settled(page)
        assert (table(page), page.is_hidden("#setups-panel")) == (before, True)
