"""The page's HTML and its scripts, held to what checkers that are not ours know of them."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from browser import typed, watched
from demos import CORNICE, SCENES
from npm import INSTALLED, WEB, checked_by
from reports import report_of
from sent import as_sent
from serving import served

from sweep.live import jobs
from sweep.show.page.at_saw import saw_model
from sweep.show.page.model import page_model, stretches_model
from sweep.show.page.page import saw_page, write_removal
from sweep.units import Units

ROOT = Path(__file__).parents[2]
PARTS = ROOT / "sweep" / "show" / "page" / "parts"
OPTIONAL = {"by", "off", "moving", "low", "step", "made"}
"""Keys that not every mesh, or not every model, has."""


def html_check(folder: Path) -> str:
    """Return what an offline checker of HTML, by the living standard and for those who hear a page, complains of."""
    return checked_by("html-validate", "--config", WEB / ".htmlvalidate.json", *sorted(folder.glob("*.html")))


def test_the_page_is_html_as_it_is_written_and_as_it_is_drawn(browser, tmp_path):
    """Sent and served; flagged, finished and plain; with a setting changed and one refused."""
    for name in ("too-greedy", "cornice-to-fit"):
        report = replace(report_of(name), units=Units("in"))
        write_removal(tmp_path / f"{name}.html", as_sent(report) | {"saw": saw_model(report)})
    for path in sorted(tmp_path.glob("*.html")):
        with watched(browser, path.as_uri()) as page:
            path.with_name(f"{path.stem}-drawn.html").write_text(page.content(), encoding="utf-8")
    with served(CORNICE) as address, watched(browser, address) as page:
        typed(page, "setup.fence_angle", "30")
        typed(page, "blade.kerf", "wide")
        (tmp_path / "live-drawn.html").write_text(page.content(), encoding="utf-8")

    (tmp_path / "saw.html").write_text(saw_page(report_of(CORNICE.stem), "0"), encoding="utf-8")
    (tmp_path / "jobs.html").write_bytes(jobs.jobs_page(SCENES, Units("in")))

    wrong = tmp_path / "wrong.html"  # so that the checker's silence says something
    wrong.write_text("<!doctype html><html lang=en><title>x</title><h1></h1><p><div></div></p>")
    found = html_check(tmp_path)
    assert "error" in found
    assert re.findall(r"^/.*", found, re.MULTILINE) == [str(wrong)], found


def test_the_pages_modules_pass_the_style_check():
    """No variable that is not used, none that is not declared, and no text that becomes markup."""
    kept = ("--cache", "--cache-strategy=content", f"--cache-location={INSTALLED / '.cache' / 'eslint'}")
    how = (*kept, "--max-warnings=0", "-c", WEB / "eslint.config.js")
    assert checked_by("eslint", *how, *sorted(PARTS.glob("*.js"))) == ""


def test_the_pages_modules_are_of_the_types_that_they_say():
    """Strictly; `shown.d.ts` says what the program sends."""
    assert checked_by("tsc", "-p", WEB / "tsconfig.json") == ""


def test_shown_d_ts_names_what_the_program_sends():
    """Every key of a page's data, and of its parts, is declared there, and no other one is."""
    text = (PARTS / "shown.d.ts").read_text()
    report = report_of("cornice-to-fit")
    model = page_model(report)
    model["stretches"] = {1: stretches_model(report, 1)}
    saw = saw_model(report)
    sent = {
        "Model": model,
        "Pass": model["passes"][0],
        "FlagLine": model["flags"][0],
        "View": model["views"][0],
        "Part": model["machine"][0],
        "Over": model["over"]["above"][0],
        "Section": model["section"][0],
        "Legend": model["legends"]["chip"],
        "Stretch": model["stretches"][1][0],
        "Saw": saw,
        "SawStep": {name for step in saw["steps"] for name in step} | {"flags"},
        "SawMeasure": next(step["measure"] for step in saw["steps"] if "measure" in step),
    }
    for name, value in sent.items():
        assert declared(text, name) - OPTIONAL == set(value) - OPTIONAL, name


def declared(text: str, name: str) -> set[str]:
    """Return the keys of an interface, its parents' among them."""
    parent, body = re.search(rf"export interface {name}(?: extends (\w+))? {{\n(.*?)\n}}", text, re.DOTALL).groups()
    return set(re.findall(r"^  (\w+)\??:", body, re.MULTILINE)) | (declared(text, parent) if parent else set())
