"""Every state of the pages at three widths, light, dark and in forced colours: `python -m tests.states FOLDER`.

It draws each state at each size in each look, `SCENE-STATE-WIDTH-LOOK.png`, to be looked at, and tells what axe-core
finds against the pages in it. `--scenes`, `--states`, `--sizes` and `--looks` are looked at alone, `--no-pictures` only
asks axe-core. Status 0: nothing was found; 1 otherwise.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from itertools import product
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from accessible import violations
from browser import a_browser, framed, until
from demos import DEMOS, SCENES, SEVERAL
from page_states import ANYWHERE, BY_ANOTHER_HAND, OF_FOLDER, State, states_of
from playwright.sync_api import Browser, Page
from reports import report_of, setups_report_of
from serving import served

from sweep.show.page.page import removal_of, write_removal

SIZES = {1440: 900, 1024: 768, 380: 800}
"""Pixels down for those across: a desk, a small one, and a phone."""

LOOKS: dict[str, dict[str, str]] = {
    "light": {},
    "dark": {"color_scheme": "dark"},
    "forced": {"forced_colors": "active", "color_scheme": "dark"},
}
"""How a maker may have asked the browser to look."""


@contextmanager
def shown(browser: Browser, address: str, width: int, look: str) -> Iterator[Page]:
    """Open a page of a width as a maker's browser shows it."""
    how: dict[str, Any] = {"viewport": {"width": width, "height": SIZES[width]}, **LOOKS[look]}
    context = browser.new_context(**how, **({"is_mobile": True, "has_touch": True} if width < 500 else {}))
    page = context.new_page()
    page.goto(address)
    until(page, "!document.getElementById('title') || window.sweepPage", 60)
    if page.query_selector("#title"):
        framed(page)
    yield page
    context.close()


def looked_at(page: Page, state: State, scene: Path | None) -> list[str]:
    """Bring a page into a state, and return what is found."""
    if state in BY_ANOTHER_HAND:
        state(page, scene)
    else:
        state(page)
    if page.query_selector("#title"):
        framed(page)
    found = violations(page)
    if page.evaluate("document.documentElement.scrollWidth") > page.viewport_size["width"]:
        found.append("it scrolls sideways")
    return found


@contextmanager
def _of_shop(folder: Path) -> Iterator[str]:
    with served(folder) as address:
        yield f"{address}shop/"


def places(names: list[str], folder: Path) -> Iterator[tuple[str, Any, Path | None, tuple[State, ...]]]:
    """Give each page with its name, what serves it, the file that it is of, and its states."""
    for part in ("some", "mine"):
        shutil.copytree(SCENES, folder / part)
    for name in names:
        if name == "folder":
            (folder / "none").mkdir()
            (folder / "some" / "broken.toml").write_text("[stock]\nlength = 4\n[blade]\n")
            yield "empty-folder", served(folder / "none"), None, OF_FOLDER["empty-folder"]
            yield "folder", served(folder / "some"), None, OF_FOLDER["folder"]
            yield "shop", _of_shop(folder / "some"), None, OF_FOLDER["shop"]
        elif name.startswith("sent-"):
            report = (setups_report_of if name[5:] in SEVERAL else report_of)(name[5:])
            write_removal(folder / f"{name}.html", removal_of(report))
            yield name, nullcontext((folder / f"{name}.html").as_uri()), None, ANYWHERE
        else:
            scene = folder / "mine" / f"{name}.toml"
            yield name, served(scene), scene, states_of(name)


def main() -> int:
    """Parse, look, tell."""
    parser = argparse.ArgumentParser(prog="python -m tests.states", description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument(
        "--scenes", nargs="*", default=["folder", *DEMOS, *SEVERAL, "sent-cornice-to-fit", "sent-base-of-two-coves"]
    )
    parser.add_argument("--states", nargs="*", default=[])
    parser.add_argument("--sizes", nargs="*", type=int, default=list(SIZES), choices=SIZES)
    parser.add_argument("--looks", nargs="*", default=list(LOOKS), choices=LOOKS)
    parser.add_argument("--no-pictures", action="store_true")
    asked = parser.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    count = 0
    with tempfile.TemporaryDirectory() as made, a_browser() as browser:
        for name, serving, scene, states in places(asked.scenes, Path(made)):
            text = scene.read_text() if scene else ""
            with serving as address:
                for state, width, look in product(states, asked.sizes, asked.looks):
                    if asked.states and state.__name__ not in asked.states:
                        continue
                    with shown(browser, address, width, look) as page:
                        found = looked_at(page, state, scene)
                        where = f"{name}-{state.__name__}-{width}-{look}"
                        print(f"{where}: {len(found)} found", *found, sep="\n", flush=True)
                        if not asked.no_pictures:
                            page.screenshot(path=asked.folder / f"{where}.png")
                    if scene:
                        scene.write_text(text)
                    count += len(found)
    return 1 if count else 0


if __name__ == "__main__":
    sys.exit(main())
