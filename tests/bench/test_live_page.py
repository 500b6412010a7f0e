"""From a slider's move to the new picture, in a real browser; and the simulation itself, as fine as it then is.

The time runs from the slider's event until WebGL has finished the picture of the answer; the browser draws on the
processor here, as on any machine without a screen. 60 ms are wanted for a setting, 20 ms for the pass.
"""

from __future__ import annotations

import statistics
import time

import numpy as np
import pytest
from browser import a_browser, settled, watched
from demos import CORNICE
from serving import program

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.tolerance import AS_DRAGGED, AS_RUN

TITLE = "the live page, demo scene: from a slider's move to its picture"
HEADING = ("slider", "median", "90 %", "most")
MOVES = 40

TIMED = """async ([slider, values, asks]) => {
    const input = document.querySelector(slider), { solid } = sweepPage, times = [];
    const after = (thing, name) => new Promise((done) => {
        thing[name] = (...given) => {
            delete thing[name];
            thing[name](...given);
            done(performance.now());
        };
    });
    for (const value of values) {
        const start = performance.now(), answered = asks ? after(sweepPage, "become") : null;
        input.value = value;
        input.dispatchEvent(new Event("input", { bubbles: true }));
        await answered;
        times.push((await after(solid, "draw")) - start);
        await new Promise((done) => setTimeout(done, 30));
    }
    input.dispatchEvent(new Event("change", { bubbles: true })); // let go: the stock after every pass comes again
    return times;
}"""
"""Settings ask the program for the simulation; the pass and the feed are the page's own."""


@pytest.fixture(scope="module")
def page():
    """The demo scene on a page, served as a maker serves it."""
    with program(CORNICE) as address, a_browser() as browser, watched(browser, address) as page:
        yield page


@pytest.mark.parametrize(
    ("slider", "least", "most", "asks"),
    [
        ("#setup-fence_angle-slider", 26.0, 30.0, True),
        ("#setup-blade_height-slider", 15.2, 17.5, True),
        ("#setup-blade_tilt-slider", -4.0, 4.0, True),
        ("#blade-kerf-slider", 2.0, 4.0, True),
        ("#passes-feed_speed-slider", 1.0, 5.0, True),
        ("#pass", 1, 8, False),
        ("#travel", 50, 950, False),
    ],
)
def test_slider_to_picture(page, write_row, slider, least, most, asks):
    """The picture at the end is that of the last value."""
    if slider == "#travel":  # the stock at every moment of the pass is asked for once
        page.evaluate("sweepPage.pick(5, 0.5)")
        settled(page)
    values = np.linspace(least, most, MOVES).tolist()
    times = sorted(page.evaluate(TIMED, [slider, values, asks]))
    settled(page)
    shown = page.evaluate("slider => Number(document.querySelector(slider).value)", slider)

    assert shown == pytest.approx(most, abs=0.11 if asks else 1)
    assert page.evaluate("sweepPage.solid.mesh.corners.length") > 100
    cells = (statistics.median(times), times[int(0.9 * len(times))], times[-1])
    write_row(TITLE, HEADING, (slider, *(f"{one:.1f} ms" for one in cells)))


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
