"""Two pages of one scene used at random: `python -m tests.monkey --seconds 60 --seed 1`.

It ends by the clock. Status 0: no script failed, the file can be read, and each page shows what the library makes of
its scene; 1 otherwise.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import random
import shutil
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from browser import a_browser, settled, until
from demos import SCENES
from playwright.sync_api import Error, Page
from serving import served

from sweep.live import answers
from sweep.live.made import cut_whole
from sweep.scene.changes import changed
from sweep.show.say.profile import verdict_of
from sweep.show.say.report import Report
from sweep.units import Units

TEXTS = ("3", "", "29", "1/8 in", "wide", "2 m", "-4", "12 mm", "0.5", "true", "oak", "20 s")
SEND = "for (const name of names) one.dispatchEvent(new Event(name, { bubbles: true }));"
TYPE = f"""([number, text]) => {{
    const all = document.querySelectorAll("#cards input[type=text], #cards select, #cards textarea");
    const one = all[number % all.length], names = ["input", "change"];
    one.value = text;
    {SEND}
}}"""
SLIDE = f"""([number, share, names]) => {{
    const all = document.querySelectorAll("input[type=range]"), one = all[number % all.length];
    one.value = Number(one.min) + share * (one.max - one.min);
    {SEND}
}}"""
PRESS = """number => {
    const all = document.querySelectorAll("button:not([data-do=shop]):not([data-do=save-as]):not(#files button)");
    all[number % all.length].click();
}"""
LET_GO = """for (const one of document.querySelectorAll("input[type=range]"))
    one.dispatchEvent(new Event("change", { bubbles: true }));"""


def act(page: Page, chance: random.Random) -> None:
    """Do one thing that a maker could do."""
    what, number = (
        chance.choice(["type", "type", "slide", "slide", "press", "press", "press", "reload"]),
        chance.randrange(10**6),
    )
    if what == "type":
        page.evaluate(TYPE, [number, chance.choice(TEXTS)])
    elif what == "slide":
        page.evaluate(SLIDE, [number, chance.random(), chance.choice([["input"], ["input", "change"]])])
    elif what == "press":
        page.evaluate(PRESS, number)
    elif chance.random() < 0.2:
        page.reload()
        until(page, "window.sweepPage && sweepPage.editor", 60)


def wrong_with(page: Page, scene: Path) -> str:
    """Return how a page differs from the library, nothing where it does not."""
    page.evaluate(LET_GO)
    until(page, "sweepPage.editor.idle && !sweepPage.editor.queue.length", 240)
    settled(page)
    now = answers.opened(scene, None)
    if page.evaluate("sweepPage.editor.live.version") != now.version:
        return ""  # it holds edits of its own over an earlier text, and says so
    data = changed(now.tables, page.evaluate("sweepPage.editor.changes"))
    report = cut_whole(data, scene.parent, Units(page.evaluate("sweepPage.units")))
    verdict = report.outcome if isinstance(report, Report) else report.verdict
    wanted, shown = verdict_of(verdict, report.units), page.text_content("#verdict")
    return "" if wanted == shown else f"the page says {shown!r}, the library {wanted!r}"


def main() -> int:
    """Parse, use, tell."""
    parser = argparse.ArgumentParser(prog="python -m tests.monkey", description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    chance, wrong, count = random.Random(asked.seed), [], 0
    with tempfile.TemporaryDirectory() as folder, a_browser() as browser:
        scene = Path(shutil.copy(SCENES / "cornice-to-fit.toml", folder))
        with served(scene) as address:
            pages = [
                browser.new_context(viewport={"width": 1440, "height": 900}, device_scale_factor=0.5).new_page()
                for _ in range(2)
            ]
            for page in pages:
                page.on("pageerror", lambda error: wrong.append(str(error)))
                page.on("dialog", lambda dialog: dialog.accept())
                page.goto(address)
                until(page, "window.sweepPage && sweepPage.editor", 60)
            end = time.monotonic() + asked.seconds
            while time.monotonic() < end:
                count += 1
                try:
                    act(chance.choice(pages), chance)
                except Error as late:
                    print(f"not done in time: {str(late).splitlines()[0]}")
            wrong += [found for page in pages if (found := wrong_with(page, scene))]
    print(f"{count} things done", *wrong, sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
