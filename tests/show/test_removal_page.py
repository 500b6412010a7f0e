"""`removal.html` in a real browser, from disk, without a network: the whole job in one file."""

from __future__ import annotations

import base64
import re
from contextlib import ExitStack
from functools import cache
from pathlib import Path

import pytest
from browser import WITHOUT_3D, new_page, shown_volume, slide, table, until, watched
from demos import SCENES
from reports import COARSE, report_of
from sent import as_sent

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.cut.stages import stage
from sweep.scene.read import read_scene
from sweep.show.files.folder import mesh_files
from sweep.show.files.meshes import write_meshes
from sweep.show.page.page import removal_of, shown_whole, write_removal
from sweep.show.say.cautions import cautions
from sweep.show.say.report import Report
from sweep.tolerance import CHORD
from sweep.units import Units

TITLE = "</script><script>window.broken = 1</script> <img src=x onerror=window.broken=1>"

PHONE = {"viewport": {"width": 380, "height": 740}, "has_touch": True, "is_mobile": True, "offline": True}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """What runs of some demo scenes leave to be sent; with meshes and as finely cut as in a run, that of the first."""
    place = tmp_path_factory.mktemp("sent")
    for name in ("corner-cupboard-cornice", "stopped-cove", "too-greedy", "cornice-to-fit"):
        (place / name).mkdir()
    fine = Report(judge(simulate(read_scene(SCENES / "corner-cupboard-cornice.toml"))), Units())
    write_meshes(place / "corner-cupboard-cornice", mesh_files(fine, CHORD))
    write_removal(place / "corner-cupboard-cornice" / "removal.html", removal_of(fine))
    for name in ("stopped-cove", "too-greedy"):
        write_removal(place / name / "removal.html", shown_whole(report_of(name)) | {"live": None})
    write_removal(place / "cornice-to-fit" / "removal.html", as_sent(titled()))
    return place


@cache
def titled() -> Report:
    """The report of a cornice to fit whose title a browser might run."""
    scene = read_scene(SCENES / "cornice-to-fit.toml").model_copy(update={"title": TITLE})
    return Report(judge(simulate(scene, COARSE)), scene.units)


@pytest.fixture(scope="module")
def opened(browser, folder):
    """The pages, each opened once: whatever is moved on one is set anew by whoever looks next."""
    with ExitStack() as pages:
        yield cache(lambda name: pages.enter_context(watched(browser, of(folder, name))))


def of(folder: Path, name: str) -> str:
    """The address of a scene's page."""
    return (folder / name / "removal.html").as_uri()


def test_the_file_is_small_enough_to_send(folder):
    """Under 1 MB for the demo scene."""
    assert (folder / "corner-cupboard-cornice" / "removal.html").stat().st_size < 1_000_000


def test_it_opens_on_a_phone_from_disk_without_a_network(browser, folder, cornice):
    """Solid, sliders, section and table are there, within the width, and nothing is asked of anybody."""
    with watched(browser, of(folder, "corner-cupboard-cornice"), **PHONE) as page:
        assert page.evaluate("document.documentElement.scrollWidth") == 380
        assert len(table(page)) == 8
        assert "60.77 mm at the table" in page.text_content("#section svg")
        assert page.is_hidden("#settings")
        slide(page, "#pass", 5)
        slide(page, "#travel", 400)
        travel = page.evaluate("sweepPage.travel")
        assert shown_volume(page) == pytest.approx(stage(cornice, 5, travel, chord=0.02).volume, rel=2e-4)


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "stopped-cove", "too-greedy"])
def test_the_solid_at_any_moment_is_the_librarys(opened, name):
    """To 3e-4 of its volume, in every third pass; a stopped one among them."""
    scene = read_scene(SCENES / f"{name}.toml")
    page = opened(name)
    for number in range(1, len(scene.passes.heights) + 1, 3):
        slide(page, "#pass", number)
        for share in (0.03, 0.11, 0.5, 0.86, 0.97):
            slide(page, "#travel", 1000 * share)
            true = stage(scene, number, page.evaluate("sweepPage.travel"), chord=0.02).volume
            assert shown_volume(page) == pytest.approx(true, rel=3e-4), (number, share)


def test_flagged_passes_are_marked_and_the_reason_is_under_the_pointer(opened):
    """The same sentence as in the list below the table."""
    page = opened("too-greedy")
    rows = page.query_selector_all("#passes tr.flagged")
    listed = " ".join(page.eval_on_selector_all("#flags li", "all => all.map(one => one.textContent)"))
    assert rows
    for row in rows:
        assert row.inner_text().strip().startswith("!")
        for reason in row.get_attribute("title").split("; feed")[:1]:
            assert reason.split("; ")[0] in listed


def test_what_is_too_much_is_red_and_named_beside_the_pass_that_is_shown(opened):
    """A full bar is green only within the limit (HTML, the meter element's regions); the reasons stand in the list."""
    page = opened("too-greedy")
    assert page.evaluate("[...document.querySelectorAll('meter')].every((m) => m.value > m.high && m.optimum < m.low)")
    slide(page, "#pass", 1)
    now = page.text_content("#now")
    assert now.startswith("! it rises 6.00 mm, more than 3.20 mm: take it in 2 passes.")
    assert page.eval_on_selector_all("#now p.alarm", "all => all.length") == 4
    assert page.evaluate("getComputedStyle(now.firstChild).color === getComputedStyle(flags).color")
    slide(page, "#pass", 0)
    assert page.text_content("#now") == "the planed stock"
    plain = opened("corner-cupboard-cornice")
    assert plain.evaluate("[...document.querySelectorAll('meter')].every((m) => m.value < m.low)")


def test_the_finished_moulding_stands_behind_the_last_pass(opened):
    """Where other work follows the cove: the volume of its pieces together."""
    job = titled().job
    page = opened("cornice-to-fit")
    slide(page, "#pass", len(job.passes) + 1)
    assert page.text_content("#pass-words") == "all, finished"
    assert shown_volume(page) == pytest.approx(sum(piece.volume for piece in job.pieces), rel=1e-6)
    assert page.is_disabled("#travel")


def test_the_order_of_work_stands_on_it_with_every_caution(opened):
    """The steps of the run, numbered, and each caution with the first step that asks for it; of a stopped cut too."""
    told = report_of("stopped-cove")
    listed = opened("stopped-cove").eval_on_selector_all("ol#steps > li", "all => all.map(one => one.textContent)")
    assert len(listed) == 15
    assert all(text.startswith(f"{step.name}. {step.words}") for text, step in zip(listed, told.steps, strict=True))
    for caution in cautions(told.scene, told.layout, told.units):
        assert sum(f"{caution.name} {caution.words}" in text for text in listed) == 1


def test_the_files_it_holds_are_the_runs(opened, folder):
    """Saved from the page, byte for byte."""
    page = opened("corner-cupboard-cornice")
    links = {link.inner_text(): link.get_attribute("href") for link in page.query_selector_all("#files a")}
    for name in ("finished.stl", "finished.3mf"):
        saved = base64.b64decode(links[name].partition("base64,")[2])
        assert saved == (folder / "corner-cupboard-cornice" / name).read_bytes()


def test_without_webgl_table_and_section_are_there_and_the_page_says_why_the_solid_is_not(browser, folder):
    """In one sentence, where the picture would be."""
    with watched(browser, of(folder, "corner-cupboard-cornice"), solid=WITHOUT_3D) as page:
        assert "no WebGL2" in page.text_content("#no-solid")
        assert page.is_visible("#no-solid")
        assert page.is_hidden("#solid")
        assert len(table(page)) == 8
        assert "60.77 mm at the table" in page.text_content("#section svg")
        slide(page, "#pass", 3)
        assert page.text_content("#pass-words") == "3 of 8"


def test_words_of_the_user_cannot_become_script(opened):
    """Whatever a title holds, it is shown as it stands."""
    page = opened("cornice-to-fit")
    assert page.text_content("h1") == TITLE
    assert page.evaluate("window.broken") is None


def test_no_script_or_style_runs_but_the_pages_own(browser, folder, tmp_path):
    """Were anything smuggled into the page all the same, its policy would hold it: it names both by their digest."""
    smuggled = (
        "<script>window.broken = 1</script><script type=module>window.broken = 2</script>"
        "<script src='data:text/javascript,window.broken=3'></script><img src='data:,' onerror='window.broken = 4'>"
        "<p id=red style='color: rgb(255, 0, 0)'>red</p><style>#red { color: rgb(255, 0, 0) }</style>"
        "<base href='https://elsewhere.invalid/'><form action='https://elsewhere.invalid/'><button id=go>go</button>"
        "</form>"
    )
    text = (folder / "corner-cupboard-cornice" / "removal.html").read_text("utf-8")
    (tmp_path / "removal.html").write_text(text.replace("<main>", f"{smuggled}<main>", 1), encoding="utf-8")
    page = new_page(browser)
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((tmp_path / "removal.html").as_uri())
    until(page, "window.sweepPage")
    page.evaluate("document.getElementById('go').click()")
    page.wait_for_timeout(100)

    assert page.evaluate("window.broken") is None
    assert page.evaluate("getComputedStyle(document.getElementById('red')).color") != "rgb(255, 0, 0)"
    assert [url for url in asked if "elsewhere" in url] == []
    assert len(table(page)) == 8
    page.context.close()


def test_colours_of_words_stand_out_from_what_they_are_written_on():
    """At least 4.5 to 1: contrast as in the W3C's Web Content Accessibility Guidelines 2.2, criterion 1.4.3."""
    css = (Path(__file__).parents[2] / "sweep/show/page/parts/page.css").read_text()
    light, dark = (
        dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", part)) for part in css.split("prefers-color-scheme")[:2]
    )

    def luminance(colour: str) -> float:
        shares = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
        linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    def contrast(one: str, other: str) -> float:
        low, high = sorted((luminance(one), luminance(other)))
        return (high + 0.05) / (low + 0.05)

    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    for named in (light, dark):
        for words in ("ink", "faint", "accent", "alarm"):
            for ground in ("paper", "sheet", "picked"):
                assert contrast(named[words], named[ground]) > 4.5, (words, ground)
        assert contrast(named["on-accent"], named["accent"]) > 4.5
        assert contrast(named["paper"], named["lag"]) > 4.5
