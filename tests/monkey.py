"""Two pages of one scene used at random: `python -m tests.monkey --seconds 60 --seeds 1 2 --scenes picture-rail`.

Each seed and scene ends by the clock. Then each page is saved, and what it shows is held against `result.json` of
`sweep run` on the file. Status 0: no script failed, no edit is lost, and all figures are equal; 1 otherwise. In
`base-in-mm` the base of two coves is written in mm.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import json
import random
import re
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from browser import a_browser, drag_rung, settled, shown_volume, until
from demos import SCENES
from playwright.sync_api import Browser, Error, Page
from serving import served

from sweep.live import answers
from sweep.quantity import read_quantity
from sweep.scene.changes import changed
from sweep.units import LENGTH, SPEED

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
        chance.choice(["type", "type", "slide", "slide", "press", "press", "press", "drag", "reload"]),
        chance.randrange(10**6),
    )
    if what == "type":
        page.evaluate(TYPE, [number, chance.choice(TEXTS)])
    elif what == "slide":
        page.evaluate(SLIDE, [number, chance.random(), chance.choice([["input"], ["input", "change"]])])
    elif what == "press":
        page.evaluate(PRESS, number)
    elif what == "drag":
        rungs = page.locator("#section .rung[stroke=transparent]").count()
        if rungs:
            drag_rung(page, number % rungs, chance.uniform(-9, 9))
    elif chance.random() < 0.2:
        page.reload()
        until(page, "window.sweepPage && sweepPage.editor", 60)


def at_rest(page: Page) -> None:
    """Let go of every slider, and wait until all is worked out, what was kept before a reload taken up among it."""
    until(page, "window.sweepPage && sweepPage.editor", 60)
    page.evaluate(LET_GO)
    until(page, "sweepPage.editor.idle && !sweepPage.editor.queue.length && !sweepPage.editor.before", 240)
    settled(page)


def up_to_date(page: Page, scene: Path) -> None:
    """Wait until a page has taken in what the file says; it asks where it has something unsaved."""
    at_rest(page)
    version = answers.opened(scene, None).version
    until(page, f"document.getElementById('take-in') || sweepPage.editor.live.version === '{version}'", 60)
    if page.evaluate("sweepPage.editor.live.version") != version:
        page.click("#take-in")
        until(page, f"sweepPage.editor.live.version === '{version}'", 60)
    at_rest(page)


def saved(page: Page, scene: Path) -> Iterator[str]:
    """Save a page, what was saved elsewhere taken in before; yield what is lost by it.

    What cannot be finished cannot be saved: it is undone until it can.
    """
    up_to_date(page, scene)
    while page.evaluate("Object.keys(sweepPage.editor.state.changes).length"):
        now, changes = answers.opened(scene, None), page.evaluate("sweepPage.editor.changes")
        page.evaluate("sweepPage.editor.save()")
        at_rest(page)
        if not page.text_content("#notices"):
            if tomllib.loads(scene.read_text()) != changed(now.tables, changes):
                yield f"the file does not hold what was changed: {changes}"
            return
        if not page.evaluate("sweepPage.editor.past.length"):
            yield f"nothing can be saved: {page.text_content('#notices')}"
            return
        page.evaluate("sweepPage.editor.turn('undo')")
        at_rest(page)


def differs(page: Page, result: dict[str, Any]) -> Iterator[str]:
    """Yield how a page differs from the `result.json` of a run, figure by figure, in mm."""
    if "refused" in result:
        yield f"what was saved does not run: {result['refused']}"
        return
    page.select_option("#units", "mm")
    at_rest(page)
    several = bool(page.evaluate("sweepPage.setups.several"))
    setups = result["setups"] if several else [result]
    models = page.evaluate("""sweepPage.setups.models.map((one) => ({ passes: one.passes, columns: one.columns,
        codes: one.flags.filter(({ of, mild }) => !mild && of === (one.name ?? "job")).map(({ code }) => code) }))""")
    if len(models) != len(setups):
        yield f"the page has {len(models)} set-ups, the run {len(setups)}"
        return
    for model, setup in zip(models, setups, strict=True):
        if [flag["code"] for flag in setup["flags"]] != model["codes"]:
            yield f"the page flags {model['codes']}, the run {setup['flags']}"
        if len(model["passes"]) != len(setup["passes"]):
            yield f"the page has {len(model['passes'])} passes, the run {len(setup['passes'])}"
            continue
        units = [unit for _, unit in model["columns"]]
        for one, told in zip(model["passes"], setup["passes"], strict=True):
            codes = [flag["code"] for flag in told["flags"]]
            if [flag["code"] for flag in one["flags"]] != codes:
                yield f"pass {one['number']}: the page flags {one['flags']}, the run {codes}"
            yield from _cells(one, told, units)
    flags = [flag for setup in setups for part in (setup, *setup["passes"]) for flag in part["flags"]]
    count = len(flags) + (len(result["flags"]) if several else 0)
    alert = page.inner_text("#alert")
    if not alert.startswith(f"! {count} flag" if count else "Nothing is flagged"):
        yield f"the page says {alert!r}, the run has {count} flags"
    check, verdict = result["check"], page.text_content("#verdict")
    if check and check["max_deviation_mm"] is not None and f"at most {check['max_deviation_mm']:.3f} mm" not in verdict:
        yield f"the page says {verdict!r}, the run {check['max_deviation_mm']}"
    page.evaluate("sweepPage.go(sweepPage.setups.last, 1)")
    at_rest(page)
    shown, made = shown_volume(page), result["finished"]["volume_mm3"]
    if abs(shown - made) > 1e-6 * made:
        yield f"the page shows {shown} mm3, the run makes {made}"


def _cells(one: dict[str, Any], told: dict[str, Any], units: list[str]) -> Iterator[str]:
    """Yield which figures of a pass in the page's table are not those of the run, to the last digit shown."""
    feed = read_quantity(f"{one['cells'][4]} {units[4]}", SPEED)
    wanted = {
        0: told["height_mm"],
        1: told["rise_mm"],
        2: told["width_mm"],
        3: told["area_mm2"],
        5: told["chip_thickness_max_mm"],
    }
    for place, value in wanted.items():
        digits = len(one["cells"][place].partition(".")[2])
        if abs(float(one["cells"][place]) - value) > 0.500001 * 10**-digits:
            yield f"pass {one['number']}: the page says {one['cells']}, the run {value} in column {place + 1}"
    if abs(feed - told["feed_speed_mm_per_s"]) > 0.9:  # 0.05 m/min
        yield f"pass {one['number']}: the page feeds {feed} mm/s, the run {told['feed_speed_mm_per_s']}"
    band = [value for value in (told["power_low_w"], told["power_high_w"]) if value is not None]  # none of unknown wood
    shown = [float(text) for text in one["cells"][6].split("-") if text]
    apart = [abs(text - value) - 0.06 * value for text, value in zip(shown, band, strict=False)]
    if len(shown) != len(band) or max(apart, default=0) > 0.5:
        yield f"pass {one['number']}: the page says {one['cells'][6]} W, the run {band}"  # two figures are shown
    if told["governing_limit"] and one["cells"][7].replace(" ", "_") != told["governing_limit"]:
        yield f"pass {one['number']}: nearest limit {one['cells'][7]}, in the run {told['governing_limit']}"


def run_of(scene: Path) -> dict[str, Any]:
    """Return `result.json` of a run of a scene, as a maker runs it, or why it is refused."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "out"
        command = [sys.executable, "-m", "sweep", "run", str(scene), "--no-pictures", "--out", str(out)]
        ended = subprocess.run(command, capture_output=True, text=True, check=False)
        if ended.returncode not in (0, 1):
            return {"refused": ended.stderr}
        return json.loads((out / "result.json").read_text())


def text_of(name: str) -> str:
    """Return the text of a demo scene, or of the one that is written in mm for this."""
    if name != "base-in-mm":
        return (SCENES / f"{name}.toml").read_text()

    def metric(found: re.Match[str]) -> str:
        text = found[1]
        if text.endswith("/min"):
            return f'"{read_quantity(text, SPEED) * 60 / 1000:.1f} m/min"'
        return f'"{read_quantity(text, LENGTH):.1f} mm"'

    text = (SCENES / "base-of-two-coves.toml").read_text()
    return re.sub(r'"(-?[0-9][0-9 /]*(?:in|ft|ft/min))"', metric, text)


def used(
    open_page: Callable[[], Page],
    scene: Path,
    seed: int,
    goes_on: Callable[[int], bool],
    run: Callable[[Path], dict[str, Any]],
) -> tuple[int, list[str]]:
    """Use two pages of a scene at random; return how much was done, and what was wrong.

    Parameters
    ----------
    open_page : () -> Page
        In a context of its own.
    scene : Path
    seed : int
    goes_on : int -> bool
        From how much was done to whether more is to be.
    run : Path -> dict
        From a scene's file to `result.json` of a run.
    """
    chance, wrong, count = random.Random(seed), [], 0
    with served(scene) as address:
        pages = [open_page() for _ in "12"]
        for page in pages:
            page.set_default_timeout(60_000)
            page.on("pageerror", lambda error: wrong.append(str(error)))
            page.on("dialog", lambda dialog: dialog.accept())
            page.goto(address)
            until(page, "window.sweepPage && sweepPage.editor", 60)
        while goes_on(count):
            count += 1
            try:
                act(chance.choice(pages), chance)
            except (Error, AssertionError) as late:
                print(f"not done in time: {str(late).splitlines()[0]}")
        for page in pages:
            wrong += saved(page, scene)
        up_to_date(pages[0], scene)
        result = run(scene)
        for number, page in reversed(list(enumerate(pages, start=1))):
            wrong += [f"page {number}: {found}" for found in differs(page, result)]
        if wrong:
            wrong.append(f"the scene as it was saved at the end:\n{scene.read_text()}")
        for page in pages:
            page.context.close()
    return count, wrong


def by_the_clock(browser: Browser, name: str, seed: int, seconds: float) -> tuple[int, list[str]]:
    """Use two pages of a demo scene, painted, for some time."""
    with tempfile.TemporaryDirectory() as folder:
        scene = Path(folder) / f"{name}.toml"
        scene.write_text(text_of(name))
        end = time.monotonic() + seconds
        how = {"viewport": {"width": 1440, "height": 900}, "device_scale_factor": 0.5}
        return used(
            lambda: browser.new_context(**how).new_page(), scene, seed, lambda count: time.monotonic() < end, run_of
        )


def main() -> int:
    """Parse, use, tell."""
    parser = argparse.ArgumentParser(prog="python -m tests.monkey", description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seeds", type=int, nargs="+", default=[1])
    parser.add_argument("--scenes", nargs="+", default=["cornice-to-fit", "base-of-two-coves"])
    asked = parser.parse_args()
    all_wrong = []
    with a_browser() as browser:
        for name in asked.scenes:
            for seed in asked.seeds:
                count, wrong = by_the_clock(browser, name, seed, asked.seconds)
                print(f"{name}, seed {seed}: {count} things done, {len(wrong)} wrong", *wrong, sep="\n", flush=True)
                all_wrong += wrong
    return 1 if all_wrong else 0


if __name__ == "__main__":
    sys.exit(main())
