"""From a slider's move to the new picture, in a real browser; the first picture; and the simulation itself.

The time runs from the slider's event until WebGL has finished the picture of the answer; the browser draws on the
processor here, as on any machine without a screen. Wanted: 33 ms for a setting of one set-up, 60 ms with four set-ups,
20 ms for the pass, 8 ms for the simulation as it is dragged, 1 s for the first picture, 300 kB for an empty folder.
"""

from __future__ import annotations

import statistics
import time

import numpy as np
import pytest
from browser import PAINTED, new_page, settled, until, watched
from demos import CORNICE, SCENES
from serving import program

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.live import jobs
from sweep.tolerance import AS_DRAGGED, AS_RUN

TITLE = "the live page, demo scene: from a slider's move to its picture"
HEADING = ("slider", "median", "90 %", "most")
MOVES = 40

DESK = {"solid": PAINTED, "viewport": {"width": 1440, "height": 900}}
"""Drawn in full, as on a desk; the tests draw with half the pixels."""

TIMED = """async ([slider, values, asks]) => {
    const input = document.querySelector(slider), { solid } = sweepPage, times = [];
    const once = (thing, name, ran) => {
        thing[name] = (...given) => {
            delete thing[name];
            ran(() => thing[name](...given));
        };
    };
    const drawn = (done) => once(solid, "draw", (draw) => {
        draw();
        done(performance.now());
    });
    for (const value of values) {
        const start = performance.now();
        times.push(await new Promise((done) => {
            if (asks) once(sweepPage, "become", (become) => {
                drawn(done); // of what is drawn from now on
                become();
            });
            else drawn(done);
            input.value = value;
            input.dispatchEvent(new Event("input", { bubbles: true }));
        }) - start);
        await new Promise((done) => setTimeout(done, 30));
    }
    input.dispatchEvent(new Event("change", { bubbles: true })); // let go: the stock after every pass comes again
    return times;
}"""
"""Settings ask the program for the simulation; the pass and the feed are the page's own."""


@pytest.fixture(scope="module")
def page(browser):
    """The demo scene on a page, served as a maker serves it."""
    with program(CORNICE) as address, watched(browser, address, **DESK) as page:
        yield page


@pytest.mark.parametrize(("slider", "least", "most"), [("#pass", 1, 8), ("#travel", 50, 950)])
def test_slider_to_picture(page, write_row, slider, least, most):
    """What the page moves by itself; the picture at the end is that of the last value."""
    if slider == "#travel":  # the stock at every moment of the pass is asked for once
        page.evaluate("sweepPage.pick(5, 0.5)")
        settled(page)
    values = np.linspace(least, most, MOVES).tolist()
    times = sorted(page.evaluate(TIMED, [slider, values, False]))
    shown = page.evaluate("slider => Number(document.querySelector(slider).value)", slider)

    assert shown == pytest.approx(most, abs=1)
    assert page.evaluate("sweepPage.solid.mesh.corners.length") > 100
    row_of(write_row, slider, times)


@pytest.mark.parametrize(("count", "name"), [("one", "corner-cupboard-cornice"), ("four", "base-of-two-coves")])
def test_every_setting(browser, write_row, count, name):
    """The sliders of all settings, of one set-up and of four, a step at a time: what comes again is not cut again."""
    with program(SCENES / f"{name}.toml") as address, watched(browser, address, **DESK) as page:
        sliders = page.eval_on_selector_all(
            "input[type=range][id$=-slider]",
            "all => all.map((one) => [one.id, ...['min', 'max', 'step', 'value'].map((name) => Number(one[name]))])",
        )
        assert sliders
        for slider, least, most, step, now in sliders:
            first = max(least, min(now - step * MOVES / 2, most - step * MOVES))
            values = (first + step * np.arange(1, MOVES + 1)).tolist()
            times = sorted(page.evaluate(TIMED, [f"[id='{slider}']", values, True]))
            settled(page)
            row_of(write_row, f"{count}, {slider.removesuffix('-slider')}", times)


def row_of(write_row, name: str, times: list[float]) -> None:
    """Write the row of a slider, of times in ms, rising."""
    cells = (statistics.median(times), times[int(0.9 * len(times))], times[-1])
    write_row(TITLE, HEADING, (name, *(f"{one:.1f} ms" for one in cells)))


def test_the_first_picture(browser, write_row):
    """From asking for the page, once `sweep view` has said where it is, until it is drawn; a new program each time."""
    times = []
    for _ in range(5):
        with program(CORNICE) as address:
            page = new_page(browser, **DESK)
            start = time.perf_counter()
            page.goto(address)
            until(page, "window.sweepPage && sweepPage.solid && sweepPage.solid.drawn")
            times.append(1e3 * (time.perf_counter() - start))
            assert page.evaluate("sweepPage.solid.mesh.corners.length") > 100
            page.context.close()
    cells = (statistics.median(times), max(times), max(times))
    write_row(TITLE, HEADING, ("first picture", *(f"{one:.0f} ms" for one in cells)))


def test_the_page_of_an_empty_folder(tmp_path, write_row):
    """All that it takes: nothing is asked for later."""
    size = len(jobs.jobs_page(tmp_path, None)) / 1000
    assert size > 10
    write_row(TITLE, HEADING, ("page of an empty folder", f"{size:.0f} kB"))


@pytest.mark.parametrize(("name", "fineness"), [("as dragged", AS_DRAGGED), ("as run", AS_RUN)])
def test_the_simulation_alone(cornice, write_row, name, fineness):
    """Every pass cut, loaded, judged, and compared with the target."""
    times = []
    for _ in range(MOVES):
        start = time.perf_counter()
        outcome = judge(simulate(cornice, fineness))
        times.append(1e3 * (time.perf_counter() - start))
    times.sort()

    assert outcome.is_well
    cells = (statistics.median(times), times[int(0.9 * len(times))], times[-1])
    write_row(TITLE, HEADING, (f"the simulation alone, {name}", *(f"{one:.1f} ms" for one in cells)))
