"""A real browser for the pages, without a screen, and what is done with a page in it."""

from __future__ import annotations

import asyncio
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, BrowserType, Page, sync_playwright

KINDS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
"""The same engine; the first, which has no window to hide, opens a page for a third of the others' processor time."""

QUIET = (
    "--headless=new",
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--renderer-process-limit=1",
)
"""Nothing is shown, the browser asks nobody on its own, and no page starts a process while another is open."""


HALF = {"viewport": {"width": 1360, "height": 900}, "device_scale_factor": 0.5}
"""A page as large as on a desk, drawn with half the pixels a side."""

UNPAINTED = """(() => {
  const kind = WebGL2RenderingContext.prototype, asked = HTMLCanvasElement.prototype.getContext, nothing = {};
  for (const [name, { value }] of Object.entries(Object.getOwnPropertyDescriptors(kind)))
    nothing[name] = typeof value === "number" ? value : () => ({});
  nothing.getShaderParameter = () => true;
  nothing.getProgramParameter = (program, which) => which === kind.ACTIVE_UNIFORMS ? 0 : true;
  HTMLCanvasElement.prototype.getContext = function (name, ...how) {
    return name === "webgl2" ? nothing : asked.call(this, name, ...how);
  };
})()"""
"""Takes all that a page draws in 3D and paints none of it: without a graphics card that is half of opening a page."""

PAINTED = ""
"""The browser paints the solid, for tests that look at it."""

WITHOUT_3D = """(() => {
  const asked = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (name, ...how) {
    return name === "webgl2" ? null : asked.call(this, name, ...how);
  };
})()"""
"""A browser that cannot: WebGL 1.0, section 2.1, where no context can be given there is null."""


@contextmanager
def a_browser() -> Iterator[Browser]:
    """Give a browser; skip where there is none."""
    with sync_playwright() as driver:
        browser = launched(driver.chromium)
        yield browser
        browser.close()


def launched(kind: BrowserType, *more: str) -> Browser:
    """Start a browser; skip where there is none."""
    found = next((path for name in KINDS if (path := shutil.which(name))), None)
    if found is None:
        pytest.skip(f"there is no chromium here; on Debian, 'apt-get install {KINDS[0]}' brings it")
    return kind.launch(executable_path=found, args=[*QUIET, *more])


@contextmanager
def in_loop(loop: asyncio.AbstractEventLoop | None) -> Iterator[None]:
    """Let a loop be the running one: the browser's while it is used, none while tests run loops of their own.

    The browser's never ends between two orders, and a thread knows of one running loop only.
    """
    before = asyncio._get_running_loop()
    asyncio._set_running_loop(loop)
    try:
        yield
    finally:
        asyncio._set_running_loop(before)


def new_page(browser: Browser, *, solid: str = UNPAINTED, **how: object) -> Page:
    """Return an empty page in a context of its own.

    Unless it is said how, it is drawn with half the pixels a side; `solid` says what becomes of what is drawn in 3D.
    """
    context = browser.new_context(**(how or HALF))
    context.add_init_script(solid)
    context.set_default_timeout(10_000)
    context.set_default_navigation_timeout(30_000)  # on a busy machine whoever answers takes a while to start
    return context.new_page()


@contextmanager
def watched(browser: Browser, address: str, *, solid: str = UNPAINTED, **how: object) -> Iterator[Page]:
    """Open a page as `new_page` does, and see that it raised no error and asked nobody but where it came from."""
    page = new_page(browser, solid=solid, **how)
    wrong, asked = [], []
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address)
    until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
    yield page
    page.context.close()
    refused = [
        text for text in wrong if "422" not in text
    ]  # the browser notes a refused setting as an error of its own
    assert refused == []
    assert [url for url in asked if not url.startswith((address, "blob:", "data:"))] == []


def until(page: Page, true: str, seconds: float = 20.0) -> None:
    """Wait until an expression is true; the page itself looks every 20 ms, which takes less than asking it."""
    looked = f"""new Promise((done, failed) => {{
        const end = performance.now() + {1000 * seconds};
        const look = () => {{
            const found = Boolean({true});
            if (found || performance.now() > end) done(found);
            else setTimeout(() => {{ try {{ look(); }} catch (wrong) {{ failed(wrong); }} }}, 20);
        }};
        look();
    }})"""
    assert page.evaluate(looked), f"never true: {true}"


def settled(page: Page) -> None:
    """Wait until nothing is asked any more and the picture is drawn; what follows from a new layout is `framed`."""
    until(page, "(!sweepPage.editor || sweepPage.editor.idle) && !sweepPage.fetching && !sweepPage.solid?.asked")


def framed(page: Page) -> None:
    """Wait until the page is settled and seen so: laid out anew, and drawn in the size that came of it."""
    settled(page)
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def to_the_end(page: Page) -> None:
    """Show the stock after the last pass, for which nothing has to be asked."""
    page.evaluate("sweepPage.go(sweepPage.setups.last)")


def look(page: Page) -> None:
    """Let the time go by after which a page, whose clock was installed, looks at the program and the file."""
    page.clock.fast_forward(1500)


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


def drag_rung(page: Page, number: int, pixels: float) -> None:
    """Drag the rung of a pass, from 0, upwards in the section and let it go."""
    x, y = page.evaluate(
        """number => {
            const rung = [...document.querySelectorAll(`#section .rung[data-rung="${number}"]`)].at(-1);
            rung.scrollIntoView({ block: "center" });
            const { x, y, width, height } = rung.getBoundingClientRect();
            return [x + width / 2, y + height / 2];
        }""",
        number,
    )
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - pixels, steps=3)
    page.mouse.up()
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
