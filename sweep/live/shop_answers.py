"""The answers to what the page of a folder's shop asks for: what stays the same from job to job, in forms."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from sweep.errors import SceneError
from sweep.live.asked import PageRequest
from sweep.live.both import side_by_side_text
from sweep.live.opened import Opened, text_of
from sweep.live.standing import refusals_of, state_of
from sweep.live.trial import Trial, tried
from sweep.scene.changes import changed, differences
from sweep.scene.edits import Edit
from sweep.scene.model import Scene
from sweep.scene.notation import is_in_inches
from sweep.scene.places import Tables
from sweep.scene.read import scene_from
from sweep.scene.rewrite import rewritten
from sweep.scene.shop import SHOP, UNITS, require_names, shop_in
from sweep.show.page.fields import Standing
from sweep.show.page.page import inlined, plain_page
from sweep.show.page.shop_forms import shop_text
from sweep.units import Units

A_JOB: Tables = {
    "stock": {"length": "1 m", "width": "90 mm", "thickness": "22 mm"},
    "saw": {"speed": "4000 rpm"},
    "blade": {"teeth": 40, "diameter": "254 mm", "kerf": "3.2 mm"},
    "target": {"shape": "cove", "width": "50 mm", "depth": "10 mm"},
    "order": {"lengths": ["500 mm"]},
}
"""A job that says nothing of the shop's: with it a shop is read as any scene is."""


def opened(path: Path) -> Opened:
    """Return the shop as it stands in its file now; without one it is empty.

    Raises
    ------
    SceneError
    """
    shop_in(path.parent)
    text = text_of(path)
    return Opened(path, text, text, {})


def page(path: Path, units: Units | None, home: str, before: Opened | None) -> tuple[Opened, bytes]:
    """Return the shop as it stands in its file now, and the page that shows it."""
    now = opened(path)
    trial, shown_in = _stand(now, {}, [], units)
    live = {
        "version": now.version,
        "file": SHOP,
        "scene": f"sweep {hashlib.sha256(str(path.absolute()).encode()).hexdigest()[:16]}",
        "beside": now.beside,
        "files": [],
        "state": state_of(now, trial, shown_in),
    }
    data = {"live": live, "units": shown_in.style}
    cards = _forms(now, trial, shown_in)
    return now, plain_page("shop", title="The shop", home=home, cards=cards, data=inlined(data)).encode()


def cut(now: Opened, asked: PageRequest) -> bytes:
    """Return the shop with every edit that can be, and why the others cannot."""
    trial, units = _stand(now, asked.changes, asked.edits, Units(asked.units))
    return json.dumps({"state": state_of(now, trial, units), "forms": _forms(now, trial, units)}).encode()


def take(path: Path, units: Units | None, asked: PageRequest, before: Opened | None) -> tuple[Opened, bytes]:
    """Return the shop as it stands in its file now with a page's edits laid over it, as `cut` does."""
    now = opened(path)
    return now, json.dumps({"version": now.version} | json.loads(cut(now, asked))).encode()


def both(path: Path, units: Units | None, asked: PageRequest, before: Opened) -> bytes:
    """Return what stands in the shop's file now beside what a page changed of the text before."""
    mine = changed(before.tables, asked.changes)
    return json.dumps({"shown": side_by_side_text(before.tables, opened(path).tables, mine)}).encode()


def revised(now: Opened, asked: PageRequest) -> str:
    """Return the shop's text with the changes written into it; what else stands in it is kept."""
    data = changed(now.tables, asked.changes)
    _read(data)
    return rewritten(now.whole, data).lstrip("\n")


def saved(path: Path, units: Units | None, asked: PageRequest) -> tuple[Opened, bytes]:
    """Return the shop as it stands in its file after saving, and its forms."""
    return take(path, units, asked.model_copy(update={"changes": {}}), None)


def _stand(now: Opened, changes: Tables, edits: list[Edit], units: Units | None) -> tuple[Trial[Scene], Units]:
    trial = tried(changed(now.tables, changes), edits, _read)
    return trial, units or Units("in" if is_in_inches(trial.data) else "mm")


def _read(shop: Tables) -> Scene:
    """Return a job that takes all it can from a shop, of several saws the first; the others can be read as it is."""
    require_names(shop)
    job = dict(A_JOB)
    for name, table in shop.items():
        if name in UNITS:
            if table not in UNITS[name]:
                raise SceneError(name, "this is not known here", f"write {' or '.join(UNITS[name])}")
            continue
        if name == "saws":
            for number, saw in enumerate(table, start=1):
                _read_saw(saw, number)
        elif name == "blades":
            job = {other: value for other, value in job.items() if other != "blade"} | {"blades": table}
            job["setup"] = {"blade": table[0].get("name", ""), "fence_angle": "20 deg", "blade_height": "1 mm"}
        elif name == "blade" and "profile" in table:
            job["blade"] = table
        else:
            job[name] = job.get(name, {}) | table
    return scene_from(job)


def _read_saw(saw: Tables, number: int) -> None:
    """Refuse one of several saws by its own place."""
    try:
        scene_from(A_JOB | {"saw": A_JOB["saw"] | saw})
    except SceneError as wrong:
        field = wrong.field.replace("saw", "saws", 1)
        raise SceneError(f"{field}, number {number}", wrong.problem, wrong.remedy) from None


def _forms(now: Opened, trial: Trial[Scene], units: Units) -> str:
    standing = Standing(
        data=trial.data,
        shop={},
        changed={path: pair[0] for path, pair in differences(now.tables, trial.data).items()},
        refused=refusals_of(trial, units),
        both={one.edit.path for one in trial.refused if one.edit.over},
        sliders={},
        inches=is_in_inches(trial.data),
    )
    return shop_text(standing)
