"""The picture of the page: what it shows at first, in which colours, and that what is written over it fits it."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from browser import PAINTED, framed, slide, until, watched
from PIL import Image
from reports import report_of

from sweep.show.page.page import page_text, shown_whole

AT = """(place) => {
    const solid = sweepPage.solid, eye = solid.eye(), box = solid.canvas.getBoundingClientRect();
    const by = (m, p) => [0, 1, 2, 3].map((row) => [0, 1, 2, 3].reduce((sum, k) => sum + m[4 * k + row] * p[k], 0));
    const p = by(eye.lens, by(eye.view, [...place, 1]));
    return [box.left + (p[0] / p[3] + 1) / 2 * box.width, box.top + (1 - p[1] / p[3]) / 2 * box.height];
}"""
"""Where the camera sees a place of the machine, pixels of the page."""

ON_PAPER = """([x, y]) => {
    const layer = document.querySelector("#over svg"), at = new DOMPoint(x, y).matrixTransform(layer.getScreenCTM());
    return [at.x, at.y];
}"""
"""Where a place of the drawing lies on the page, pixels."""

SPOTS = """() => {
    const { solid } = sweepPage, box = solid.canvas.getBoundingClientRect(), found = [];
    const round = [[0, 0], [3, 0], [-3, 0], [0, 3], [0, -3]];
    for (let y = 9; y < box.height - 9; y += 12)
        for (let x = 9; x < box.width - 9; x += 12)
            if (round.every(([a, b]) => solid.passAt(box.left + x + a, box.top + y + b) === 4)) found.push([x, y]);
    return found;
}"""
"""Places of the picture where the fourth pass cut, and about which it did too."""


@pytest.fixture(scope="module")
def sent(tmp_path_factory):
    """The address of the cornice as it is sent."""
    path = tmp_path_factory.mktemp("sent") / "removal.html"
    path.write_text(page_text(shown_whole(report_of("corner-cupboard-cornice")) | {"files": {}, "live": None}))
    return path.as_uri()


@pytest.fixture(scope="module")
def page(browser, sent):
    """It is open."""
    with watched(browser, sent) as page:
        yield page


@pytest.fixture(scope="module")
def painted_page(browser, sent):
    """It is open on a page of its own, its solid painted."""
    how = {"viewport": {"width": 1024, "height": 700}, "device_scale_factor": 0.5}
    with watched(browser, sent, solid=PAINTED, **how) as page:
        yield page


def test_it_opens_in_the_middle_of_the_first_pass_with_blade_and_stock_in_sight(page):
    """From the operator's place: the ends of the stock and the top of the blade are in the picture."""
    scene = report_of("corner-cupboard-cornice").scene
    start, end = (page.evaluate(f"sweepPage.one.{which}") for which in ("start", "end"))
    assert page.evaluate("[sweepPage.number, sweepPage.travel, sweepPage.solid.view]") == [
        1,
        pytest.approx((start + end) / 2),
        "operator",
    ]
    box = page.locator("#solid").bounding_box()
    for run in (-scene.stock.length / 2, 0.0, scene.stock.length / 2):
        for y in (-scene.stock.width / 2, scene.stock.width / 2):
            place = run * scene.feed.direction + y * scene.feed.across
            across, down = page.evaluate(AT, place.tolist())
            assert 0 < across - box["x"] < box["width"]
            assert 0 < down - box["y"] < box["height"]


@pytest.mark.parametrize("view", ["above", "section"])
def test_what_is_written_over_the_picture_lies_where_the_camera_sees_it(page, view):
    """To a pixel, however large the picture is; and once the camera is turned it is gone."""
    scene = report_of("corner-cupboard-cornice").scene
    for wide in (1440, 1024):
        page.set_viewport_size({"width": wide, "height": 700})
        page.click(f"[data-view={view}]")
        framed(page)
        over = page.evaluate("sweepPage.solid.over")
        for u, z in ((0, 0), (-46, 0), (46, 22.5)):
            place = u * scene.feed.across + (0, 0, z) if view == "section" else np.array([u, 3 * z, 0])
            up = z if view == "section" else 3 * z
            paper = over["origin"][0] + over["scale"] * u, over["origin"][1] - over["scale"] * up
            assert page.evaluate(AT, place.tolist()) == pytest.approx(page.evaluate(ON_PAPER, paper), abs=0.3)
    assert page.locator("#over svg").count() == 2
    page.focus("#solid")
    page.keyboard.press("ArrowLeft")
    framed(page)
    assert page.locator("#over svg").count() == 0
    page.set_viewport_size({"width": 1360, "height": 900})


def test_the_section_at_the_blade_is_seen_along_parallel_lines(page):
    """A line along the feed is a point, wherever it lies."""
    along = report_of("corner-cupboard-cornice").scene.feed.direction
    page.click("[data-view=section]")
    near, far = (page.evaluate(AT, (run * along + (30.0, 0, 12.0)).tolist()) for run in (-400.0, 400.0))
    assert near == pytest.approx(far, abs=0.01)


@pytest.mark.parametrize("view", ["operator", "bench"])
def test_what_is_cut_has_the_colour_of_the_legend(painted_page, view):
    """Seen through the wood, and on the bench."""
    page = painted_page
    slide(page, "#pass", 4)
    slide(page, "#travel", 800)
    page.click(f"[data-view={view}]")
    framed(page)
    spots = page.evaluate(SPOTS)
    wanted = page.evaluate("sweepPage.one.colour")
    legend = page.eval_on_selector_all("#legend i", "all => all.map((one) => getComputedStyle(one).backgroundColor)")
    picture = Image.open(BytesIO(page.locator("#solid").screenshot())).convert("RGB")
    scale = picture.width / page.locator("#solid").bounding_box()["width"]
    colours = [picture.getpixel((int(scale * x), int(scale * y))) for x, y in spots]
    exact = tuple(int(wanted[k : k + 2], 16) for k in (1, 3, 5))
    assert f"rgb{exact}" in legend
    assert len(colours) >= 5
    alike = [np.abs(np.subtract(colour, exact)).max() <= 2 for colour in colours]
    assert np.mean(alike) > 0.9  # lines and the blade stand before the rest


def test_keys_are_the_sliders_own_while_one_of_them_has_them(page):
    """Page up on a slider moves it and nothing else, and each says in words where it stands."""
    slide(page, "#pass", 3)
    slide(page, "#travel", 400)
    page.click("[data-view=operator]")
    for slider, other in (("#travel", "#pass"), ("#pass", "#travel")):
        before = page.input_value(slider), page.input_value(other)
        page.focus(slider)
        page.keyboard.press("PageUp")
        framed(page)
        assert float(page.input_value(slider)) > float(before[0])
        if slider == "#travel":
            assert page.input_value(other) == before[1]
    page.keyboard.press(" ")
    assert page.evaluate("sweepPage.player.playing") is False
    assert page.evaluate("sweepPage.solid.view") == "operator"
    number = page.evaluate("sweepPage.number")
    height = report_of("corner-cupboard-cornice").job.passes[number - 1].height
    assert page.get_attribute("#pass", "aria-valuetext").startswith(f"pass {number} of 8, height {height:.2f} mm, ")
    assert page.get_attribute("#travel", "aria-valuetext").endswith(" mm past the blade")


def test_a_finger_moves_the_page_until_the_picture_was_tapped(browser, sent):
    """So that nobody is caught in the picture on a phone."""
    phone = {"viewport": {"width": 380, "height": 800}, "has_touch": True, "is_mobile": True}
    with watched(browser, sent, **phone) as page:
        box, touch = page.locator("#solid").bounding_box(), page.context.new_cdp_session(page)
        x, y = box["x"] + 100, box["y"] + 120

        def swiped() -> tuple[bool, bool]:
            turned, scrolled = page.evaluate("[sweepPage.solid.camera.yaw, scrollY]")
            points = [{"x": x + 8 * step, "y": y - 12 * step} for step in range(8)]
            for kind, at in (
                ("touchStart", points[:1]),
                *(("touchMove", [point]) for point in points[1:]),
                ("touchEnd", []),
            ):
                touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": at})
            framed(page)
            now = page.evaluate("[sweepPage.solid.camera.yaw, scrollY]")
            return now[0] != turned, now[1] > scrolled

        page.touchscreen.tap(x, y)
        until(page, "document.activeElement.id === 'solid'")
        assert swiped() == (True, False)
        page.evaluate("document.activeElement.blur()")
        assert swiped() == (False, True)
