"""A whole job on the page, from an empty folder to its sheet, by mouse or by keys alone: `python -m tests.whole_job`.

In inches and in mm, each by both; then what was saved is run, and the page is held to `result.json`. Status 0: all is
as it should be; 1 otherwise.
"""

# ruff: noqa: T201

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Protocol

sys.path.insert(0, str(Path(__file__).parent))

from browser import a_browser, settled, until
from monkey import differs, run_of
from playwright.sync_api import Page
from serving import program

MOST_TABS = 300

WAY = """one => {
    const at = document.activeElement, isChoice = one.type === "radio" && at.name === one.name;
    if (one === at || isChoice) return "";
    return at.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_PRECEDING ? "Shift+Tab" : "Tab";
}"""
"""Which key leads to something; none where it, or a choice of its group, has the focus."""

IN_MM = {"stock": "900 x 92 x 22", "width": "56,5", "depth": "14", "blade": "254 x 3.2 x 40"}
IN_INCHES = {"stock": "4 ft x 3 x 3/4", "shoulders": "5/8", "above": "3/8", "blade": "10 x 1/8 x 40"}


class Hands(Protocol):
    """How a maker uses a page; what is written is written with the keyboard either way."""

    def press(self, thing: str) -> None:
        """Press a button, or choose."""

    def write(self, field: str, text: str) -> None:
        """Write a text in the place of what stands in a field."""

    def slide(self, slider: str) -> None:
        """Move a slider to the right, by less than a tenth of its way."""


class Keys:
    """The keyboard alone: Tab to whatever is used, and no other way to it."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def to(self, thing: str) -> None:
        """Press Tab, or Shift and Tab where it lies before, until something has the focus."""
        for _ in range(MOST_TABS):
            way = self.page.eval_on_selector(thing, WAY)
            if not way:
                return
            self.page.keyboard.press(way)
        raise AssertionError(f"Tab does not lead to {thing}")

    def press(self, thing: str) -> None:
        """Go there and press Enter; of two choices the other one is chosen by an arrow."""
        self.to(thing)
        is_choice = self.page.eval_on_selector(thing, "one => one.type === 'radio'")
        self.page.keyboard.press("ArrowRight" if is_choice else "Enter")

    def write(self, field: str, text: str) -> None:
        """Go there, mark all that stands in it, and write."""
        self.to(field)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text)

    def slide(self, slider: str) -> None:
        """Go there and press Page Up."""
        self.to(slider)
        self.page.keyboard.press("PageUp")


class Mouse:
    """The mouse: pointed at where it is, and clicked there."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def at(self, thing: str, share: float = 0.5) -> tuple[float, float]:
        """Bring something into sight and return a place in it."""
        self.page.locator(thing).scroll_into_view_if_needed()
        box = self.page.locator(thing).bounding_box()
        assert box is not None, thing
        return box["x"] + share * box["width"], box["y"] + box["height"] / 2

    def press(self, thing: str) -> None:
        """Click on it."""
        self.page.mouse.click(*self.at(thing))

    def write(self, field: str, text: str) -> None:
        """Click into it thrice, so that all is marked, and write."""
        self.page.mouse.click(*self.at(field), click_count=3)
        self.page.keyboard.type(text)

    def slide(self, slider: str) -> None:
        """Drag its knob."""
        share = self.page.eval_on_selector(slider, "one => (one.value - one.min) / (one.max - one.min)")
        self.page.mouse.move(*self.at(slider, share))
        self.page.mouse.down()
        self.page.mouse.move(*self.at(slider, share + 0.08), steps=4)
        self.page.mouse.up()


def done(page: Page, address: str, hands: Hands, inches: bool, name: str) -> bytes:
    """Do a whole job in a folder without jobs, and return its sheet; the scene is saved under a name."""
    page.goto(address)
    assert "No jobs here yet" in page.inner_text("main")
    if inches:
        hands.press("#in-inches")
    hands.write("#name", name)
    for question, text in (IN_INCHES if inches else IN_MM).items():
        hands.write(f"#new-{question}", text)
    hands.write("#new-speed", "fast")
    until(page, "document.getElementById('new-speed-note').textContent")
    assert "is not a number and a unit" in page.inner_text("#new-speed-note")
    hands.write("#new-speed", "3450")
    until(page, "document.querySelector('#sketch svg')")
    assert ("1 3/4 in" if inches else "56.50 mm") + " at the table" in page.text_content("#sketch svg")
    hands.press("#begin")
    page.wait_for_url("**/job/**")
    until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
    settled(page)
    assert page.inner_text("#save") == "As in the file"
    hands.press("#card-passes > details > summary")
    hands.press("#card-passes [data-do=even]")
    settled(page)
    hands.press("#card-setup > details > summary")
    hands.slide("#setup-fence_angle-slider")
    settled(page)
    assert "OUT OF" in page.inner_text("#verdict")
    hands.press("#solve")
    until(page, "document.querySelector('#proposal table')", 60)
    hands.press("[data-proposal=take]")
    settled(page)
    assert "within tolerance" in page.inner_text("#verdict")
    hands.press("#save")
    until(page, "/^Saved/.test(document.getElementById('status').textContent)")
    with page.expect_download() as waiting:
        hands.press("#files button:has-text('sheet.pdf')")
    return Path(waiting.value.path()).read_bytes()


def wrong_in(page: Page, folder: Path, hands: Hands, inches: bool) -> Iterator[str]:
    """Do a job by the program as a maker starts it; yield what is wrong with what came of it."""
    with program(folder) as address:
        page.on("pageerror", lambda error: print(f"script error: {error}"))
        if not done(page, address, hands, inches, "rail").startswith(b"%PDF-"):
            yield "the sheet is no PDF"
        text = (folder / "rail.toml").read_text()
        foreign = [line for line in text.splitlines() if (' mm"' if inches else ' in"') in line]
        if foreign:
            yield f"in the other notation: {foreign}"
        yield from differs(page, run_of(folder / "rail.toml"))


def main() -> int:
    """Do each of the four, and tell."""
    all_wrong = []
    with a_browser() as browser:
        for hands in (Mouse, Keys):
            for inches in (False, True):
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                page.set_default_timeout(60_000)
                with tempfile.TemporaryDirectory() as folder:
                    wrong = list(wrong_in(page, Path(folder), hands(page), inches))
                print(f"{hands.__name__}, {'inches' if inches else 'mm'}: {wrong or 'as it should be'}", flush=True)
                all_wrong += wrong
                page.close()
    return 1 if all_wrong else 0


if __name__ == "__main__":
    sys.exit(main())
