"""The shop's page: each of its keys in a form, the file as it was but for what is changed, and jobs that follow it."""

from __future__ import annotations

import json
import shutil
import tomllib

import pytest
from accessible import violations
from browser import new_page, opened, press, typed, until
from demos import CORNICE
from serving import served

from sweep.errors import SweepError
from sweep.live import shop_answers
from sweep.live.asked import PageRequest
from sweep.scene.documented import documented_keys
from sweep.scene.edits import Edit
from sweep.scene.read import read_scene
from sweep.scene.shop import BOARDS, SHOP

TEXT = """# ours
[saw] # under the window
speed = "4000 rpm"

[limits]
rise = "3 mm" # no more
"""


def asked(**more: object) -> PageRequest:
    """What a page of the shop asks with."""
    return PageRequest.model_validate({"version": "", "units": "mm", "changes": {}} | more)


def test_every_key_that_a_shop_may_say_has_its_field_and_none_of_a_job_has(tmp_path):
    """A shop of one blade, and one of several."""
    now = shop_answers.opened(tmp_path / SHOP)
    shown = ""
    for edits in ([], [Edit(path="blade.teeth", value="40"), Edit(path="blades", do="add")]):
        shown += json.loads(shop_answers.cut(now, asked(edits=[one.model_dump() for one in edits])))["forms"]
    keys = {key.path for key in documented_keys() if key.section in ("saw", "blade", "fence", "limits", "accuracy")}
    for path in {*keys, *(f"order.{name}" for name in BOARDS), "units"} - {"blade.profile"}:
        assert f'data-path="{path}"' in shown, path
    assert "aria-hidden" not in json.loads(shop_answers.cut(now, asked()))["forms"]  # no star: all may be left out
    for path in ("order.lengths", "setup.fence_angle", "stock.length", "order.copies"):
        assert f'data-path="{path}"' not in shown


def test_several_saws_are_told_and_left_to_the_file(tmp_path):
    """No field is there for one, which would stand beside the list; the rest is typed and saved as ever."""
    text = """[[saws]]\nname = "low"\nspeed = "4000 rpm"\n[[saws]]\nname = "high"\nspeed = "3450 rpm"\n"""
    (tmp_path / SHOP).write_text(text)
    now = shop_answers.opened(tmp_path / SHOP)
    shown = json.loads(shop_answers.cut(now, asked()))["forms"]

    assert "name low; speed 4000 rpm" in shown and 'data-path="saw.speed"' not in shown
    revised = shop_answers.revised(now, asked(changes={"limits.rise": "2 mm"}))
    assert tomllib.loads(revised) == tomllib.loads(text) | {"limits": {"rise": "2 mm"}}


@pytest.mark.parametrize(
    ("path", "text", "says"),
    [
        ("saw.speed", "quick", "is not a number and a unit"),
        ("blade.kerf", "-1 mm", "less than"),
        ("units", "cubits", "not known here"),
        ("order.boards", "3 m, long", "is not a number and a unit"),
        ("limits.rise", "1 kg", "kg"),
    ],
)
def test_what_a_shop_cannot_say_stays_in_its_field_and_what_can_be_is_saved_with_every_comment(
    tmp_path, path, text, says
):
    """The rest is written, and the file reads as before otherwise."""
    shop = tmp_path / SHOP
    shop.write_text(TEXT)
    now = shop_answers.opened(shop)
    edits = [{"path": path, "do": "type", "value": text}, {"path": "saw.motor", "do": "type", "value": "2 hp"}]
    state = json.loads(shop_answers.cut(now, asked(edits=edits)))["state"]
    assert [one["path"] for one in state["refused"]] == [path if path != "order.boards" else "order.boards.1"]
    assert says in state["refused"][0]["sentence"]
    changes = {name: pair[1] for name, pair in state["changes"].items()}
    written = shop_answers.revised(now, asked(changes=changes))
    assert written == TEXT.replace('"4000 rpm"\n', '"4000 rpm"\nmotor = "2 hp"\n')


def test_a_shop_that_cannot_be_read_is_told_and_left_alone(tmp_path):
    """Its page says why."""
    (tmp_path / SHOP).write_text("[stock]\nlength = 1\n")
    with pytest.raises(SweepError, match="a shop has no such table"):
        shop_answers.opened(tmp_path / SHOP)


def test_the_shop_is_made_and_changed_on_its_page_and_open_jobs_follow(browser, tmp_path):
    """A job gives its saw to the shop and takes it from there; what is said there then is simulated in it at once."""
    scene = tmp_path / shutil.copy(CORNICE, tmp_path)
    with served(tmp_path) as address:
        page = new_page(browser)
        page.goto(f"{address}job/{scene.name}/")
        until(page, "window.sweepPage && (!sweepPage.solid || sweepPage.solid.drawn)")
        press(page, "shop", "saw")
        until(page, "/The shop has it now/.test(document.getElementById('status').textContent)")
        press(page, "remove", "saw")
        assert page.get_attribute("#saw-speed", "placeholder") == "4000 rpm (the shop's)"
        page.click("#save")
        until(page, "/^Saved/.test(document.getElementById('status').textContent)")
        shop = new_page(browser)
        shop.goto(f"{address}shop/")
        until(shop, "window.sweepPage && sweepPage.editor")
        assert violations(shop) == []
        opened(shop, "#saw-speed")
        shop.fill("#saw-speed", "9000")
        shop.keyboard.press("Enter")
        until(shop, "/^Save 1 change/.test(document.getElementById('save').textContent)")
        shop.keyboard.press("Control+S")
        until(shop, "/^Saved/.test(document.getElementById('status').textContent)")
        until(page, "/shop.toml changed/.test(document.getElementById('elsewhere-done').textContent)")
        assert "do not run this blade" in page.text_content("#alert")
        typed(page, "saw.speed", "3000")
        assert "do not run this blade" not in page.text_content("#alert")
        shop.context.close()
        page.context.close()

    assert tomllib.loads((tmp_path / SHOP).read_text())["saw"]["speed"] == "9000 rpm"
    assert "saw" not in tomllib.loads(scene.read_text())
    assert read_scene(scene).saw.speed * 60 / (2 * 3.141592653589793) == pytest.approx(9000)
