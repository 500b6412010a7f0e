"""`removal.html` and the live page of several set-ups in a real browser: one slider through all of them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from browser import framed, shown_volume, slide, table, watched
from demos import SCENES, SEVERAL
from printed import SMALL_SHEET
from reports import setups_report_of

from sweep.cut.stages import stage
from sweep.live.jobs import summary
from sweep.shape.solid import volume
from sweep.show.files.folder import mesh_files
from sweep.show.files.meshes import write_meshes
from sweep.show.page.page import removal_of, write_removal
from sweep.show.page.setups import CHORD
from sweep.show.say.setups import name_of

PHONE = {"viewport": {"width": 380, "height": 740}, "has_touch": True, "is_mobile": True, "offline": True}

ON_BENCH = """(() => {
    const { mesh, model } = sweepPage.solid, pose = sweepPage.solid.stockPose(), y = [], z = [], cut = [];
    mesh.corners.forEach((v, k) => {
        y.push(mesh.places[3 * v + 1] * pose[5] + pose[13]);
        z.push(mesh.places[3 * v + 2] * pose[10] + pose[14]);
        if (mesh.cutBy[Math.floor(k / 3)]) cut.push(z.at(-1));
    });
    const [low, top] = [Math.min(...z), Math.max(...z)];
    return { size: [Math.max(...y) - Math.min(...y), top - low], top, cut: Math.min(...cut) };
})()"""
"""How the stock lies in the picture: its width and thickness, how high its top is, and how low what was cut reaches."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """What runs of the demo scenes of several set-ups leave to be sent."""
    place = tmp_path_factory.mktemp("sent")
    for name in SEVERAL:
        report = setups_report_of(name)
        (place / name).mkdir()
        meshes = mesh_files(report, CHORD)
        write_meshes(place / name, {file: meshes[file] for file in ("finished.stl", "finished.3mf")})
        write_removal(place / name / "removal.html", removal_of(report))
    return place


def of(folder: Path, name: str) -> str:
    """The address of a scene's page."""
    return (folder / name / "removal.html").as_uri()


@pytest.mark.parametrize("name", SEVERAL)
def test_the_file_of_several_set_ups_is_small_enough_to_send(folder, name):
    """Under 1 MB for the demo scenes, the meshes in it and as large a sheet as `test_sheet_of_setups.py` allows."""
    sheet = SMALL_SHEET * 4 / 3  # in base64
    assert (folder / name / "removal.html").stat().st_size + sheet < 1_000_000


def test_the_slider_goes_through_every_pass_of_every_set_up(browser, folder):
    """On a phone without a network: the set-up that is named, its table, and the solid by the library's volume."""
    report = setups_report_of("base-of-two-coves")
    with watched(browser, of(folder, "base-of-two-coves"), **PHONE) as page:
        assert page.evaluate("document.documentElement.scrollWidth") == 380
        assert page.evaluate("Number(document.getElementById('pass').max)") == report.moulding.passes + 1
        slide(page, "#pass", report.moulding.passes + 1)  # without the strip that the last pass leaves loose
        finished = sum(volume(piece.body) for piece in report.moulding.pieces)
        assert shown_volume(page) == pytest.approx(finished, rel=1e-6)
        stock, lying = report.moulding.scene.stock, page.evaluate(ON_BENCH)  # it stood on its edge for the last pass
        assert lying["size"] == pytest.approx((stock.width, stock.thickness), abs=0.01)
        assert lying["top"] == pytest.approx(stock.thickness, abs=0.01)
        assert lying["cut"] > stock.thickness / 2  # the moulded face is up
        assert page.evaluate("sweepPage.solid.camera.at[2]") == page.evaluate("sweepPage.model.made.at[2]")
        at = 0
        slide(page, "#travel", 1000)
        for one, setting in zip(report.reports, report.moulding.settings, strict=True):
            for number in range(1, len(one.job.passes) + 1):
                at += 1
                slide(page, "#pass", at)
                if number not in (1, len(one.job.passes)):
                    continue
                assert page.text_content("#now").startswith(f"{name_of(setting)}, pass {number} of")
                assert page.text_content("#headline").startswith(name_of(setting))
                assert page.text_content("#setups [aria-current=true]") == name_of(setting)
                assert len(table(page)) == len(one.job.passes)
                assert shown_volume(page) == pytest.approx(one.job.stages[number].volume, rel=1e-4)
                slide(page, "#travel", 400)
                true = stage(one.scene, number, page.evaluate("sweepPage.travel"), chord=CHORD).volume
                assert shown_volume(page) == pytest.approx(true, rel=3e-4)
                assert f"{len(one.steps)}" == str(page.eval_on_selector_all("#steps li", "all => all.length"))
                slide(page, "#travel", 1000)


def test_a_long_verdict_leaves_room_for_the_picture_on_a_phone(browser, folder):
    """Its beginning stands there, and Play on the first screen; all of it comes by one key, and is there on a desk."""
    cut = "(({ scrollHeight, clientHeight }) => scrollHeight - clientHeight)(document.getElementById('verdict'))"
    with watched(browser, of(folder, "ogee-crown"), **PHONE) as page:
        assert page.evaluate("document.getElementById('play').getBoundingClientRect().bottom") < 740
        assert page.evaluate(cut) > 50
        page.focus("#verdict-more")
        page.keyboard.press("Enter")
        assert page.evaluate(cut) <= 0
        assert page.get_attribute("#verdict-more", "aria-expanded") == "true"
        page.keyboard.press("Enter")
        assert page.evaluate(cut) > 50
        page.set_viewport_size({"width": 1024, "height": 768})
        assert page.evaluate(cut) <= 0
        assert not page.is_visible("#verdict-more")


def test_on_a_desk_one_screen_holds_what_is_looked_at(browser, folder):
    """Several set-ups too: picture, all set-ups, the section of the one that is shown, sliders, play and verdict."""
    sizes = [{"width": 1440, "height": 900}, {"width": 1024, "height": 768}]
    with watched(browser, of(folder, "base-of-two-coves"), viewport=sizes[0]) as page:
        for size in sizes:
            page.set_viewport_size(size)
            framed(page)
            for thing in (
                "#solid",
                "#overview svg",
                "#setups",
                "#section svg",
                "#pass",
                "#travel",
                "#play",
                "#verdict",
            ):
                box = page.locator(thing).bounding_box()
                assert box["y"] >= 0, thing
                assert box["y"] + box["height"] <= size["height"], thing
            whole = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
            assert whole == list(size.values())


def test_a_set_up_is_gone_to_by_its_button_and_its_flags_are_told(browser, folder):
    """The panel's runners fall off: flagged in set-ups 3 and 4, and seen from any of them."""
    with watched(browser, of(folder, "coved-panel-edge")) as page:
        page.click("#setups li:nth-child(2) button")
        assert page.text_content("#headline").startswith("2. left edge: stock as it was planed, the other end first")
        alert = page.text_content("#alert")
        assert alert.startswith("! 2 flags, in set-ups 3 and 4. 3. right runner off: ")
        page.click("#alert button")
        assert page.text_content("#headline").startswith("3. right runner off")
        assert "a strip" in page.text_content("#flags")
        assert [one.inner_text() for one in page.query_selector_all("#setups .alarm")] == [" ! 1 flag", " ! 1 flag"]


def test_the_folders_page_lists_several_set_ups():
    """A job of several in a line with its section; one whose set-ups are still to be found says so."""
    listed = json.loads(summary(SCENES / "coved-panel-edge.toml", None))
    found = json.loads(summary(SCENES / "ogee-crown.toml", None))

    passes = setups_report_of("coved-panel-edge").moulding.passes
    assert f"4 set-ups, {passes} passes" in listed["html"]
    assert "2 flags, in set-ups 3 and 4." in listed["html"]
    assert listed["section"].startswith("<svg")
    assert "its set-ups are worked out when it is opened" in found["html"]
