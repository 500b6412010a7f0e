"""Every step of every demo scene on a phone at the saw, touched in turn, without a network; screenshots to look at.

    .venv/bin/python -m tests.saw_tour --out /tmp/tour [--units in] [SCENE ...]

Raises where a step cannot be reached, is wider than the screen or the page complains; writes a sheet of every 24 steps.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import dataclasses
import io
import sys
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parent))

from browser import launched, until
from demos import DEMOS, SEVERAL
from reports import report_of, setups_report_of

from sweep.show.page.page import removal_of, write_removal
from sweep.units import Units

PHONE = {"viewport": {"width": 380, "height": 800}, "has_touch": True, "is_mobile": True, "offline": True}
IN_ROW, ON_SHEET, SMALLER = 8, 24, 2 / 3
WIDE = "[...document.querySelectorAll('body, #saw, #saw-step')].every((one) => one.scrollWidth <= innerWidth)"


def main() -> None:
    """Read the command line, and tour."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("scenes", nargs="*", default=[*DEMOS, *SEVERAL])
    asked.add_argument("--out", type=Path, required=True)
    asked.add_argument("--units", choices=("mm", "in", "in-decimal"))
    given = asked.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as driver:
        browser = launched(driver.chromium)
        for name in given.scenes:
            tour(browser, name, given.out, given.units)
        browser.close()


def tour(browser: Browser, name: str, out: Path, style: str | None) -> None:
    """Go through the steps of a scene."""
    report = setups_report_of(name) if name in SEVERAL else report_of(name)
    if style is not None:
        report = dataclasses.replace(report, units=Units(style))
    file = out / f"{name}.html"
    write_removal(file, removal_of(report))
    context = browser.new_context(**PHONE)
    page, wrong = context.new_page(), []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.goto(file.as_uri())
    until(page, "window.sweepSaw")
    page.tap("#at-saw")
    until(page, "sweepSaw.open")
    count, shots = page.evaluate("sweepSaw.saw.steps.length"), []
    for number in range(1, count + 1):
        assert page.text_content("#saw-place") == f"{number} of {count}"
        assert page.evaluate(WIDE), (name, page.evaluate("sweepSaw.step.key"))
        shots.append(_shot(page))
        if page.evaluate("sweepSaw.cutting"):
            _hold(page)
            shots.append(_shot(page))
        if number < count:
            page.tap("#saw-next")
    assert wrong == []
    context.close()
    for sheet, first in enumerate(range(0, len(shots), ON_SHEET)):
        _sheet(shots[first : first + ON_SHEET]).save(out / f"{name}-{sheet}.png")
    print(f"{name}: {count} steps, {file.stat().st_size} bytes without the files of a run")


def _shot(page: Page) -> Image.Image:
    return Image.open(io.BytesIO(page.screenshot())).convert("RGB")


def _hold(page: Page) -> None:
    """Hold the button that ends a cut."""
    box = page.locator("#saw-still").bounding_box()
    page.mouse.move(box["x"] + 50, box["y"] + 30)
    page.mouse.down()
    until(page, "!sweepSaw.cutting")
    page.mouse.up()


def _sheet(shots: list[Image.Image]) -> Image.Image:
    rows = -(-len(shots) // IN_ROW)
    sheet = Image.new("RGB", (IN_ROW * 384, rows * 804), "white")
    for place, shot in enumerate(shots):
        sheet.paste(shot, (place % IN_ROW * 384, place // IN_ROW * 804))
    return sheet.resize((round(sheet.width * SMALLER), round(sheet.height * SMALLER)))


if __name__ == "__main__":
    main()
