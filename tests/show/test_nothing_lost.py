"""Nothing that a maker did is lost: over a reload, a stopped program, and another hand in the same file."""

from __future__ import annotations

import re
from contextlib import contextmanager

import pytest
from browser import look, new_page, opened, settled, to_the_end, typed, until
from demos import cornice_in_passes
from serving import served

pytestmark = pytest.mark.usefixtures("coarse_pages")

TEXT = cornice_in_passes("5 mm", "7 mm", "16 mm").replace(
    'fence_angle = "28 deg"', 'fence_angle = "28 deg"  # by the protractor'
)


@pytest.fixture
def scene(tmp_path):
    """A scene of one's own."""
    path = tmp_path / "mine.toml"
    path.write_text(TEXT)
    return path


@contextmanager
def a_page(browser, address: str):
    """A page in a context of its own; leaving is always confirmed, and its time goes by a clock of its own."""
    page = new_page(browser)
    page.clock.install()
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto(address)
    ready(page)
    to_the_end(page)
    yield page
    page.context.close()


def ready(page) -> None:
    """Wait for the first picture, and for what is asked at once."""
    until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
    settled(page)


def state(page) -> str:
    """How the page's scene stands."""
    return page.evaluate("JSON.stringify([sweepPage.editor.state, document.getElementById('verdict').textContent])")


def test_a_reload_asks_first_and_keeps_every_change_every_refused_text_and_every_step_back(browser, scene):
    """Two edits and a wrong one: reloaded, undone one by one, done again, the same each time; then dropped.

    Where nothing would be lost, leaving is not asked about. A program that has no time at first to lay them over the
    file is asked again; until then none of them is shown.
    """
    with served(scene) as address, a_page(browser, address) as page:
        page.on("dialog", lambda dialog: asked.append(dialog.type))
        asked = []
        page.reload()
        ready(page)
        to_the_end(page)
        assert asked == []
        states = [state(page)]
        for path, text in (("setup.fence_angle", "29"), ("passes.heights.1", "7.1")):
            typed(page, path, text)
            states.append(state(page))
        typed(page, "blade.kerf", "wide")
        wrong = state(page)
        busy = {"status": 503, "body": '{"sentence": "Busy."}'}
        page.route("**/take", lambda route: route.fulfill(**busy), times=1)
        page.reload()
        ready(page)
        assert asked == ["beforeunload"]
        until(page, "document.getElementById('notices').textContent === 'Busy.'")
        assert state(page) == states[0]
        to_the_end(page)
        page.clock.fast_forward(2000)
        until(page, "document.getElementById('elsewhere-done').textContent")
        settled(page)

        assert "3 changes from before the reload" in page.text_content("#elsewhere-done")
        assert state(page) == wrong
        assert page.input_value("#blade-kerf") == "wide"
        page.click("#undo")
        settled(page)
        for before in reversed(states[:-1]):
            page.click("#undo")
            settled(page)
            assert state(page) == before
        for after in states[1:]:
            page.click("#redo")
            settled(page)
            assert state(page) == after
        page.click("#elsewhere-done button")
        settled(page)
        assert state(page) == states[0]
        assert scene.read_text() == TEXT


def test_two_pages_keep_each_others_saves_and_every_comment(browser, scene):
    """One changes the kerf, the other the angle; the one without edits of its own takes the file in by itself."""
    with served(scene) as address, a_page(browser, address) as one, a_page(browser, address) as two:
        typed(one, "blade.kerf", "3")
        typed(two, "setup.fence_angle", "29")
        for page, kerf, angle in ((one, "3 mm", "28 deg"), (two, "3.2 mm", "29 deg")):  # each keeps its own
            assert (page.input_value("#blade-kerf"), page.input_value("#setup-fence_angle")) == (kerf, angle)
            assert f"fence at {angle.split()[0]}.00 deg" in page.evaluate("sweepPage.model.fence")
        one.click("#save")
        until(one, "/^Saved/.test(document.getElementById('status').textContent)")
        look(two)
        until(two, "document.getElementById('take-in')")
        two.reload()  # takes it in too, and its own step can still be undone
        ready(two)
        until(two, "!document.getElementById('undo').disabled")
        for step, angle, save in (("undo", "28 deg", "As in the file"), ("redo", "29 deg", "Save 1 change")):
            two.click(f"#{step}")
            settled(two)
            assert two.input_value("#blade-kerf") == "3 mm"
            assert (two.input_value("#setup-fence_angle"), two.text_content("#save")) == (angle, save)
        two.click("#save")
        until(two, "/^Saved/.test(document.getElementById('status').textContent)")
        look(one)
        until(one, "/Taken in what was saved elsewhere/.test(document.getElementById('elsewhere-done').textContent)")
        assert one.input_value("#setup-fence_angle") == "29 deg"

    expected = TEXT.replace('kerf = "3.2 mm"', 'kerf = "3 mm"').replace('angle = "28 deg"', 'angle = "29 deg"')
    assert scene.read_text() == expected


def test_what_two_hands_changed_alike_is_left_to_the_maker(browser, scene):
    """Nothing is chosen for them: both values are told, mine is written once it is taken."""
    with served(scene) as address, a_page(browser, address) as page:
        typed(page, "setup.fence_angle", "29")
        scene.write_text(TEXT.replace('"28 deg"', '"27 deg"').replace('"3.2 mm"', '"3 mm"') + "# another hand\n")
        look(page)
        until(page, "document.getElementById('take-in')")
        page.click("#show-both")
        until(page, "document.querySelector('#elsewhere table')")
        assert page.eval_on_selector_all("#elsewhere tbody tr", "all => all.map((row) => row.innerText)") == [
            "blade, kerf\t3.2 mm\t3 mm\t3.2 mm",
            "setup, fence angle both\t28 deg\t27 deg\t29 deg",
        ]
        there = """() => { const { top, bottom } = document.getElementById('elsewhere').getBoundingClientRect();
            return top < innerHeight && bottom > 0; }"""
        page.set_viewport_size({"width": 380, "height": 800})  # on a phone its sign is in the foot, wherever one reads
        page.evaluate("document.getElementById('cautions').scrollIntoView()")
        page.clock.run_for(1000)
        assert not page.evaluate(there)
        page.click("#to-elsewhere")
        assert page.evaluate(there)
        page.click("#take-in")
        until(page, "!document.getElementById('take-in')")
        settled(page)
        assert not page.is_visible("#to-elsewhere")

        assert "The file says 27 deg now, saved elsewhere. Take 29 deg" in page.text_content("#setup-fence_angle-note")
        assert page.input_value("#blade-kerf") == "3 mm"
        assert "tolerance" in page.text_content("#verdict")
        assert (page.text_content("#save"), page.is_disabled("#save")) == ("As in the file, 1 refused", True)
        opened(page, "[data-do=mine]")
        page.click("[data-do=mine]")
        settled(page)
        page.click("#save")
        until(page, "/^Saved/.test(document.getElementById('status').textContent)")
    assert 'fence_angle = "29 deg"  # by the protractor' in scene.read_text()
    assert scene.read_text().endswith("# another hand\n")


def test_a_program_that_stops_is_told_on_the_picture_and_what_was_done_meanwhile_is_done_when_it_is_back(
    browser, scene
):
    """The picture names its moment; the edit waits; started again at the same port, it is simulated."""
    with served(scene) as address:
        port = int(re.search(r":(\d+)/", address)[1])
        page = new_page(browser)
        page.clock.install()
        page.goto(address)
        ready(page)
        typed(page, "stock.width", "90")
    opened(page, "#setup-fence_angle")
    page.fill("#setup-fence_angle", "30")
    page.press("#setup-fence_angle", "Enter")
    until(page, "!document.getElementById('gone').hidden")
    words = page.text_content("#gone")
    told = r"sweep has stopped\. This is pass 1 as of \d\d:\d\d, fence at 28\.00 deg\. 1 change is kept here\."
    assert re.match(told, words)
    slide_only(page, "#pass", 3)
    assert page.text_content("#pass-words") == "3 of 3"
    with served(scene, port):
        look(page)
        until(page, "document.getElementById('gone').hidden", 30)
        settled(page)
        assert page.input_value("#setup-fence_angle") == "30 deg"
        assert page.text_content("#save") == "Save 2 changes"
    page.context.close()


def slide_only(page, slider: str, value: int) -> None:
    """Move a slider of the picture, which asks nobody."""
    page.eval_on_selector(
        slider, "(one, value) => { one.value = value; one.dispatchEvent(new Event('input')); }", value
    )


def test_what_is_changed_can_be_saved_as_another_file(browser, scene):
    """Whole, with every comment; never over a file, nor elsewhere; the scene and the changes stay as they are."""
    (scene.parent / "other.toml").write_text("mine")
    with served(scene) as address, a_page(browser, address) as page:
        typed(page, "setup.fence_angle", "29")
        opened(page, "#copy-name")
        for name, says in (("other", "other.toml"), ("../away", "no name for a file"), ("", "no name for a file")):
            page.fill("#copy-name", name)
            page.click("[data-do=save-as]")
            until(page, f"document.getElementById('notices').textContent.includes('{says}')")
        page.fill("#copy-name", "steeper")
        page.click("[data-do=save-as]")
        until(page, "/^Saved as/.test(document.getElementById('status').textContent)")
        assert page.text_content("#save") == "Save 1 change"

    assert (scene.parent / "steeper.toml").read_text() == TEXT.replace('"28 deg"', '"29 deg"')
    assert (scene.read_text(), (scene.parent / "other.toml").read_text()) == (TEXT, "mine")
    assert {path.name for path in scene.parent.iterdir()} == {"mine.toml", "other.toml", "steeper.toml"}
