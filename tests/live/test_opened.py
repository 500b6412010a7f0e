"""A scene as a page opens it: what it takes from other files is told apart by what is in them now."""

from __future__ import annotations

import asyncio
import json
import os
import shutil

from demos import SCENES

from sweep.live import answers
from sweep.live.asked import PageRequest
from sweep.live.desk import Desk
from sweep.plan import written_out
from sweep.plan.several import solve
from sweep.units import Units


def test_what_lies_beside_a_scene_is_watched_with_what_a_page_names_and_set_ups_are_found_anew(tmp_path, monkeypatch):
    """Its points, its shop, and the file that is typed but not saved; what was found is kept while nothing changes."""
    scene = tmp_path / shutil.copy(SCENES / "ogee-crown.toml", tmp_path)
    points = tmp_path / shutil.copy(SCENES / "ogee-crown.csv", tmp_path)
    found = []
    monkeypatch.setattr(solve, "solve_setups", lambda wanted: found.append(wanted.target.points) or _Solved(wanted))
    monkeypatch.setattr(written_out, "text_with_setups", lambda text, setups, units: text)
    monkeypatch.setattr(written_out, "plan_setups", lambda wanted: ())
    monkeypatch.setattr(written_out, "text_with_passes", lambda text, planned, units: text)
    desk = Desk(scene, Units(), None)

    def now(**changes: str) -> dict[str, str]:
        asked = PageRequest(version="", units="mm", changes=changes)
        return json.loads(asyncio.run(desk.now(asked)))["beside"]

    first = answers.opened(scene, None)
    assert answers.opened(scene, None, first) is first
    assert now() == first.beside
    assert now(**{"target.file": "other.csv"}) == first.beside | {"other.csv": ""}
    assert now(target={"shape": "points", "file": "\x1b.csv"}).keys() == {*first.beside, r"\x1b.csv"}

    points.write_text(points.read_text() + "\n")
    os.utime(points, (1, 1))
    second = answers.opened(scene, None, first)
    (tmp_path / "shop.toml").write_text('[limits]\nrise = "2 mm"\n')
    third = answers.opened(scene, None, second)
    for before, after, name in ((first, second, "ogee-crown.csv"), (second, third, "shop.toml")):
        assert {one for one in after.beside if before.beside[one] != after.beside[one]} == {name}
    assert now() == third.beside
    assert len(found) == 3


class _Solved:
    """What the search would give."""

    def __init__(self, scene: object) -> None:
        self.scene = scene
