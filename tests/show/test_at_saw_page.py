"""The phone at the saw, driven in a real browser: touched, without a network, with and without storage."""

from __future__ import annotations

import json
import math
import re
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from accessible import violations
from browser import new_page, until, watched
from demos import CORNICE, SCENES
from permission import permission_in
from playwright.sync_api import Browser, Page
from reports import report_of
from sent import as_sent
from serving import served
from terminal import sweep_here

from sweep.plan.correct.from_table import answer
from sweep.scene.record import read_record
from sweep.show.page.at_saw import saw_model
from sweep.show.page.page import write_removal

PHONE = {"viewport": {"width": 380, "height": 800}, "has_touch": True, "is_mobile": True, "offline": True}
HELD = 1000
"""Milliseconds that the button wants to be held."""


@cache
def sent(name: str) -> dict[str, Any]:
    """What the page of a demo scene shows that is sent."""
    return as_sent(report_of(name)) | {"saw": saw_model(report_of(name))}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Pages of two demo scenes."""
    place = tmp_path_factory.mktemp("sent")
    for name in ("cornice-to-fit", "too-greedy"):
        write_removal(place / f"{name}.html", sent(name))
    return place


@contextmanager
def opened(browser: Browser, path: Path, **how: object) -> Iterator[Page]:
    """Open a page as it was sent; its time goes by a clock that a test may put forward."""
    with watched(browser, path.as_uri(), **PHONE, **how) as page:
        page.clock.install()
        yield page


@contextmanager
def at_the_saw(browser: Browser, path: Path, **how: object) -> Iterator[Page]:
    """Open a page so, and tap the way to its steps."""
    with opened(browser, path, **how) as page:
        to_the_saw(page)
        yield page


@pytest.fixture(scope="module")
def phone(browser, folder):
    """The cornice on a phone."""
    with opened(browser, folder / "cornice-to-fit.html") as page:
        yield page


@pytest.fixture
def page(phone):
    """It is open at its first step, and nothing is kept of it."""
    phone.clock.resume()
    phone.evaluate("localStorage.clear(); history.replaceState(null, '', location.pathname)")
    phone.reload()
    to_the_saw(phone)
    return phone


@pytest.fixture
def anywhere(phone):
    """It is open at some step, whatever was done before."""
    phone.clock.resume()
    if not phone.evaluate("window.sweepSaw?.open"):
        to_the_saw(phone)
    return phone


def to_the_saw(page) -> None:
    """Tap the way to the steps."""
    until(page, "window.sweepSaw")
    page.tap("#at-saw")
    until(page, "sweepSaw.open")


def pause(page) -> None:
    """Let no time go by but what a test lets go by."""
    page.clock.pause_at(page.evaluate("Date.now()") / 1000 + 60)  # later than a busy machine takes to ask for it


def cornice(height: float) -> tuple[float, float]:
    """The width of the cornice's cove at a height, mm, and the flat beside it, in thousandths of a mm."""
    width = 2 * math.sqrt(127**2 - (127 - height) ** 2) * math.sin(math.radians(28)) + 3.2 * math.cos(math.radians(28))
    return 1000 * width, 1000 * (92 - width) / 2


def flat(found: Any) -> list[float]:
    """Every figure of an answer, in order; -1 for what is not told."""
    if isinstance(found, dict):
        return [one for name in sorted(found) if name != "meant" for one in flat(found[name])]
    if isinstance(found, list):
        return [float(len(found)), *(one for each in found for one in flat(each))]
    return [-1.0] if found is None or isinstance(found, str) else [float(found)]


def shown(page) -> str:
    """The key of the step that is shown."""
    return page.evaluate("sweepSaw.step.key")


def go(page, key: str) -> None:
    """Go to a step as a tap on the list does."""
    page.evaluate("key => sweepSaw.go(sweepSaw.saw.steps.findIndex((step) => step.key === key))", key)


def cutting(page) -> bool:
    """Whether the screen is dark, for the blade turns."""
    return page.evaluate("sweepSaw.cutting")


def test_every_step_is_reached_by_thumb_on_a_phone_without_a_network(page):
    """Within the width of 380 px, with Back and Next where the thumb is and nothing smaller than 44 px to tap."""
    page.evaluate("for (const { key, kind } of sweepSaw.saw.steps) if (kind === 'cut') sweepSaw.stood.add(key)")
    seen = [shown(page)]
    page.tap("#saw-next")
    seen += page.evaluate(
        """() => {
            const next = document.getElementById("saw-next"), seen = [sweepSaw.step.key];
            while (!next.disabled && seen.length < 60) {
                const { x, y, width, height } = next.getBoundingClientRect();
                next.scrollIntoView({ block: "nearest" });
                const hit = document.elementFromPoint(x + width / 2, y + height / 2);
                if (hit !== next) throw new Error(`${seen.at(-1)}: ${hit?.outerHTML} lies over Next`);
                next.click();
                seen.push(sweepSaw.step.key);
                for (const one of document.querySelectorAll("body, #saw, #saw-step"))
                    if (one.scrollWidth > 380) throw new Error(`${seen.at(-1)}: ${one.id} is too wide`);
            }
            return seen;
        }"""
    )
    assert len(seen) == len(set(seen)) == 44
    assert page.is_disabled("#saw-next")
    page.tap("#saw-back")
    assert shown(page) == seen[-2]
    sizes = page.eval_on_selector_all(
        "#saw button, #saw .button, #saw label",
        "all => all.map((one) => one.getBoundingClientRect()).map(({ width, height }) => Math.min(width, height))",
    )
    assert all(size >= 43.5 for size in sizes if size)


def test_no_number_of_quick_spaces_gets_past_a_cut_and_holding_for_a_second_does(page):
    """Nor quick taps, nor a space bar held down since the step before; and after the hold nothing goes on by itself."""
    go(page, "pass-1-set")
    pause(page)
    page.keyboard.down(" ")
    assert shown(page) == "scrap-cut"
    for _ in range(12):
        page.keyboard.down(" ")  # the same key, held: the browser repeats it
    page.clock.run_for(2 * HELD)
    assert cutting(page)
    page.keyboard.up(" ")
    for quick in (lambda: page.keyboard.press(" "), lambda: page.tap("#saw-still")):
        for _ in range(5):
            quick()
            page.clock.run_for(HELD / 2)
        page.clock.run_for(2 * HELD)
        assert shown(page) == "scrap-cut"
        assert cutting(page)
        assert page.is_hidden("#saw-next")

    page.keyboard.down(" ")
    page.clock.run_for(HELD - 1)
    assert cutting(page)
    page.clock.run_for(2)
    assert not cutting(page)
    for _ in range(5):
        page.keyboard.down(" ")
    page.keyboard.up(" ")
    assert shown(page) == "scrap-cut"
    page.keyboard.press(" ")
    assert shown(page) == "scrap-look"


def test_while_the_blade_turns_the_screen_is_dark_and_still(page):
    """No picture, no figure, no field, nothing that moves or sounds; black but for the words."""
    go(page, "pass-3-cut")
    assert page.evaluate("getComputedStyle(document.getElementById('saw')).backgroundColor") == "rgb(0, 0, 0)"
    for place in ("saw-picture", "saw-big", "saw-more"):
        assert page.evaluate(f"document.getElementById('{place}').childElementCount") == 0
    assert page.evaluate("document.getAnimations().length") == 0
    assert page.evaluate("sweepSaw.ticking.timer") == 0
    before = page.screenshot()
    page.clock.run_for(3000)
    assert page.screenshot() == before
    words = page.inner_text("#saw")
    assert "nobody looks at a screen" in words
    assert "5 blanks at this height" in words


def test_what_is_ticked_counted_and_measured_survives_a_reload_and_is_read_by_the_program(page, tmp_path):
    """The place too; and the file that is written out is a record, every figure in it as it was typed."""
    page.check("#saw-done")
    go(page, "pass-2-cut")
    page.evaluate("sweepSaw.still()")
    for box in (1, 2, 4):
        page.check(f".saw-blanks label:nth-of-type({box}) input")
    go(page, "pass-5-look")
    page.fill("#saw-width", "51.9")
    page.fill("#saw-depth", "eleven")
    page.fill("#saw-accuracy", "0,1")
    page.tap("#saw-title")
    assert page.get_attribute("#saw-depth", "aria-invalid") == "true"
    assert page.inner_text(".saw-tells") == ""
    page.reload()
    until(page, "window.sweepSaw")
    assert shown(page) == "pass-5-look"
    assert page.input_value("#saw-width") == "51.9"
    assert page.get_attribute(".saw-left", "start") == "6"
    assert page.input_value("#saw-depth") == ""
    go(page, "pass-2-cut")
    assert not cutting(page)
    assert page.evaluate("[...document.querySelectorAll('.saw-blanks input')].map((box) => box.checked)") == [
        True, True, False, True, False,
    ]  # fmt: skip
    go(page, "keep")
    with page.expect_download() as coming:
        page.tap("#saw-write")
    coming.value.save_as(tmp_path / "record.toml")
    record, measured = read_record(tmp_path / "record.toml")

    assert record.title == "Cornice to fit"
    assert record.steps == 44
    assert record.ticked == (1, 14)
    assert record.counted == (0, 3, 0, 0, 0, 0, 0, 0)
    assert record.date == time.strftime("%Y-%m-%d")
    assert measured == [{"setup": 1, "after_pass": 5, "width": "51.9 mm", "accuracy": "0,1 mm"}]
    assert record.measured[0].width == pytest.approx(51.9)


def test_the_phone_tells_of_measurements_what_the_program_reads_in_the_same_table(anywhere):
    """`from_table.answer`, which other tests hold to `sweep correct`, on random cornices set a little wrong."""
    page = anywhere
    table = page.evaluate("sweepSaw.saw.tables[0]")
    chance, asked = np.random.default_rng(15), []
    for _ in range(60):
        number = int(chance.integers(1, 9))
        meant = (table["heights"][number - 1], *cornice(table["heights"][number - 1] / 1000))
        sizes = [float(size + chance.normal(0, 400)) for size in (meant[1], meant[0], meant[2])]
        shown_or_not = [None if chance.random() < 0.3 else round(size) for size in sizes]
        if any(size is not None for size in shown_or_not):
            asked.append((number, *shown_or_not, float(chance.choice([50, 100, 250]))))
    told = page.evaluate(
        "all => all.map(([number, width, depth, flat, accuracy]) =>"
        " sweepSaw.answer(sweepSaw.saw.tables[0], number, { width, depth, flat }, accuracy))",
        asked,
    )
    texts = ["13/16", "2 3/64", "2-1/32", "51,9", ".5", "1/0", "wide", ""]
    typed = page.evaluate("texts => texts.map((text) => sweepSaw.typed(text, 'in'))", texts)
    assert typed == [pytest.approx(25400 * size) for size in (13 / 16, 2 + 3 / 64, 2 + 1 / 32, 51.9)] + [None] * 4
    read = [answer(table, number, *sizes, (exact,) * 3) for number, *sizes, exact in asked]

    assert sum(one is not None for one in read) > 40
    for ours, theirs in zip(told, read, strict=True):
        assert (ours is None) is (theirs is None)
        if theirs is not None:
            assert flat(theirs) == pytest.approx(flat({name: ours[name] for name in theirs}), rel=1e-9, abs=1e-6)


def test_measured_wide_and_deep_the_phone_says_what_to_move_and_what_remains(page, tmp_path):
    """A cornice whose pass 5 came 51.9 mm wide and 11.1 deep: the figures of `sweep correct --json`.

    28.20 deg is the plane geometry of a disc: w = 2 sqrt(r^2 - (r - h)^2) sin a + k cos a.
    """
    sizes = ("--pass", "5", "--width", "51.9 mm", "--depth", "11.1 mm")
    told = json.loads(sweep_here("correct", SCENES / "cornice-to-fit.toml", *sizes, "--json", folder=tmp_path).stdout)
    go(page, "pass-5-look")
    for name, text in (("width", "51.9"), ("depth", "11.1"), ("accuracy", "0.1")):
        page.fill(f"#saw-{name}", text)
        page.press(f"#saw-{name}", "Tab")
    said = page.inner_text(".saw-tells")
    page.evaluate("sweepSaw.saw.tables[0].lift = 2000")  # on a saw whose wheel lifts the blade so far a turn
    go(page, "pass-5-look")
    assert "13.00 mm high, up 1.90 mm, 0.95 turns; feed" in page.inner_text(".saw-tells")

    half = {name: (ends[1] - ends[0]) / 2 for name, ends in told["intervals"].items() if ends is not None}
    angle, height = told["set"]["fence_angle_deg"], told["set"]["blade_height_mm"]
    assert angle == pytest.approx(28.20, abs=0.005)
    assert f"Fence angle: {angle:.2f} deg ± {half['fence_angle_deg']:.2f} deg, set to 28.00 deg" in said
    assert f"Blade height: {height:.2f} mm ± {half['blade_height_mm']:.2f} mm, set to 11.00 mm" in said
    assert "Offset: not measured" in said
    assert "28.00 deg is within what was measured. Measure finer" in said
    assert "front mark 1.6 mm to the right and its rear mark 1.5 mm to the left, both" in said
    assert "61.32 mm wide and 16.10 mm deep" in said
    assert permission_in(said) is None
    left = re.findall(r"([0-9.]+) mm high, up ([0-9.]+) mm; feed ([0-9.]+) m/min; then", said)
    assert [tuple(map(float, one)) for one in left] == [
        pytest.approx((one["height_mm"], one["rise_mm"], 0.06 * one["feed_speed_mm_per_s"]), abs=0.006)
        for one in told["passes"]
    ]


def test_a_changed_job_says_so_and_shows_no_tick_of_the_old_one(browser, tmp_path):
    """Ticks are kept by a digest of the scene, and those of the old one are there again with it."""
    shown = sent("cornice-to-fit")
    write_removal(file := tmp_path / "removal.html", shown)
    with at_the_saw(browser, file) as page:
        page.check("#saw-done")
        for changed, ticked in (({"job": "of another scene"}, False), ({}, True)):
            write_removal(file, shown | {"saw": shown["saw"] | changed})
            page.reload()
            until(page, "window.sweepSaw")
            assert page.is_checked("#saw-done") is ticked
            assert ("This job has changed since" in page.inner_text("#saw-notices")) is not ticked


def test_the_bar_runs_at_the_pace_of_the_passes_and_only_with_the_plug_out(page):
    """900 mm at 2 m/min take 27 s, so each second fills a 27th; leaving the step ends it."""
    assert page.evaluate("sweepSaw.saw.steps.filter(({ paces }) => paces).map(({ key }) => key)") == ["practise"]
    go(page, "practise")
    assert page.inner_text("#saw-banner") == "PLUG OUT, IN YOUR SIGHT"
    pause(page)
    page.click("#saw-more button")
    for passed in (1, 13, 26):
        page.clock.run_for(1000 if passed == 1 else 12_000 if passed == 13 else 13_000)
        share = page.evaluate("parseFloat(document.querySelector('.saw-pace i').style.width) / 100")
        assert share == pytest.approx(passed / 27, abs=0.001)


def test_a_browser_that_keeps_nothing_is_told_of_and_the_steps_go_on(browser, folder):
    """As a private window may: every access throws. The screen is asked to stay awake all the same."""
    page = new_page(browser, **PHONE)
    awake = "{ request: async (kind) => { window.awake = kind; return { release() {} }; } }"
    page.context.add_init_script(f"Object.defineProperty(navigator, 'wakeLock', {{ value: {awake} }})")
    page.context.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } })"
    )
    page.goto(f"{(folder / 'cornice-to-fit.html').as_uri()}#at-the-saw")
    until(page, "window.sweepSaw")
    assert page.evaluate("window.awake") == "screen"
    assert "keeps nothing" in page.inner_text("#saw-notices")
    page.check("#saw-done")
    page.tap("#saw-next")
    page.tap("#saw-back")
    assert page.is_checked("#saw-done")
    page.tap("#saw-leave")  # opened by a bookmark, so that there is nothing to go back to
    until(page, "!sweepSaw.open")
    page.context.close()


def test_a_flag_that_bars_the_cut_is_seen_at_once_and_no_button_ends_a_cut(browser, folder):
    """On the first screen without scrolling, and in the place of every cut."""
    with at_the_saw(browser, folder / "too-greedy.html") as page:
        flag = page.locator("#saw-flags li", has_text="do not run this blade").bounding_box()
        assert flag["y"] + flag["height"] < page.locator(".saw-mark").bounding_box()["y"]
        go(page, "pass-1-cut")
        assert page.is_hidden("#saw-still")
        assert "do not run this blade" in page.inner_text("#saw-step")


def test_nothing_is_found_against_the_steps_by_who_checks_pages(anywhere):
    """axe-core, on one step of each kind, in the light and in the dark; headings, names and contrast among it."""
    page = anywhere
    keys = ["wood", "practise", "pass-2-set", "pass-2-cut", "pass-2-look", "keep"]
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        for key in keys if scheme == "light" else keys[2:5]:
            go(page, key)
            assert violations(page) == [], (scheme, key)


def test_a_served_job_has_its_steps_at_a_page_of_their_own_and_says_when_it_changed(browser, tmp_path):
    """At /saw, by a link from the job's page; the words of a title stay words."""
    scene = shutil.copy(CORNICE, tmp_path / "job.toml")
    title = "<b id=smuggled>Cornice</b> {{ 7 * 7 }}"
    scene.write_text(scene.read_text().replace('title = "', f'title = "{title} ', 1))
    with served(scene) as address:
        page = new_page(browser)
        page.clock.install()
        page.goto(f"{address}saw")
        until(page, "window.sweepSaw")
        assert page.text_content("h1").startswith(title)
        assert page.query_selector("#smuggled") is None
        assert page.get_attribute("#saw-leave", "href") == "./"
        scene.write_text(scene.read_text().replace("28 deg", "27 deg", 1))
        page.clock.fast_forward(5000)
        until(page, "document.getElementById('saw-notices').textContent.includes('has changed since this page')")
        page.context.close()
