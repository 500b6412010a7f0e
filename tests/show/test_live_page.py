"""The live page in a real browser: it shows what the library computes, refuses what the library refuses, and saves."""

from __future__ import annotations

import difflib
import json
import shutil
import tomllib
from functools import cache
from pathlib import Path

import pytest
from browser import (
    PAINTED,
    drag_rung,
    framed,
    opened,
    settled,
    shown_volume,
    slide,
    table,
    to_the_end,
    typed,
    until,
    watched,
)
from demos import SCENES, cornice_in_passes
from serving import served

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.cut.stages import stage
from sweep.scene.edits import Edit, edited
from sweep.scene.read import read_scene, scene_from
from sweep.show.files.meshes import write_stl
from sweep.show.say.flags import owner_of, sentence_of
from sweep.show.say.passes import pass_rows, pass_table
from sweep.show.say.profile import verdict_of
from sweep.units import Units

TEXT = cornice_in_passes("5 mm", "9 mm", "14 mm", "16 mm")
"""The demo scene in half as many passes: each edit is simulated twice, by the page's program and by the test."""

DATA = tomllib.loads(TEXT)


@pytest.fixture(scope="module")
def scene():
    """What the library reads in it."""
    return scene_from(DATA, SCENES)


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """It is served."""
    path = tmp_path_factory.mktemp("served") / "cornice.toml"
    path.write_text(TEXT)
    with served(path) as address:
        yield address


@pytest.fixture(scope="module")
def shared(browser, address):
    """It is open."""
    with watched(browser, address) as page:
        yield page


@pytest.fixture
def page(shared):
    """It is open, as it stands in its file."""
    as_in_its_file(shared)
    return shared


@pytest.fixture(scope="module")
def shared_and_painted(browser, address):
    """It is open on a page of its own, its solid painted."""
    with watched(
        browser, address, solid=PAINTED, viewport={"width": 1360, "height": 900}, device_scale_factor=0.2
    ) as page:
        yield page


@pytest.fixture
def painted_page(shared_and_painted):
    """It is open with its solid painted, as it stands in its file."""
    as_in_its_file(shared_and_painted)
    return shared_and_painted


def as_in_its_file(page) -> None:
    """Drop what somebody has changed of a page, and all steps back to it; open it anew where it was in other units."""
    if page.evaluate("sweepPage.units !== 'mm'"):
        page.evaluate("sessionStorage.clear()")
        page.reload()
        until(page, "window.sweepPage && sweepPage.solid.drawn")
    elif page.evaluate("sweepPage.editor.dirty || sweepPage.editor.past.length > 0"):
        page.evaluate("sweepPage.editor.drop()")
        settled(page)
        page.evaluate("Object.assign(sweepPage.editor, { past: [], future: [] }).tell()")
    to_the_end(page)


def outcome_with(changes: dict | list) -> object:
    """What the library says of the scene with some settings changed, one after the other."""
    return _outcome_with(json.dumps(list(changes.items()) if isinstance(changes, dict) else changes))


@cache
def _outcome_with(changes: str) -> object:
    data = DATA
    for path, value in json.loads(changes):
        data = edited(data, Edit(path=path, do="set" if isinstance(value, list) else "type", value=value))
    return judge(simulate(scene_from(data, SCENES)))


def assert_shows(page, outcome, style: str = "mm") -> None:
    """Assert that the page's table, verdict and solid are the library's."""
    units = Units(style)
    cells = pass_table(pass_rows(outcome, units)).under_units()
    marks = ["! " if outcome.flags_of(one.number) else "" for one in outcome.job.passes]
    shown = [[f"{mark}{k}", *row] for k, (mark, row) in enumerate(zip(marks, cells, strict=True), start=1)]

    assert table(page) == shown
    assert page.text_content("#verdict") == verdict_of(outcome, units)
    assert page.eval_on_selector_all("#flags li", "all => all.length") == len(outcome.flags) + len(outcome.may_exceed)
    mild = page.eval_on_selector_all("#flags li.faint", "all => all.map((one) => one.textContent)")
    assert mild == [f"? {owner_of(flag)}: {sentence_of(flag, units)}." for flag in outcome.may_exceed]
    to_the_end(page)
    settled(page)
    assert shown_volume(page) == pytest.approx(outcome.job.finished.volume, rel=1e-6)


def test_the_page_shows_the_run(page):
    """Table, verdict, solid, and the section's dimensions."""
    assert_shows(page, outcome_with({}))
    words = page.text_content("#section svg")
    assert "60.77 mm at the table" in words
    assert "16.00 deep" in words
    assert "6.50 above" in words


MOVED = [
    ("setup.fence_angle", 31.4, "31.4 deg"),
    ("setup.blade_height", 14.2, "14.2 mm"),
    ("setup.blade_height", 17.5, "17.5 mm"),
    ("setup.blade_tilt", -6, "-6 deg"),
    ("setup.offset", 11.5, "11.5 mm"),
    ("blade.kerf", 2.4, "2.4 mm"),
    ("passes.feed_speed", 7.5, "7.5 m/min"),
]


def test_every_slider_runs_the_whole_simulation_anew_once(page):
    """Each after the others, let go of as soon as it is moved, as by a key; and the page says what differs."""
    asked = []
    page.on("request", lambda one: asked.append(one.url.rpartition("/")[2]))
    for number, (key, value, text) in enumerate(MOVED, start=1):
        slide(page, f"#{key.replace('.', '-')}-slider", value)

        assert page.input_value(f"#{key.replace('.', '-')}") == text
        assert_shows(page, outcome_with([(path, one) for path, _, one in MOVED[:number]]))
        assert page.text_content("#save").startswith("Save "), key
    assert asked.count("cut") == len(MOVED)


def test_a_field_takes_inches_and_fractions(page):
    """First-class, in and out."""
    typed(page, "setup.blade_height", "5/8 in")
    assert_shows(page, outcome_with({"setup.blade_height": "5/8 in"}))

    page.select_option("#units", "in")
    settled(page)
    assert_shows(page, outcome_with({"setup.blade_height": "5/8 in"}), "in")
    slide(page, "#setup-offset-slider", 4)  # it counts in the notation of its field
    assert page.input_value("#setup-offset") == "4 mm"

    page.evaluate("sweepPage.editor.live.version = 'another'")
    typed(page, "setup.blade_height", "3/8 in")
    assert "opened too long ago" in page.text_content("#notices")
    assert page.input_value("#setup-blade_height") == "5/8 in"  # what is not done does not stand there


REFUSED = [
    ("setup.blade_tilt", "<b>steep</b>", "'<b>steep</b>' is not a number and a unit."),
    ("setup.blade_height", "120 mm", "comes out through the top"),
    ("passes.heights.2", "3 mm", "is lower than pass 2"),
]


def test_refused_values_stay_in_their_fields_in_words_and_hold_up_nothing_else(page):
    """The job keeps the last good value, the next edit is simulated, and Escape lets each text go."""
    field_of = {path: f"[id='{path.replace('.', '-')}']" for path, _, _ in REFUSED}
    before = {path: page.input_value(field) for path, field in field_of.items()}
    for path, text, says in REFUSED:
        typed(page, path, text)
        note = page.text_content(f"[id='{page.get_attribute(field_of[path], 'aria-describedby')}']")
        assert says in note
        assert "_" not in note
    assert_shows(page, outcome_with({}))
    typed(page, "setup.offset", "3")
    assert_shows(page, outcome_with({"setup.offset": "3 mm"}))
    for left, (path, text, _) in reversed(list(enumerate(REFUSED, start=1))):
        field = field_of[path]
        assert (page.get_attribute(field, "aria-invalid"), page.input_value(field)) == ("true", text)
        assert page.text_content("#save") == f"Save 1 change, leave out {left} refused"
        opened(page, field)
        page.focus(field)
        page.keyboard.press("Escape")
        settled(page)
        assert (page.get_attribute(field, "aria-invalid"), page.input_value(field)) == (None, before[path])
    assert page.text_content("#save") == "Save 1 change"
    assert_shows(page, outcome_with({"setup.offset": "3 mm"}))


def test_the_feed_slider_shows_the_stock_in_the_middle_of_a_pass(page, scene):
    """Its volume is that of the library's stage at that travel, to 2e-4 of it."""
    for number, share in ((1, 0.02), (2, 0.3), (3, 0.5), (4, 0.97)):
        slide(page, "#pass", number)
        slide(page, "#travel", 1000 * share)
        travel = page.evaluate("sweepPage.travel")

        assert shown_volume(page) == pytest.approx(stage(scene, number, travel, chord=0.02).volume, rel=2e-4)
        assert page.text_content("#travel-words") == f"{travel:.0f} mm"


def test_the_stock_stands_where_the_feed_has_brought_it(page, scene):
    """The leading end as the blade's centre sees it."""
    slide(page, "#pass", 4)
    slide(page, "#travel", 400)
    travel = page.evaluate("sweepPage.travel")
    pose = page.evaluate("sweepPage.solid.stockPose()")

    assert pose == pytest.approx(scene.feed.stock_in_machine(travel).T.ravel().tolist(), abs=1e-9)


def test_play_goes_on_by_itself_and_pauses(page):
    """The feed moves, and stands still after that."""
    slide(page, "#pass", 2)
    slide(page, "#travel", 980)
    page.click("#play")
    until(page, "sweepPage.number === 3 && sweepPage.share > 0.01")
    assert page.text_content("#play") == "Pause"
    page.click("#play")
    before = page.evaluate("sweepPage.share")
    page.wait_for_timeout(60)
    assert page.evaluate("sweepPage.share") == before
    assert page.text_content("#play") == "Play"


def test_a_pass_picked_anywhere_is_selected_everywhere(page):
    """In the table, in the section, in the solid, by the keyboard."""

    def selected() -> tuple:
        row = page.eval_on_selector_all("#passes tr[aria-selected=true]", "rows => rows.map(row => +row.dataset.pass)")
        widest = page.eval_on_selector_all(
            "#section path[data-pass]",
            "all => all.filter(one => one.classList.contains('picked')).map(one => +one.dataset.pass)",
        )
        return int(page.input_value("#pass")), row, widest, page.evaluate("sweepPage.solid.moment.number")

    page.click("#passes tbody tr:nth-child(3)")
    assert selected() == (3, [3], [3], 3)
    page.dispatch_event("#section path[data-pass='4']", "click")
    assert selected() == (4, [4], [4], 4)
    page.focus("#passes tbody tr:nth-child(2)")
    page.keyboard.press("Enter")
    assert selected() == (2, [2], [2], 2)
    page.focus("#solid")
    page.keyboard.press("PageUp")
    assert selected() == (3, [3], [3], 3)
    # midway through pass 4 what pass 3 cut lies behind the blade; look at it on the bench and pick it
    slide(page, "#pass", 4)
    slide(page, "#travel", 250)
    page.click("[data-view=bench]")
    settled(page)
    spot = page.evaluate("""() => {
        const box = sweepPage.solid.canvas.getBoundingClientRect();
        for (let y = box.bottom - 5; y > box.top; y -= 6)
            for (let x = box.left + 5; x < box.right; x += 6) if (sweepPage.solid.passAt(x, y) === 3) return [x, y];
    }""")
    page.mouse.click(*spot)
    assert selected() == (3, [3], [3], 3)


def picture(page) -> int:
    """A sum of all pixels of the picture, drawn as the page stands."""
    settled(page)
    return page.evaluate(
        """() => {
            const { solid } = sweepPage, { gl } = solid.painter;
            solid.draw();
            const pixels = new Uint8Array(4 * gl.drawingBufferWidth * gl.drawingBufferHeight);
            gl.readPixels(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight, gl.RGBA, gl.UNSIGNED_BYTE, pixels);
            return pixels.reduce((sum, one) => (31 * sum + one) % 1000003, 7);
        }"""
    )


def test_views_and_colours_change_the_picture(painted_page):
    """Each of the five views, and each of the four colourings, is a picture of its own."""
    page = painted_page
    slide(page, "#pass", 3)
    slide(page, "#travel", 500)
    seen = []
    for view in ("operator", "feed", "above", "section", "bench"):
        page.click(f"[data-view={view}]")
        seen.append(picture(page))
    assert seen[-1] == picture(page)
    for kind in ("deviation", "chip", "wood"):
        page.select_option("#colour", kind)
        seen.append(picture(page))
    page.focus("#solid")
    page.keyboard.press("ArrowLeft")
    seen.append(picture(page))
    assert len(set(seen)) == 9


def test_what_does_not_come_while_a_slider_is_held_stays_and_the_order_of_work_says_so(page):
    """Views, and the order of work, which follows; the section comes as wide as it is seen; headings and Save too."""
    steps = page.inner_text("#steps")
    page.evaluate(
        """() => {
            const slider = document.querySelector("#setup-fence_angle-slider");
            slider.value = 31;
            slider.dispatchEvent(new Event("input", { bubbles: true }));
        }"""
    )
    settled(page)
    assert page.evaluate("sweepPage.model.section.length") == 1
    assert page.is_visible("#steps-held")
    assert page.inner_text("#steps") == steps
    assert (page.text_content("#line-setup"), page.text_content("#save")) == ("fence 31 deg, blade 16 mm", "Save")
    before = page.evaluate("sweepPage.solid.camera")
    page.click("[data-view=above]")

    assert page.evaluate("sweepPage.solid.camera") != before
    page.dispatch_event("#setup-fence_angle-slider", "change")
    settled(page)

    assert not page.is_visible("#steps-held")
    assert page.inner_text("#steps") != steps


def test_what_was_held_and_has_no_answer_leaves_the_picture_as_it_leaves_its_field(page):
    """The program is asked again for what stands in the job; the browser notes the refusal as an error of its own."""
    words = page.text_content("#headline")
    slider = page.locator("#setup-fence_angle-slider")
    slider.evaluate("one => { one.value = 33; one.dispatchEvent(new Event('input', { bubbles: true })); }")
    until(page, "/^fence at 33/.test(document.getElementById('headline').textContent)")
    page.route("**/cut", lambda route: route.fulfill(status=422, body='{"sentence": "Busy."}'), times=1)
    slider.dispatch_event("change")
    until(page, "document.getElementById('notices').textContent === 'Busy.'")
    assert (page.input_value("#setup-fence_angle"), page.text_content("#save")) == ("28 deg", "As in the file")
    assert page.is_visible("#steps-held")
    until(page, f"document.getElementById('headline').textContent === {json.dumps(words)}")
    assert page.is_hidden("#steps-held")


def test_undo_and_redo_go_step_by_step_and_all_changes_can_be_dropped(page):
    """A gesture a step, whatever was changed; dropping is a step too."""
    slide(page, "#setup-fence_angle-slider", 30)
    slide(page, "#setup-fence_angle-slider", 33)
    steps = [{"setup.fence_angle": "30 deg"}, {"setup.fence_angle": "33 deg"}]
    for changes in reversed([{}, *steps[:-1]]):
        page.click("#undo")
        settled(page)
        assert_shows(page, outcome_with(changes))
    assert page.is_disabled("#undo")
    for changes in steps:
        page.keyboard.press("Control+Shift+Z")
        settled(page)
        assert_shows(page, outcome_with(changes))
    opened(page, "#card-changes [data-do=drop]")
    page.click("#card-changes [data-do=drop]")
    settled(page)
    assert_shows(page, outcome_with({}))
    assert page.is_disabled("#save")
    page.keyboard.press("Control+Z")
    settled(page)
    assert_shows(page, outcome_with(steps[-1]))


def test_what_is_worked_out_is_a_proposal_to_be_taken_in_parts_or_left(page):
    """Beside what is set now; heights lie on the step, feeds come with it; one gesture to undo."""
    typed(page, "setup.fence_angle", "40")
    assert "OUT OF" in page.text_content("#verdict")
    page.click("#solve")
    until(page, "document.querySelector('#proposal table')")
    typed(page, "setup.offset", "1")
    assert page.is_visible("#proposal .lagging")
    page.click("#undo")
    settled(page)
    assert page.is_hidden("#proposal .lagging")
    rows = page.eval_on_selector_all(
        "#proposal tbody tr", "all => all.map((row) => row.textContent.replace(/\\s+/g, ' '))"
    )
    assert any("40.00 deg" in row and "28.00 deg" in row for row in rows)
    page.click("[data-proposal=leave]")
    settled(page)
    assert_shows(page, outcome_with({"setup.fence_angle": "40 deg"}))

    page.click("#solve")
    until(page, "document.querySelector('#proposal table')")
    page.click("[data-proposal=take]")
    settled(page)
    changes = page.evaluate("sweepPage.editor.changes")
    assert "within tolerance" in page.text_content("#verdict")
    assert all(float(height.split()[0]) * 10 % 1 < 1e-6 for height in changes["passes.heights"])
    assert_shows(page, outcome_with(changes))
    page.click("#undo")
    settled(page)
    assert_shows(page, outcome_with({"setup.fence_angle": "40 deg"}))


def test_what_is_downloaded_is_the_moulding_as_it_is_set(page, tmp_path):
    """Byte for byte the library's STL of the changed scene."""
    typed(page, "setup.blade_height", "15.5")
    with page.expect_download() as waiting:
        page.click("#files button:has-text('finished.stl')")
    write_stl(tmp_path / "ours.stl", outcome_with({"setup.blade_height": "15.5 mm"}).job.finished.mesh)

    assert waiting.value.suggested_filename == "finished.stl"
    assert Path(waiting.value.path()).read_bytes() == (tmp_path / "ours.stl").read_bytes()


@pytest.mark.usefixtures("coarse_pages")
def test_saving_changes_only_what_was_changed_and_keeps_every_comment(browser, tmp_path):
    """And is refused when the file has been changed by another hand since."""
    scene = tmp_path / "mine.toml"
    text = TEXT.replace('fence_angle = "28 deg"', 'fence_angle = "28 deg"  # by the protractor')
    scene.write_text(text)
    with served(scene) as address, watched(browser, address) as page:
        to_the_end(page)
        typed(page, "setup.fence_angle", "29")
        typed(page, "blade.kerf", "1/8 in")
        page.click("#save")
        until(page, "/Saved/.test(document.getElementById('status').textContent)")
        lines = [line for line in difflib.ndiff(text.splitlines(), scene.read_text().splitlines()) if line[0] in "+-"]
        assert lines == [
            '- kerf = "3.2 mm"',
            '+ kerf = "1/8 in"',
            '- fence_angle = "28 deg"  # by the protractor',
            '+ fence_angle = "29 deg"  # by the protractor',
        ]
        assert read_scene(scene).blade.kerf == pytest.approx(3.175)
        assert page.text_content("#save") == "As in the file"

        do = "sweepPage.editor.do([{{ path: 'setup.{}', do: 'type', value: '{}' }}], ''); "
        page.evaluate(do.format("fence_angle", 30) + "sweepPage.editor.save()")  # while that is worked out
        settled(page)
        assert 'fence_angle = "30 deg"' in scene.read_text()
        page.evaluate(do.format("offset", 1))
        settled(page)
        page.evaluate("sweepPage.editor.save(); " + do.format("offset", 2))  # while the file is written
        settled(page)
        assert (page.text_content("#save"), page.input_value("#setup-offset")) == ("Save 1 change", "2 mm")
        assert read_scene(scene).setup.offset == 1
        opened(page, "#setup-offset")
        page.fill("#setup-offset", "3")
        page.press("#setup-offset", "Control+S")  # what is being typed is saved, too
        settled(page)
        assert (page.text_content("#save"), read_scene(scene).setup.offset) == ("As in the file", 3)

        typed(page, "setup.fence_angle", "31")
        scene.write_text(scene.read_text() + "# another hand\n")
        page.click("#save")
        until(page, "document.getElementById('notices').textContent")
        assert "changed since" in page.text_content("#notices")
        assert scene.read_text().endswith("# another hand\n")


def test_the_page_is_usable_on_a_phone(browser, address):
    """380 pixels wide: nothing sticks out, and every control can be reached."""
    with watched(browser, address, viewport={"width": 380, "height": 740}, has_touch=True, is_mobile=True) as page:
        assert page.evaluate("document.documentElement.scrollWidth") == 380
        page.eval_on_selector_all("details", "all => all.forEach((one) => { one.name = ''; one.open = true; })")
        assert page.evaluate("document.documentElement.scrollWidth") == 380
        outside = page.eval_on_selector_all(
            "main button, main input, main select, main canvas, main textarea",
            """all => all.map((one) => [one, one.getBoundingClientRect()])
                .filter(([one, box]) => one.checkVisibility() && (box.left < 0 || box.right > 380))
                .map(([one]) => one.outerHTML)""",
        )
        assert outside == []
        page.tap("#passes tbody tr:nth-child(2)")
        assert page.input_value("#pass") == "2"
        slide(page, "#setup-fence_angle-slider", 30)
        assert page.input_value("#setup-fence_angle") == "30 deg"


@pytest.mark.usefixtures("coarse_pages")
def test_a_scene_without_set_up_is_completed_shown_changed_and_saved_whole(browser, tmp_path):
    """With several blades to choose from: what was worked out stands in the file after saving."""
    scene = tmp_path / "arc.toml"
    shutil.copy(SCENES / "arc-from-drawing.toml", scene)
    with served(scene) as address, watched(browser, address) as page:
        before = table(page)
        assert len(before) > 1
        slide(page, "[id^=blades][id$=kerf-slider]", 3.5)
        page.click("#save")
        until(page, "/Saved/.test(document.getElementById('status').textContent)")
    saved = read_scene(scene)

    assert saved.setup is not None
    assert saved.passes is not None
    assert saved.blade.kerf == pytest.approx(3.5)
    assert len(saved.passes.heights) == len(before)


ON_THE_CARD = """() => {
    const { painter: { gl }, machine, model } = sweepPage.solid;
    return Object.fromEntries(machine.map(({ buffer, count }, k) => {
        const numbers = new Float32Array(11 * count), { name, colour, ...packed } = model.machine[k];
        gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
        gl.getBufferSubData(gl.ARRAY_BUFFER, 0, numbers);
        return [name, [JSON.stringify(packed), numbers.reduce((sum, one, k) => sum + one * (k % 97), 0)]];
    }));
}"""
"""Each part of the saw, as it is told and as it is drawn: a sum of all its numbers."""


def test_one_way_to_set_it_lies_beside_the_one_that_is_moved(painted_page):
    """Dashed in the section where its outline is, figure by figure in a table, until it is taken away."""
    page = painted_page
    before = outcome_with({}).job.sections[-1]
    page.click("#lay-beside")
    until(page, "document.querySelector('#beside table')")
    assert (
        page.eval_on_selector_all("#beside tbody td:last-child", "all => all.map((one) => one.innerText)")
        == ["the same"] * 8
    )
    opened(page, "#setup-fence_angle-slider")
    still = page.evaluate(ON_THE_CARD)
    slider = page.locator("#setup-fence_angle-slider")
    slider.evaluate("one => { one.value = 30; one.dispatchEvent(new Event('input', { bubbles: true })); }")
    until(page, "document.querySelector('#beside .lagging').checkVisibility()")
    slider.dispatch_event("change")
    until(page, "document.querySelector('#beside tbody tr:nth-child(3) td:last-child').innerText === '+2.00 deg'")
    assert page.is_hidden("#beside .lagging")
    after = outcome_with({"setup.fence_angle": "30 deg"}).job.sections[-1]
    row = page.eval_on_selector("#beside tbody tr", "row => [...row.cells].map((cell) => cell.innerText)")
    assert row == [
        "width at the table",
        f"{before.width:.2f} mm",
        f"{after.width:.2f} mm",
        f"+{after.width - before.width:.2f} mm",
    ]
    ghost = page.eval_on_selector("#section .ghost", "one => [...one.points].map((point) => [point.x, point.y])")
    frames = page.evaluate("sweepPage.model.section.map((one) => one.frame)")
    tops = [max((base - y) / scale for _, y in ghost) for _, base, scale in frames]
    assert any(abs(top - 22.5) < 0.01 for top in tops)
    assert page.evaluate("sweepPage.served.beside.solid === sweepPage.solid.beside") is True
    moved = page.evaluate(ON_THE_CARD)
    assert {name for name, now in moved.items() if now != still[name]} == {"fence", "feed"}
    assert all((now[0] == still[name][0]) == (now[1] == still[name][1]) for name, now in moved.items())
    page.reload()
    until(page, "window.sweepPage && document.querySelector('#beside table')")
    until(page, "document.querySelector('#beside tbody tr:nth-child(3) td:last-child').innerText === '+2.00 deg'")
    with_it = picture(page)

    page.click("#take-away")
    assert page.query_selector("#section .ghost") is None
    assert picture(page) != with_it
    assert page.inner_text("#beside") == ""


def test_on_a_desk_the_page_itself_never_scrolls_and_holds_what_is_looked_at(browser):
    """Picture, section, both sliders, play, the verdict and the worst flag on one screen, whatever is open beside."""
    sizes = [{"width": 1440, "height": 900}, {"width": 1024, "height": 768}]
    with (
        served(SCENES / "too-greedy.toml") as address,
        watched(browser, address, viewport=sizes[0]) as page,
    ):
        for _ in range(2):
            for size in sizes:
                page.set_viewport_size(size)
                framed(page)
                for thing in ("#solid", "#section svg", "#pass", "#travel", "#play", "#verdict", "#alert", "#save"):
                    box = page.locator(thing).bounding_box()
                    assert box["y"] >= 0, thing
                    assert box["y"] + box["height"] <= size["height"], thing
                whole = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
                assert whole == list(size.values())
            page.eval_on_selector_all("details", "all => all.forEach((one) => { one.name = ''; one.open = true; })")
        assert "do not run this blade" in page.inner_text("#alert")


def test_a_rung_is_dragged_in_the_section_and_what_is_open_stays_open(page):
    """The height follows on the step of a rule, and what the library makes of it is shown."""
    opened(page, "#passes-heights-2")
    drag_rung(page, 2, 6)
    text = page.input_value("#passes-heights-2")

    assert DATA["passes"]["heights"][2] != text
    assert_shows(page, outcome_with({"passes.heights.2": text}))
    assert page.text_content("#save") == "Save 1 change"
    assert page.is_visible("#passes-heights-2")


def test_a_slider_that_is_held_is_let_go_of_by_whatever_is_done_next(page):
    """Nothing waits for it for ever: both are simulated and can be undone."""
    page.evaluate(
        """() => {
            const slider = document.querySelector("#setup-offset-slider");
            slider.value = 4;
            slider.dispatchEvent(new Event("input", { bubbles: true }));
        }"""
    )
    typed(page, "setup.fence_angle", "29")
    until(page, "!sweepPage.editor.queue.length")

    assert_shows(page, outcome_with({"setup.offset": "4 mm", "setup.fence_angle": "29 deg"}))
    assert page.text_content("#save") == "Save 2 changes"
