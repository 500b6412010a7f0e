"""The page can be used by who sees, hears or moves otherwise: an engine that is not ours finds nothing against it."""

from __future__ import annotations

import pytest
from accessible import violations
from browser import framed, typed, until, watched
from demos import SCENES
from reports import report_of
from sent import as_sent
from serving import served
from states import LOOKS

from sweep.show.page.page import write_removal

pytestmark = pytest.mark.usefixtures("coarse_pages")

DESK = {"viewport": {"width": 1440, "height": 900}}
PHONE = {"viewport": {"width": 380, "height": 800}, "has_touch": True, "is_mobile": True}


@pytest.mark.parametrize(("name", "seen", "then"), [("cornice-to-fit", PHONE, "dark"), ("too-greedy", DESK, "light")])
def test_nothing_is_found_against_a_page_in_any_state(browser, name, seen, then):
    """As it opens; with every card open, a text refused, a proposal, the program gone; on a phone, in the dark.

    Between them the two scenes have all that a page can show; every page is made of the same parts.
    """
    first = {"light": "dark", "dark": "light"}[then]
    with served(SCENES / f"{name}.toml") as address, watched(browser, address, color_scheme=first, **seen) as page:
        framed(page)
        assert violations(page) == []
        page.emulate_media(color_scheme=then)
        typed(page, "setup.offset", "1")
        typed(page, "saw.speed", "fast")
        page.eval_on_selector_all("details", "all => all.forEach((one) => { one.name = ''; one.open = true; })")
        if page.is_visible("#solve"):
            page.click("#solve")
            until(page, "document.querySelector('#proposal table') || document.getElementById('notices').textContent")
        page.evaluate("sweepPage.served.away(true)")
        framed(page)
        assert violations(page) == []


def test_nothing_is_found_against_a_page_in_forced_colours(browser, tmp_path):
    """And where colours tell things apart, forced ones do too."""
    sent = tmp_path / "removal.html"
    write_removal(sent, as_sent(report_of("too-greedy")))
    with watched(browser, sent.as_uri(), viewport={"width": 1024, "height": 768}, **LOOKS["forced"]) as page:
        framed(page)
        assert violations(page) == []
        colours = page.eval_on_selector_all(
            "#views button", "all => all.map((one) => [one.ariaPressed, getComputedStyle(one).backgroundColor])"
        )
        pressed = {colour for which, colour in colours if which == "true"}
        assert pressed.isdisjoint(colour for which, colour in colours if which == "false")
        swatches = page.eval_on_selector_all(
            "#legend i", "all => all.map((one) => getComputedStyle(one).backgroundColor)"
        )
        assert len(set(swatches)) == len(swatches) == 3


def test_the_engine_finds_what_is_wrong(browser):
    """So that its silence says something."""
    page = browser.new_page()
    page.set_content("<html lang=en><title>x</title><img src='data:,'><p style='color:#aaa;background:#fff'>faint</p>")
    found = violations(page)
    page.close()

    assert any(one.startswith("image-alt") for one in found)
    assert any(one.startswith("color-contrast") for one in found)
