"""Every state of the pages at three widths, light, dark and in forced colours: `python -m tests.states FOLDER`.

It draws a contact sheet for each state, to be looked at, and tells what axe-core finds against the pages in it.
`--scenes` and `--states` are looked at alone, `--no-pictures` only asks axe-core. Status 0: nothing was found;
1 otherwise.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from io import BytesIO
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from accessible import violations
from browser import a_browser, opened, press, settled, slide, typed, until
from demos import DEMOS, SCENES, SEVERAL
from PIL import Image
from playwright.sync_api import Browser, Page
from reports import report_of, setups_report_of
from serving import served

from sweep.show.page.page import removal_of, write_removal

SIZES = ((1440, 900), (1024, 768), (380, 800))
"""Pixels, across and down: a desk, a small one, and a phone."""

LOOKS: dict[str, dict[str, str]] = {
    "light": {},
    "dark": {"color_scheme": "dark"},
    "forced": {"forced_colors": "active", "color_scheme": "dark"},
}
"""How a maker may have asked the browser to look."""

State = Callable[[Page], None]


def fresh(page: Page) -> None:
    """As it opens."""


def finished(page: Page) -> None:
    """The moulding on the bench."""
    page.evaluate("sweepPage.go(sweepPage.setups.last)")


def above(page: Page) -> None:
    """From above."""
    page.evaluate("sweepPage.look('above')")


def section(page: Page) -> None:
    """The section at the blade, coloured by deviation where there is one."""
    page.evaluate("sweepPage.look('section')")
    page.select_option("#colour", "chip")


def unfolded(page: Page) -> None:
    """Every card open, all that is folded too."""
    page.eval_on_selector_all("details", "all => all.forEach((one) => { one.name = ''; one.open = true; })")


def below(page: Page) -> None:
    """The table of passes, the order of work, files and cautions."""
    page.evaluate("document.getElementById('passes-heading').scrollIntoView()")


def refused(page: Page) -> None:
    """A text refused, and another value changed."""
    typed(page, "setup.fence_angle", "91")
    typed(page, "saw.speed", "fast")
    typed(page, "setup.offset", "1")


def stale(page: Page) -> None:
    """The picture lags behind."""
    page.evaluate("sweepPage.served.lag('fence angle 29 deg')")
    page.wait_for_timeout(250)


def stopped(page: Page) -> None:
    """The program gone."""
    page.evaluate("sweepPage.served.away(true)")


def beside(page: Page) -> None:
    """Another way to set it lies beside."""
    opened(page, "#lay-beside")
    page.click("#lay-beside")
    slide(page, "#setup-fence_angle-slider", 33)
    until(page, "document.querySelector('#beside table')")
    finished(page)


def proposed(page: Page) -> None:
    """What was worked out, or why nothing was."""
    page.click("#solve")
    until(page, "document.querySelector('#proposal table') || document.getElementById('notices').textContent", 60)


def unfinished(page: Page) -> None:
    """A finishing operation that cannot be done."""
    typed(page, "finish.3.radius", "40")
    page.locator("#cards .refused").first.scroll_into_view_if_needed()


def setup_forms(page: Page) -> None:
    """The forms of the set-ups, the second one open with its passes; one text in it refused."""
    opened(page, "#form-setups-1")
    typed(page, "setups.1.fence_angle", "91")
    page.evaluate("document.getElementById('form-setups-1').scrollIntoView()")


def made(page: Page) -> None:
    """What was made and measured, written down."""
    typed(page, "kept.date", "2026-11-26")
    typed(page, "measured.0.width", "2 3/8 in")
    page.evaluate("document.getElementById('card-made').scrollIntoView()")


def alone(page: Page) -> None:
    """One of several set-ups, the only one."""
    press(page, "alone", "setups.1")


ANYWHERE: tuple[State, ...] = (fresh, finished, above, section, below)
"""States of a page that is sent, too."""

SERVED: tuple[State, ...] = (*ANYWHERE, unfolded, refused, stale, stopped, beside, proposed, made)
"""States of a page of one set-up that is served."""

WITH_FINISH = "cornice-to-fit"
"""The demo scene of which a finishing operation is made to fail."""


def states_of(name: str) -> tuple[State, ...]:
    """Return the states of a demo scene's page, as it is served."""
    several = (*ANYWHERE, unfolded, stale, stopped, proposed, setup_forms)
    if name in SEVERAL:
        return (*several, alone) if name == WITH_COVES else several
    return (*SERVED, unfinished) if name == WITH_FINISH else SERVED


WITH_COVES = "base-of-two-coves"
"""The demo scene of which one set-up is cut alone."""


def shop(page: Page) -> None:
    """The shop, every card open, a text refused and another changed."""
    for path, text in {"saw.motor": "strong", "blade.kerf": "3"}.items():
        opened(page, f"[data-path='{path}'] input")
        page.fill(f"input[data-path='{path}']", text)
        page.keyboard.press("Enter")
        until(page, "sweepPage.editor.idle && !sweepPage.editor.queue.length")
    unfolded(page)


def empty(page: Page) -> None:
    """A folder without jobs."""


def answered(page: Page) -> None:
    """A new job half answered, and one answer wrong."""
    page.fill("#new-stock", "900 x 80 x 22")
    page.fill("#new-speed", "fast")
    until(page, "document.getElementById('new-speed-note').textContent")


def drawn(page: Page) -> None:
    """A new job answered."""
    for name, text in {"stock": "900 x 80 x 22", "shoulders": "12", "above": "8", "blade": "254 x 3.2 x 40"}.items():
        page.fill(f"#new-{name}", text)
    page.fill("#new-speed", "4000")
    until(page, "document.querySelector('#sketch svg')")


def listed(page: Page) -> None:
    """All jobs of a folder."""
    until(page, "[...document.querySelectorAll('.job .said')].every((one) => one.children.length)", 90)


@contextmanager
def shown(browser: Browser, address: str, size: tuple[int, int], look: str) -> Iterator[Page]:
    """Open a page of a size as a maker's browser shows it."""
    how: dict[str, Any] = {"viewport": {"width": size[0], "height": size[1]}, **LOOKS[look]}
    context = browser.new_context(**how, **({"is_mobile": True, "has_touch": True} if size[0] < 500 else {}))
    page = context.new_page()
    page.goto(address)
    until(page, "!document.getElementById('title') || window.sweepPage", 60)
    if page.query_selector("#title"):
        settled(page)
    yield page
    context.close()


def looked_at(
    browser: Browser, address: str, name: str, state: State, folder: Path | None, looks: tuple[str, ...]
) -> list[str]:
    """Bring a page into a state at every size and in every look; draw the sheet, and return what is found."""
    pictures, found = [], []
    for look in looks:
        for size in SIZES:
            with shown(browser, address, size, look) as page:
                state(page)
                if page.query_selector("#title"):
                    settled(page)
                where = f"{name}, {state.__name__}, {size[0]}, {look}: "
                found += [where + one for one in violations(page)]
                if page.evaluate("document.documentElement.scrollWidth") > size[0]:
                    found.append(where + "it scrolls sideways")
                if folder:
                    pictures.append(Image.open(BytesIO(page.screenshot())).convert("RGB"))
    if folder:
        wide, high = sum(size[0] + 10 for size in SIZES), SIZES[0][1] + 10
        sheet = Image.new("RGB", (wide, high * len(looks)), "#888888")
        for k, picture in enumerate(pictures):
            column = k % len(SIZES)
            sheet.paste(picture, (sum(size[0] + 10 for size in SIZES[:column]), high * (k // len(SIZES))))
        sheet.save(folder / f"{name}-{state.__name__}.png")
    return found


@contextmanager
def _of_shop(folder: Path) -> Iterator[str]:
    with served(folder) as address:
        yield f"{address}shop/"


def places(names: list[str], folder: Path) -> Iterator[tuple[str, Any, tuple[State, ...]]]:
    """Give each page with its name, what serves it, and its states."""
    for name in names:
        if name == "folder":
            (folder / "none").mkdir()
            shutil.copytree(SCENES, folder / "some")
            (folder / "some" / "broken.toml").write_text("[stock]\nlength = 4\n[blade]\n")
            yield "empty-folder", served(folder / "none"), (empty, answered, drawn)
            yield "folder", served(folder / "some"), (listed,)
            yield "shop", _of_shop(folder / "some"), (fresh, shop)
        elif name.startswith("sent-"):
            report = (setups_report_of if name[5:] in SEVERAL else report_of)(name[5:])
            write_removal(folder / f"{name}.html", removal_of(report))
            yield name, nullcontext((folder / f"{name}.html").as_uri()), ANYWHERE
        else:
            yield name, served(SCENES / f"{name}.toml"), states_of(name)


def main() -> int:
    """Parse, look, tell."""
    parser = argparse.ArgumentParser(prog="python -m tests.states", description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument(
        "--scenes", nargs="*", default=["folder", *DEMOS, *SEVERAL, "sent-cornice-to-fit", "sent-base-of-two-coves"]
    )
    parser.add_argument("--states", nargs="*", default=[])
    parser.add_argument("--looks", nargs="*", default=list(LOOKS), choices=LOOKS)
    parser.add_argument("--no-pictures", action="store_true")
    asked = parser.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    found = []
    with tempfile.TemporaryDirectory() as made, a_browser() as browser:
        for name, serving, states in places(asked.scenes, Path(made)):
            with serving as address:
                for state in states:
                    if asked.states and state.__name__ not in asked.states:
                        continue
                    drawn_in = None if asked.no_pictures else asked.folder
                    new = looked_at(browser, address, name, state, drawn_in, tuple(asked.looks))
                    print(f"{name}, {state.__name__}: {len(new)} found", *new, sep="\n", flush=True)
                    found += new
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
