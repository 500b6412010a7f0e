"""The page of a folder: its jobs, a new one from what a maker has in hand, and from there to the sheet."""

from __future__ import annotations

import json
import shutil
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from accessible import violations
from browser import new_page, until
from demos import CORNICE, SCENES
from hostile import OBEYED
from serving import served
from whole_job import Keys, Mouse, done

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.live import jobs, names
from sweep.plan.complete import complete
from sweep.scene.read import read_scene
from sweep.show.page import scripts
from sweep.show.page.page import _sent_module
from sweep.show.page.scripts import bare, one_script

DROP = """([name, text]) => {
    const dataTransfer = new DataTransfer();
    dataTransfer.items.add(new File([text], name));
    document.body.dispatchEvent(new DragEvent("drop", { dataTransfer, bubbles: true, cancelable: true }));
}"""

PARTS = Path(scripts.__file__).with_name("parts")


def asked(address: str, path: str, body: dict, **headers: str) -> tuple[int, str]:
    """Return the status and the words that a request is answered with."""
    request = urllib.request.Request(address + path, json.dumps(body).encode(), headers)
    request.add_header("Content-Type", "application/json")
    try:
        with urllib.request.urlopen(request) as reply:
            return reply.status, reply.read().decode()
    except urllib.error.HTTPError as wrong:
        with wrong:
            return wrong.code, wrong.read().decode()


@pytest.mark.usefixtures("coarse_pages")
@pytest.mark.parametrize(("hands", "inches"), [(Keys, True), (Mouse, False)])
def test_from_an_empty_folder_to_the_sheet_by_keys_or_by_mouse_alone(browser, tmp_path, hands, inches):
    """A wrong answer told, passes evened, the fence moved, what is worked out taken, saved; the sheet taken away."""
    with served(tmp_path) as address:
        page = new_page(browser)
        assert done(page, address, hands(page), inches, "shelf rail").startswith(b"%PDF-")
        page.context.close()
    scene = read_scene(tmp_path / "shelf rail.toml")

    assert (scene.stock.in_inches, scene.stock.length) == (inches, 4 * 304.8 if inches else 900)
    assert judge(simulate(complete(scene).scene)).is_within_tolerance


def test_a_profile_is_drawn_by_mouse_and_by_keyboard_or_dropped_and_lies_beside_the_job(browser, tmp_path):
    """Dragged, moved by arrows, added, typed, taken away; what the file holds is what was seen, and is not replaced."""
    with served(tmp_path) as address:
        page = new_page(browser)
        page.goto(address)
        for name, text in {"stock": "900 x 92 x 22", "blade": "254 x 3.2 x 40", "speed": "4000"}.items():
            page.fill(f"#new-{name}", text)
        page.click("#draw-profile")
        until(page, "document.querySelectorAll('#profile-drawing circle').length === 3")
        at = [page.locator("#profile-drawing circle").nth(k).bounding_box() for k in range(3)]
        x, y = (at[1][side] + at[1][size] / 2 for side, size in (("x", "width"), ("y", "height")))
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y + (at[0]["y"] - at[1]["y"]) * 2 / 11, steps=3)  # from 11 mm to 9
        page.mouse.up()
        page.focus("[data-point='0']")
        for key in ("ArrowLeft", "ArrowLeft", "ArrowUp", "ArrowDown"):
            page.keyboard.press(key)
        page.mouse.dblclick(at[0]["x"] + 40, at[0]["y"] - 30)
        page.keyboard.press("Delete")
        page.fill("#point-2-0", "1 in")
        page.keyboard.press("Tab")
        until(page, "/mm high/.test(document.getElementById('sketch-words').textContent)")
        assert violations(page) == []
        page.fill("#name", "drawn")
        page.click("#begin")
        page.wait_for_url("**/job/**")
        until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
        page.locator("#setup-offset-slider").scroll_into_view_if_needed()
        page.goto(address)
        page.fill("#name", "drawn")
        page.evaluate(DROP, ["tilted-cove.csv", (SCENES / "tilted-cove.csv").read_text()])
        until(page, "/30 points/.test(document.getElementById('profile-words').textContent)")
        page.set_input_files("#profile-file", {"name": "a.dxf", "mimeType": "", "buffer": b"no drawing"})
        until(page, "/cannot be read as DXF/.test(document.getElementById('new-profile-note').textContent)")
        page.context.close()

    assert (tmp_path / "drawn.csv").read_text() == "y mm,z mm\n-25,0\n0,9\n25.4,0\n"
    assert read_scene(tmp_path / "drawn.toml").target.size == pytest.approx((50.4, 9.0))
    assert {path.name for path in tmp_path.iterdir()} == {"drawn.csv", "drawn.toml"}


def test_a_folders_jobs_are_listed_with_their_sections_and_what_they_are_flagged_for(browser, tmp_path):
    """Each by its title; one that cannot be used says why; what is no scene is not among them."""
    for name in ("too-greedy", "picture-rail"):
        shutil.copy(SCENES / f"{name}.toml", tmp_path)
    (tmp_path / "broken.toml").write_text(CORNICE.read_text().replace('"28 deg"', '"128 deg"'))
    (tmp_path / "pyproject.toml").write_text("[project]\nname = 'x'\n")
    (tmp_path / "hostile.toml").write_text(CORNICE.read_text().replace("Corner cupboard", "<img src=x onerror=broken>"))
    shutil.copytree(SCENES / "record", tmp_path / "record")
    (kept,) = (tmp_path / "record").iterdir()
    with served(tmp_path) as address:
        page = new_page(browser)
        page.goto(address)
        until(page, "[...document.querySelectorAll('.job .said')].every((one) => one.children.length)", 60)
        said = {one.get_attribute("data-job"): one.text_content() for one in page.query_selector_all("[data-job]")}
        record = f"record/{kept.name}"
        assert set(said) == {"too-greedy.toml", "picture-rail.toml", "broken.toml", "hostile.toml", record}
        assert "Made on 2026-11-20, block no. 3, on the nail above the saw. two blanks" in said[record]
        assert "do not run this blade" in said["too-greedy.toml"]
        assert "Within tolerance" in said["picture-rail.toml"]
        assert "'128 deg' is more than 90 deg" in said["broken.toml"]
        assert "<img src=x onerror=broken>, cornice cove" in said["hostile.toml"]
        assert page.eval_on_selector_all(".job svg", "all => all.length") == 4
        assert violations(page) == []
        page.click(f"[data-job='{record}']")
        until(page, "window.sweepPage")
        assert page.text_content("#title") == "Corner cupboard, cornice cove"
        page.click("nav a")
        page.wait_for_url(address)
        page.click("[data-job='picture-rail.toml']")
        until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
        assert page.text_content("#title") == "Picture rail"
        page.click("nav a")
        page.wait_for_url(address)
        page.context.close()


def test_a_folders_page_writes_and_reads_nothing_but_its_own_jobs(tmp_path):
    """No name leads elsewhere, no file is written over, no other page may ask."""
    shutil.copy(CORNICE, tmp_path / "mine.toml")
    outside = tmp_path.parent / "outside.toml"
    shutil.copy(CORNICE, outside)
    given = {"stock": "900 x 80 x 22", "shoulders": "12", "above": "8", "blade": "254 x 3.2 x 40", "speed": "4000"}
    before = (tmp_path / "mine.toml").read_text()
    with served(tmp_path) as address:
        for name in ("../outside", "mine", "mine.toml", "", "a/b", "..", ".hidden", "shop", "x" * 200, "C:\\con"):
            assert asked(address, "new", {"name": name, "given": given})[0] == 422, name
        assert asked(address, "new", {"name": "new", "given": given}, Origin="http://elsewhere.example")[0] == 403
        assert asked(address, "new", {"name": "new", "given": given | {"profile": "../outside.toml"}})[0] == 422
        assert asked(address, "new", {"name": "new", "given": given, "more": 1})[0] == 400
        for job in ("nothing.toml", "..%2Foutside.toml", "%2E%2E", "pyproject.toml"):
            assert asked(address, f"job/{job}/cut", {"version": "", "units": "mm", "changes": {}})[0] == 404, job
            assert asked(address, f"record/{job}/cut", {"version": "", "units": "mm", "changes": {}})[0] == 404, job
        for name in (
            "../outside.toml",
            "record/../mine.toml",
            "record/mine.toml",
            "record/",
            "x/mine.toml",
            f"{outside}",
            "/mine.toml",
        ):
            assert asked(address, "summary", {"name": name})[1] == '{"html":""}', name
        status, words = asked(address, "new", {"name": "new one", "given": given})
        assert (status, json.loads(words)["go"]) == (200, "job/new%20one.toml/")

    assert (tmp_path / "mine.toml").read_text() == before
    assert {path.name for path in tmp_path.iterdir()} == {"mine.toml", "new one.toml"}


@pytest.mark.parametrize("words", OBEYED)
def test_what_is_typed_for_a_new_job_is_read_as_words(tmp_path, words):
    """Whatever it means to others: told in a sentence, or written as it stands."""
    given = {"stock": words, "title": words, "speed": words}
    answer = json.loads(jobs.sketched(tmp_path, given, inches=False))
    assert set(answer["refused"]) >= {"stock", "speed"}
    assert all(sentence.endswith(".") for sentence in answer["refused"].values())
    with pytest.raises(SceneError):
        names.file_name(f"/{words}")


def test_the_page_of_an_empty_folder_is_small(tmp_path):
    """Under 300 kB."""
    assert len(jobs.jobs_page(tmp_path, None)) < 300_000


def test_the_scripts_of_every_page_are_few():
    """All modules there are, as they are sent, take under 120 kB in all; each page is a part of them."""
    most = {"page": 101, "jobs": 17, "shop": 21, "saw_page": 32, "trace": 8, "drawer": 10}  # kB, little over what it is
    read: set[str] = set()
    for entry, kb in most.items():
        script = one_script(entry, lambda name: read.add(name) or (PARTS / f"{name}.js").read_text())
        assert len(script.encode()) < 1000 * kb, entry
    assert len(one_script("page", _sent_module).encode()) < 78_000
    every = {path.stem: path.read_text() for path in PARTS.glob("*.js")}
    assert every.keys() - read == {"unserved"}  # it is read in the place of another by the page that is sent
    assert sum(len(bare(text).encode()) for text in every.values()) < 120_000
