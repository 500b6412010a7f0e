"""A real browser for the pages, without a screen; and the program that serves one, as a maker starts it."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserType, Page, sync_playwright

QUIET = (
    "--headless=new",
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""Nothing is shown, and the browser asks nobody on its own."""


@contextmanager
def a_browser() -> Iterator[Browser]:
    """Give a browser; skip where there is none."""
    with sync_playwright() as driver:
        browser = launched(driver.chromium)
        yield browser
        browser.close()


def launched(kind: BrowserType, *more: str) -> Browser:
    """Start a browser; skip where there is none."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if chromium is None:
        pytest.skip("there is no chromium here; on Debian or Ubuntu, 'apt-get install chromium' brings it")
    return kind.launch(executable_path=chromium, args=[*QUIET, *more])


@contextmanager
def served(scene: Path, *options: str) -> Iterator[str]:
    """Give the address at which `sweep view` shows a scene."""
    command = [sys.executable, "-m", "sweep", "view", str(scene), "--no-browser", *options]
    program = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    try:
        line = program.stdout.readline()
        found = re.search(r"http://\S+", line)
        assert found, line + program.stdout.read()
        yield found[0]
    finally:
        program.terminate()
        program.wait(20)
        program.stdout.close()


@contextmanager
def watched(browser: Browser, address: str, **how: object) -> Iterator[Page]:
    """Open a page, and see that it raised no error and asked nobody but the address it came from."""
    context = browser.new_context(**{"viewport": {"width": 1360, "height": 900}, **how})
    context.set_default_timeout(10_000)
    page = context.new_page()
    wrong, asked = [], []
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address)
    until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
    yield page
    context.close()
    refused = [
        text for text in wrong if "422" not in text
    ]  # the browser notes a refused setting as an error of its own
    assert refused == []
    assert [url for url in asked if not url.startswith((address, "blob:", "data:"))] == []


def until(page: Page, true: str, seconds: float = 20.0) -> None:
    """Wait until an expression is true; the page's own policy forbids the driver to do so inside it."""
    end = time.monotonic() + seconds
    while not page.evaluate(f"Boolean({true})"):
        assert time.monotonic() < end, f"never true: {true}"
        time.sleep(0.01)


def settled(page: Page) -> None:
    """Wait until nothing is asked any more and the picture is drawn."""
    until(page, "(!sweepPage.editor || sweepPage.editor.idle) && !sweepPage.fetching")
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def slide(page: Page, slider: str, value: float) -> None:
    """Move a slider to a value and let it go."""
    page.evaluate(
        """([slider, value]) => {
            const input = document.querySelector(slider);
            input.value = value;
            input.dispatchEvent(new Event("input", { bubbles: true }));
            input.dispatchEvent(new Event("change", { bubbles: true }));
        }""",
        [slider, value],
    )
    settled(page)


def typed(page: Page, path: str, text: str) -> None:
    """Type a text into the field of a path and leave it with Enter, its card opened as a maker would."""
    field = f"[id='{path.replace('.', '-')}']"
    opened(page, field)
    page.fill(field, text)
    page.press(field, "Enter")
    settled(page)


def opened(page: Page, thing: str) -> None:
    """Open every fold that something stands in."""
    page.eval_on_selector(
        thing, "one => { for (let at = one; at; at = at.parentElement) if (at.tagName === 'DETAILS') at.open = true; }"
    )


def press(page: Page, do: str, path: str) -> None:
    """Press the button that does something at a path, its card opened as a maker would."""
    button = f"#cards [data-do='{do}'][data-path='{path}']"
    opened(page, button)
    page.click(button)
    settled(page)


def table(page: Page) -> list[list[str]]:
    """Return the words of the pass table's body, row by row."""
    return page.eval_on_selector_all(
        "#passes tbody tr", "rows => rows.map(row => [...row.cells].map(cell => cell.textContent.trim()))"
    )


def shown_volume(page: Page) -> float:
    """Return the volume of the stock as it is shown, mm3, by the divergence theorem."""
    return page.evaluate(
        """() => {
            const { mesh, moment } = sweepPage.solid;
            const at = (k) => {
                const v = mesh.corners[k], p = [mesh.places[3 * v], mesh.places[3 * v + 1], mesh.places[3 * v + 2]];
                if (mesh.moves && mesh.moves[v]) p[0] += moment.shift;
                return p;
            };
            let sum = 0;
            for (let k = 0; k < mesh.corners.length; k += 3) {
                const [a, b, c] = [at(k), at(k + 1), at(k + 2)];
                sum += a[0] * (b[1] * c[2] - b[2] * c[1]);
                sum += a[1] * (b[2] * c[0] - b[0] * c[2]);
                sum += a[2] * (b[0] * c[1] - b[1] * c[0]);
            }
            return sum / 6;
        }"""
    )
