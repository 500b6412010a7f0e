"""The page of a folder of profiles: sorted, filtered, opened by keys alone, and nothing is found against it."""

from __future__ import annotations

import dataclasses

from accessible import violations
from hostile import OBEYED
from npm import WEB, checked_by

from sweep.shop.alike import Alike
from sweep.shop.row import Answer, Row, without_figures
from sweep.show.page.drawer import write_drawer_page
from sweep.show.say.shop import scene_of
from sweep.units import Units

ARC = ((-3000, 0), (-2000, 900), (0, 1500), (2000, 900), (3000, 0))
HOSTILE = "</script><img src=x onerror=alert(1)>" + OBEYED[0] + ".csv"


def answer(name: str, deviation: float, flags: str = "") -> Answer:
    """An answer of two blades."""
    best = Row(name, "10 in", 1, 28.0, 15.0, 0.0, 0.5, deviation, deviation <= 0.25, 6, 14.5, flags)
    second = dataclasses.replace(best, blade="thin", rank=2, passes=None, minutes=None, flags=None)
    return Answer(name, (best, second), wanted=ARC, cut=ARC, scene="x")


MANY = [answer(f"p{number:03d}.csv", (number * 37 % 120) / 100) for number in range(120)]


def test_profiles_are_found_by_keys_alone_and_nothing_is_found_against_the_page(browser, tmp_path):
    """Names that would be markup are names; sorted by deviation, flagged ones filtered, the second page, a card."""
    answers = [*MANY, answer("flagged.csv", 0.1, "rise-large push-hard"), without_figures(HOSTILE, "it is broken")]
    alike = [Alike("p000.csv", "p001.csv", "same", 0.02, True)]
    path = tmp_path / "shop.html"
    write_drawer_page(
        path, "Profiles", sorted(answers, key=lambda one: one.profile), alike, {"p000.csv": "a.toml"}, True, Units("in")
    )
    context = browser.new_context(color_scheme="dark", viewport={"width": 1280, "height": 800})
    page, wrong, asked = context.new_page(), [], []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    first = "document.querySelector('#rows th').textContent"

    assert page.text_content("#count") == "122 of 122 profiles" and page.locator("#rows tr").count() == 50
    line = "m-600 0 200-180 400-120 400 120 200 180"  # twentieths of a mm, downwards
    assert page.get_attribute("#rows svg .wanted", "d") == page.get_attribute("#rows svg .cut", "d") == line
    page.focus("[data-head=deviation] button")
    page.keyboard.press("Enter")
    assert page.evaluate(first) == "p000.csv"
    page.keyboard.press("Enter")
    assert page.get_attribute("[data-head=deviation]", "aria-sort") == "descending"
    assert page.evaluate(first) == "p107.csv"  # 107 * 37 = 32 * 120 + 119
    page.focus("#after")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert page.text_content("#place") == "101 to 122"
    assert HOSTILE[:8] in page.text_content("#rows tr:last-child th")  # without a figure it comes last
    assert violations(page) == []
    page.select_option("#state", "flagged")
    assert page.text_content("#rows").count("rise large, push hard") == 1 and page.locator("#rows tr").count() == 1
    page.select_option("#state", "alike")
    page.focus("#rows tr:last-child button")
    page.keyboard.press("Enter")
    card = page.locator("#card")
    assert card.evaluate("card => card.open")
    assert "19/32" in card.text_content() and "the same as p001.csv, seen from its other end" in card.text_content()
    page.focus("#scene summary")
    page.keyboard.press("Enter")
    assert card.locator("a").get_attribute("href") == "a.toml"
    assert page.text_content("#text") == scene_of(answers[0])
    assert violations(page) == []
    path.with_name("drawn.html").write_text(page.content(), encoding="utf-8")
    page.keyboard.press("Escape")
    assert not card.evaluate("card => card.open")
    context.close()

    assert (wrong, asked) == ([], [path.as_uri()])
    files = [path, path.with_name("drawn.html")]
    assert checked_by("html-validate", "--config", WEB / ".htmlvalidate.json", *files) == ""


def test_ten_thousand_profiles_do_not_freeze_the_page(browser, tmp_path):
    """Sorting takes no longer than a blink; a page of them is laid out, not all. A click, and a scene is saved."""
    path = tmp_path / "shop.html"
    names = {f"{k}.csv": f"scene-{k}.toml" for k in range(10_000)}
    many = (dataclasses.replace(MANY[k % 120], profile=name) for k, name in enumerate(names))
    write_drawer_page(path, "Many", many, [], names, False, Units())
    page = browser.new_page()
    page.goto(path.as_uri())
    page.wait_for_selector("#rows tr")
    took = page.evaluate(
        """() => { const start = performance.now(); document.querySelector('[data-head=deviation] button').click();
        document.body.offsetHeight; return performance.now() - start; }"""
    )
    rows = page.locator("#rows tr").count()
    page.click("#rows tr:first-child th button")
    page.click("#scene summary")
    with page.expect_download() as saved:
        page.click("#file button")
    page.close()

    assert rows == 50
    assert saved.value.suggested_filename == "scene-0.toml"
    assert took < 2000  # a tenth of it on an idle machine
    assert path.stat().st_size < 10_000_000
