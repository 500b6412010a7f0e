"""The page on which a traced outline is corrected: points are moved and saved, and nothing else is written."""

from __future__ import annotations

import json
import urllib.error
import urllib.request
from functools import cache

import numpy as np
import pytest
from accessible import violations
from browser import until
from end_grain import end_grain
from PIL import Image
from serving import served_desk

from sweep.live.traced import TraceDesk
from sweep.trace import child
from sweep.trace.face import trace
from sweep.trace.outline import outline_of
from sweep.trace.reader import Seen
from sweep.trace.scale import read_scale
from sweep.units import Units

ARC = np.column_stack([np.linspace(-20, 20, 41), 9 * np.cos(np.linspace(-np.pi / 2, np.pi / 2, 41))])
SECTION = np.vstack([[-30, 0], ARC, [30, 0], [30, 18], [-30, 18]])


@cache
def block():
    """A picture of a block."""
    return end_grain(SECTION, noise=0.02)[0]


HOSTILE = "<img src=x onerror=broken>.png"


@pytest.fixture(scope="module")
def desk_in():
    """A desk for the picture, with its files in a folder."""
    seen_as = block().astype(np.float32) / 255
    found = outline_of(seen_as)
    seen = Seen(found.outline, block().shape[1::-1], found.roughness, found.soft, 0.0, 1, child._clean(seen_as))
    traced = trace(seen, read_scale("10 mm = 80 px", None), None, "points")

    def made(folder):
        return TraceDesk(seen, traced, HOSTILE, folder / "points.csv", folder / "points-outline.png", Units())

    return made


def points_in(path):
    """The points of a file."""
    return np.array([[float(cell) for cell in row.split(",")] for row in path.read_text().splitlines()[2:]])


def asked(address, body, **headers):
    """The status and the sentence with which a save is answered."""
    request = urllib.request.Request(f"{address}save", body, {"Content-Type": "application/json"} | headers)
    try:
        with urllib.request.urlopen(request) as reply:
            return reply.status, json.load(reply)["sentence"]
    except urllib.error.HTTPError as wrong:
        with wrong:
            return wrong.code, json.load(wrong)["sentence"]


def test_points_are_dragged_moved_by_key_taken_away_and_saved(browser, tmp_path, desk_in):
    """A drag of 16 pixels is 2 mm in the file; what is saved twice holds the last."""
    with served_desk(desk_in(tmp_path)) as address:
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(address)
        assert page.title() == f"Outline in {HOSTILE}"
        assert page.eval_on_selector_all("header img", "all => all.length") == 0
        assert violations(page) == []
        page.click("#save")
        until(page, "document.getElementById('notices').textContent")
        first = points_in(tmp_path / "points.csv")
        assert page.is_disabled("#undo")

        top = int(first[:, 1].argmax())
        box = page.locator("#drawing circle").nth(top).bounding_box()
        scale = page.evaluate("drawing => drawing.clientWidth", page.query_selector("#drawing")) / block().shape[1]
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y - 16 * scale, steps=3)
        page.mouse.up()
        page.focus("#frame")
        page.keyboard.press("PageDown")
        for _ in range(3):
            page.keyboard.press("ArrowLeft")
        page.keyboard.press("PageDown")
        page.keyboard.press("Delete")
        page.keyboard.press("Delete")
        page.keyboard.press("Control+z")
        page.evaluate("document.getElementById('notices').textContent = ''")
        page.keyboard.press("Control+s")
        until(page, "document.getElementById('notices').textContent")
        page.set_viewport_size({"width": 380, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= 380
        page.close()
    saved = points_in(tmp_path / "points.csv")

    assert len(saved) == len(first) - 1
    assert saved[top] - first[top] == pytest.approx((0, 2), abs=0.15)
    assert saved[top + 1] - first[top + 1] == pytest.approx((-3 / 8, 0), abs=0.02)
    assert np.delete(saved, [top, top + 1], 0) == pytest.approx(np.delete(first, [top, top + 1, top + 2], 0))
    with Image.open(tmp_path / "points-outline.png") as drawn:
        assert drawn.format == "PNG"


def test_only_the_page_saves_only_points_and_only_over_what_it_wrote(tmp_path, desk_in):
    """Whatever else knocks at the port is refused in a sentence, and files of others stay."""
    desk = desk_in(tmp_path)
    good = json.dumps({"points": desk.traced.pixels.tolist()}).encode()
    with served_desk(desk) as address:
        assert asked(address, good, Origin="http://elsewhere.example")[0] == 403
        for body in (b"", b"[]", b'{"points": [[1]]}', b'{"points": [[1, NaN]]}', b'{"points": [[1, 1e9]]}', b"{" * 9):
            assert asked(address, body)[0] == 400, body
        assert asked(address, b'{"points": ' + b"[" * 200_000)[0] == 413
        assert asked(address, b'{"points": [[1, 2], [3, 4]]}') == (422, "points: 2 points are left; keep at least 10.")
        assert list(tmp_path.iterdir()) == []
        assert asked(address, good)[0] == asked(address, good)[0] == 200
        (tmp_path / "points.csv").write_text("mine")
        assert asked(address, good)[1].endswith("points.csv has been changed since; move it away, and save again.")

    assert (tmp_path / "points.csv").read_text() == "mine"
