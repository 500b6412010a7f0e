"""The states that a page can be in, each brought about by a function of its name."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from browser import opened, press, settled, slide, typed, until
from demos import SCENES, SEVERAL
from playwright.sync_api import Page

State = Callable[..., None]
"""Brings a page into a state; some do it by another hand in the scene's file."""


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


def _high_enough(page: Page) -> None:
    high = page.evaluate("(document.querySelector('.side')?.scrollHeight ?? 0) + 200")
    width = page.viewport_size["width"]
    page.set_viewport_size({"width": width, "height": max(high, page.evaluate("document.body.scrollHeight"))})


def unfolded(page: Page) -> None:
    """Every card open, all that is folded too, on a screen as high as that takes."""
    page.eval_on_selector_all("details", "all => all.forEach((one) => { one.name = ''; one.open = true; })")
    _high_enough(page)


def folded(page: Page) -> None:
    """Every card folded, on a screen high enough for all that a page holds."""
    page.eval_on_selector_all("details", "all => all.forEach((one) => { one.open = false; })")
    _high_enough(page)


def entering(page: Page) -> None:
    """The first touch of the first pass, from above."""
    above(page)
    page.evaluate("sweepPage.go(1, 0.02)")


def leaving(page: Page) -> None:
    """The end of the last pass's feed, as the operator sees it."""
    page.evaluate("sweepPage.go(sweepPage.setups.passes, 0.97)")


def columns(page: Page) -> None:
    """The table of passes, scrolled to its last column."""
    below(page)
    page.evaluate("document.querySelector('.passes .scroll').scrollLeft = 9999")


def adding(page: Page) -> None:
    """One more operation after the cove."""
    opened(page, "#add-finish")
    page.select_option("#add-finish", "chamfer")
    page.click("[data-do='add'][data-path='finish']")
    settled(page)
    page.locator("#add-finish").scroll_into_view_if_needed()


def apart(page: Page) -> None:
    """Two values that do not go together."""
    typed(page, "stock.thickness", "15 mm")


def undone(page: Page) -> None:
    """Two changes, one of them undone."""
    typed(page, "setup.fence_angle", "29")
    typed(page, "setup.offset", "1")
    page.click("#undo")
    settled(page)


def restored(page: Page) -> None:
    """Changed, and loaded anew."""
    typed(page, "setup.fence_angle", "29")
    typed(page, "saw.speed", "fast")
    page.on("dialog", lambda dialog: dialog.accept())
    page.reload()
    until(page, "window.sweepPage && document.getElementById('elsewhere-done').textContent", 60)


def elsewhere(page: Page, scene: Path) -> None:
    """Saved by another hand, while something is changed here."""
    typed(page, "setup.fence_angle", "29")
    text = scene.read_text()
    angle = re.search(r'fence_angle = "(.*?)"', text)
    other = text.replace(angle[0], 'fence_angle = "27 deg"') if angle else text
    scene.write_text(other + "# another hand\n")
    until(page, "document.getElementById('take-in')")


def joined(page: Page, scene: Path) -> None:
    """Taken in, and both hands changed the same."""
    elsewhere(page, scene)
    page.click("#take-in")
    until(page, "!document.getElementById('take-in')")
    settled(page)


def gone(page: Page, scene: Path) -> None:
    """The file taken away, while something is changed here."""
    typed(page, "setup.fence_angle", "29")
    scene.unlink()
    until(page, "document.getElementById('elsewhere').textContent")


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

BY_ANOTHER_HAND: tuple[State, ...] = (elsewhere, joined, gone)
"""States that come about by what happens to the scene's file."""

SERVED: tuple[State, ...] = (
    *(
        *ANYWHERE,
        entering,
        leaving,
        columns,
        folded,
        unfolded,
        adding,
        refused,
        apart,
        undone,
        restored,
        stale,
        stopped,
    ),
    *(beside, proposed, made, elsewhere, joined, gone),
)
"""States of a page of one set-up that is served."""

WITH_FINISH = "cornice-to-fit"
"""The demo scene of which a finishing operation is made to fail."""


def states_of(name: str) -> tuple[State, ...]:
    """Return the states of a demo scene's page, as it is served."""
    several = (*ANYWHERE, folded, unfolded, stale, stopped, proposed, setup_forms)
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


def sketched(page: Page) -> None:
    """A new job's profile drawn by hand."""
    for name, text in {"stock": "900 x 92 x 22", "blade": "254 x 3.2 x 40", "speed": "4000"}.items():
        page.fill(f"#new-{name}", text)
    page.click("#draw-profile")
    until(page, "document.querySelector('#sketch svg') && document.querySelectorAll('#profile-drawing circle').length")
    page.locator("#profile-drawing").scroll_into_view_if_needed()


def dropped(page: Page) -> None:
    """A new job's profile from a file."""
    for name, text in {"stock": "900 x 92 x 22", "blade": "254 x 3.2 x 40", "speed": "4000"}.items():
        page.fill(f"#new-{name}", text)
    page.set_input_files("#profile-file", SCENES / "tilted-cove.csv")
    until(
        page,
        "document.querySelector('#sketch svg') && /points/.test(document.getElementById('profile-words').textContent)",
    )


def listed(page: Page) -> None:
    """All jobs of a folder."""
    until(page, "[...document.querySelectorAll('.job .said')].every((one) => one.children.length)", 90)
    page.locator(".job").last.scroll_into_view_if_needed()


OF_FOLDER: dict[str, tuple[State, ...]] = {
    "empty-folder": (empty, answered, drawn, sketched, dropped),
    "folder": (listed,),
    "shop": (fresh, shop),
}
"""States of the pages of a folder."""
