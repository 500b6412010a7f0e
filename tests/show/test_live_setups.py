"""Several set-ups on the live page, in a real browser: each is changed, and all is what the library makes of it."""

from __future__ import annotations

import shutil
import tomllib

import pytest
from browser import opened, press, settled, shown_volume, slide, table, typed, watched
from demos import SCENES
from printed import Sheet
from reports import COARSE
from serving import served

from sweep.live.made import cut_whole
from sweep.quantity import read_quantity
from sweep.shape.solid import volume as volume_of
from sweep.show.files.meshes import write_meshes
from sweep.show.say.passes import pass_rows, pass_table
from sweep.units import LENGTH

pytestmark = pytest.mark.usefixtures("coarse_pages")

TEXT = (
    (SCENES / "base-of-two-coves.toml")
    .read_text()
    .replace('blade_height = "1/2 in"', 'blade_height = "1/4 in"')
    .replace('heights = ["7/64 in", "13/64 in", "1/4 in"]', 'heights = ["9/64 in", "1/4 in"]')
)
"""The base of two coves in half as many passes: each edit cuts all of them anew."""


@pytest.fixture
def scene(tmp_path):
    """A file of it."""
    path = tmp_path / "base.toml"
    path.write_text(TEXT)
    return path


def test_set_ups_are_changed_added_moved_and_saved_on_the_page(browser, scene, tmp_path):
    """Sliders, passes, kinds, order; then the file holds what the page shows, with its comments."""
    with served(scene) as address, watched(browser, address) as page:
        slide(page, "#pass", 99)
        opened(page, "#form-setups-0")
        slide(page, "#setups-0-blade_height-slider", 0.28125)
        assert page.evaluate("[sweepPage.setups.place, sweepPage.number]") == [0, 3]  # seen at its last pass
        typed(page, "setups.1.passes.heights.0", "1/8")
        typed(page, "setups.2.width", "7/16")
        opened(page, "#add-setups")
        page.select_option("#add-setups", "rip")
        press(page, "add", "setups")
        assert page.evaluate("sweepPage.model.of") == 3  # a new one is on the saw at once
        press(page, "up", "setups.3")
        press(page, "remove", "setups.2")

        page.click("#save")
        settled(page)
        shown = page.evaluate("sweepPage.setups.models.map((one) => one.passes.map(({ cells }) => cells))")
        slide(page, "#pass", 99)
        volume = shown_volume(page)
        for name in ("finished.3mf", "sheet.pdf"):
            with page.expect_download() as waiting:
                page.click(f"#files button:has-text('{name}')")
            waiting.value.save_as(tmp_path / name)

    text = scene.read_text()
    data = tomllib.loads(text)
    large, small, step = data["setups"]
    assert large["blade_height"] == large["passes"]["heights"][-1] == "9/32 in"
    assert small["passes"]["heights"][0] == "1/8 in"
    assert (step["width"], step["depth"]) == ("7/16 in", "1/4 in")
    assert [line for line in TEXT.splitlines() if "# " in line and line not in text] == []
    report = cut_whole(data, tmp_path, None, COARSE)
    assert shown == [
        [list(row) for row in pass_table(pass_rows(one.outcome, one.units)).under_units()] for one in report.reports
    ]
    assert volume == pytest.approx(sum(volume_of(piece.body) for piece in report.moulding.pieces), rel=1e-6)
    (tmp_path / "ours").mkdir()
    write_meshes(tmp_path / "ours", {"finished.3mf": [piece.mesh for piece in report.moulding.pieces]})
    assert (tmp_path / "finished.3mf").read_bytes() == (tmp_path / "ours" / "finished.3mf").read_bytes()
    words = Sheet(tmp_path / "sheet.pdf").text()
    for number, one in enumerate(report.reports, start=1):
        assert one.units.length(one.job.passes[-1].height).bare in words, number


def follows_the_hand(page, step: float) -> None:
    """Drag the lowest rung: it goes as far as the hand, to half a step, though answers come and move the drawing."""
    rungs = page.evaluate(
        """() => [0, 1].map((number) => {
            document.querySelector("#section").scrollIntoView({ block: "center" });
            const rung = [...document.querySelectorAll(`#section .rung[data-rung="${number}"]`)].at(-1);
            const { x, y, width } = rung.getBoundingClientRect();
            return [sweepPage.model.passes[number].height, x + width / 2, y];
        })"""
    )
    (low, x, y), (high, _, above) = rungs
    page.mouse.move(x, y)
    page.mouse.down()
    for down in (1, 2, 3):
        page.mouse.move(x, y + down)
        settled(page)
        meant = low - down * (high - low) / (y - above)
        told = read_quantity(page.evaluate("sweepPage.served.rungs.text"), LENGTH)
        assert abs(told - meant) <= step / 2 + 1e-3
    page.mouse.up()
    settled(page)


def test_rungs_of_several_set_ups_go_by_the_sixty_fourth_or_the_step_of_the_saw(browser, scene):
    """In inches, of the set-up that is shown; each counts its own flags, and one of them can be cut alone."""
    large = TEXT[TEXT.index("[[setups]]") : TEXT.index("[[setups]]", TEXT.index("[[setups]]") + 1)]
    scene.write_text(TEXT.replace(large, "").replace("[saw]", '[saw]\nlift_per_turn = "1/10 in"'))
    with served(scene) as address, watched(browser, address) as page:
        page.evaluate("sweepPage.go(sweepPage.setups.passOf(0, 2))")
        for finest in (64, 80):
            if finest == 80:
                typed(page, "plan.turn", "1/8")
            before = page.evaluate("sweepPage.editor.changes['setups.0.passes.heights']")
            follows_the_hand(page, 25.4 / finest)
            heights = page.evaluate("sweepPage.editor.changes['setups.0.passes.heights']")
            assert heights != before
            assert read_quantity(heights[0], LENGTH) * finest / 25.4 == pytest.approx(
                round(read_quantity(heights[0], LENGTH) * finest / 25.4), abs=1e-6
            )
            shown = page.evaluate("sweepPage.setups.models[0].passes.map(({ height }) => height)")
            assert shown == pytest.approx([read_quantity(one, LENGTH) for one in heights], abs=1e-3)

        typed(page, "stock.length", "11 in")  # flagged once, for the whole job
        counts = page.eval_on_selector_all(
            "#setups li", "all => all.map((one) => Number(/\\d+/.exec(one.querySelector('.alarm')?.textContent)))"
        )
        assert page.inner_text("#alert").startswith(f"! {sum(counts) + 1} flags")
        assert page.inner_text("#flags li").startswith("Job: ")
        press(page, "alone", "setups.0")
        assert page.is_hidden("#setups-panel")
        page.click("#save")
        settled(page)

    data = tomllib.loads(scene.read_text())
    assert "setups" not in data
    assert (data["setup"]["fence_side"], data["passes"]["heights"]) == ("far", heights)


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
