"""The shop's page: each of its keys in a form, the file as it was but for what is changed, and jobs that follow it."""

from __future__ import annotations

import json
import shutil
import tomllib

import pytest
from accessible import violations
from browser import look, new_page, opened, press, typed, until
from demos import CORNICE
from serving import served

from sweep.errors import SweepError
from sweep.live import answers, shop_answers
from sweep.live.asked import PageRequest
from sweep.live.standing import forms_of, stand
from sweep.scene.documented import documented_keys
from sweep.scene.edits import Edit
from sweep.scene.read import read_scene
from sweep.scene.shop import BOARDS, SHOP, shop_in
from sweep.tolerance import AS_DRAGGED

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


def test_a_second_saw_makes_a_list_each_with_its_fields_and_a_job_chooses_among_their_names(tmp_path):
    """Comments stay; a name that is another's is refused in its place; bare numbers are the shop's; all is read."""
    shop, text = tmp_path / SHOP, f'units = "in"\n{TEXT}'
    shop.write_text(text)
    now = shop_answers.opened(shop)
    typed = {"saws.1.name": "saw 1", "saws.1.speed": "fast", "saws.1.motor": "2 hp", "saws.0.max_height": "3 1/8"}
    edits = [{"path": "saws", "do": "add"}, *({"path": path, "value": value} for path, value in typed.items())]
    answer = json.loads(shop_answers.cut(now, asked(edits=edits)))
    assert {one["path"] for one in answer["state"]["refused"]} == {"saws.1.name", "saws.1.speed"}
    assert all(
        f'data-path="saws.{k}.{key}"' in answer["forms"] for k in "01" for key in ("name", "speed", "table_depth")
    )
    assert 'data-path="saw.speed"' not in answer["forms"]
    changes = {path: pair[1] for path, pair in answer["state"]["changes"].items()}
    shop.write_text(shop_answers.revised(now, asked(changes=changes)))

    first, second = shop_in(tmp_path)["saws"]
    assert first == {"speed": "4000 rpm", "name": "saw 1", "max_height": "3 1/8 in"}
    assert second == {"speed": "4000 rpm", "name": "saw 2", "motor": "2 hp"}
    assert [line for line in TEXT.splitlines() if line.partition("#")[2] not in shop.read_text()] == []
    now = shop_answers.opened(shop)
    revised = shop_answers.revised(now, asked(changes={"saws.1.speed": "3000 rpm"}))
    assert revised == shop.read_text().replace('speed = "4000 rpm"\nmotor', 'speed = "3000 rpm"\nmotor')
    job = tmp_path / shutil.copy(CORNICE, tmp_path)
    scene = answers.opened(job, None)
    chosen = [Edit(path="saw", do="remove"), Edit(path="saw.name", value="saw 2")]
    trial, units = stand(scene, {}, chosen, AS_DRAGGED, None)
    assert trial.made.report.scene.saw.motor == pytest.approx(2 * 745.7, rel=1e-3)
    assert '<option value="saw 2"></option>' in forms_of(scene, trial, units)


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


@pytest.mark.usefixtures("coarse_pages")
def test_the_shop_is_made_and_changed_on_its_page_and_open_jobs_follow(browser, tmp_path):
    """A job gives its saw to the shop and takes it from there; what is said there then is simulated in it at once."""
    scene = tmp_path / shutil.copy(CORNICE, tmp_path)
    with served(tmp_path) as address:
        page = new_page(browser)
        page.clock.install()
        looks = []
        page.route("**/now", lambda route: looks.append(route))  # what changes before it first looks is seen, too
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
        for route in looks:
            route.continue_()
        page.unroute("**/now")
        look(page)
        until(page, "/do not run this blade/.test(document.getElementById('alert').textContent)")
        assert "shop.toml changed" in page.text_content("#elsewhere-done")
        typed(page, "saw.speed", "3000")
        assert "do not run this blade" not in page.text_content("#alert")
        shop.context.close()
        page.context.close()

    assert tomllib.loads((tmp_path / SHOP).read_text())["saw"]["speed"] == "9000 rpm"
    assert "saw" not in tomllib.loads(scene.read_text())
    assert read_scene(scene).saw.speed * 60 / (2 * 3.141592653589793) == pytest.approx(9000)
