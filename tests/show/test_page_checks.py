"""The page's HTML and its scripts, held to what checkers that are not ours know of them."""

from __future__ import annotations

from pathlib import Path

from browser import a_browser, served, slide, watched
from npm import WEB, checked_by

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.scene.read import read_scene
from sweep.show.page.page import write_removal
from sweep.units import Units

ROOT = Path(__file__).parents[2]
SCENES = ROOT / "scenes"
PARTS = ROOT / "sweep" / "show" / "page" / "parts"


def html_check(folder: Path) -> str:
    """Return what an offline checker of HTML, by the living standard and for those who hear a page, complains of."""
    return checked_by("html-validate", "--config", WEB / ".htmlvalidate.json", *sorted(folder.glob("*.html")))


def test_the_page_is_html_as_it_is_written_and_as_it_is_drawn(tmp_path):
    """Sent and served; flagged, finished and plain; with a setting changed and one refused."""
    for name in ("too-greedy", "cornice-to-fit"):
        outcome = judge(simulate(read_scene(SCENES / f"{name}.toml")))
        write_removal(tmp_path / f"{name}.html", outcome, Units("in"))
    with a_browser() as browser:
        for path in sorted(tmp_path.glob("*.html")):
            with watched(browser, path.as_uri()) as page:
                path.with_name(f"{path.stem}-drawn.html").write_text(page.content(), encoding="utf-8")
        with served(SCENES / "corner-cupboard-cornice.toml") as address, watched(browser, address) as page:
            slide(page, "#setup-fence_angle-slider", 30)
            page.fill("#blade-kerf", "wide")
            page.press("#blade-kerf", "Enter")
            (tmp_path / "live-drawn.html").write_text(page.content(), encoding="utf-8")

    assert html_check(tmp_path) == ""


def test_the_checker_of_html_complains_of_what_is_none(tmp_path):
    """So that its silence says something."""
    (tmp_path / "wrong.html").write_text("<!doctype html><html lang=en><title>x</title><h1></h1><p><div></div></p>")

    assert "error" in html_check(tmp_path)


def test_the_pages_modules_pass_the_style_check():
    """No variable that is not used, none that is not declared, and no text that becomes markup."""
    assert checked_by("eslint", "--max-warnings=0", "-c", WEB / "eslint.config.js", *sorted(PARTS.glob("*.js"))) == ""
