"""The rack of blades and the job that a profile becomes: a scene whole in itself, which any process can work out."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from sweep.errors import SceneError
from sweep.scene.defaults import with_inch_defaults
from sweep.scene.keys import Blade
from sweep.scene.limits import Limits
from sweep.scene.notation import field_in_inches
from sweep.scene.places import Tables
from sweep.scene.read import scene_from
from sweep.scene.shop import SHOP, of_the_shop, on_each_saw, with_its_saw, with_shop
from sweep.shape.tool import Tool
from sweep.shop.profile import Profile
from sweep.units import MM_PER_INCH

LENGTH = ("600 mm", "24 in")
"""The length of stock that a profile does not tell: long enough to be passed, short enough for a bench; our choice."""

ROOM = (2.0, MM_PER_INCH / 8)
"""mm. Stock that a profile does not tell is so much wider and thicker than the limits ask: what fits best may be a
little wider or deeper than the profile; our choice."""

MADE = ("setup", "passes", "setups", "kept", "measured")
"""What a scene says of how it was cut and what was measured of that, which is worked out anew."""

BLADES = ("blade", "blades")
"""What a scene says of its own blades, where the shop has a rack."""

TRIED: Tables = {
    "stock": {"length": LENGTH[0], "width": "80 mm", "thickness": "25 mm"},
    "target": {"shape": "cove", "width": "40 mm", "depth": "8 mm"},
}
"""A job by which a shop's own tables are tried before any profile is."""


@dataclass(frozen=True)
class Rack:
    """What a shop has for every profile.

    Parameters
    ----------
    shop : dict
        The tables of its `shop.toml`.
    blades : tuple of dict
        As scenes write them, each with a name of its own; none where the shop has none, and every scene takes its own.
    tools : tuple of Tool
        One for each.
    like : dict
        The scene from which a profile without one takes all but its size; nothing where none is given.
    tolerance : dict
        The tolerance of that scene's target, where it has one.
    """

    shop: Tables
    blades: tuple[Tables, ...]
    tools: tuple[Tool, ...]
    like: Tables
    tolerance: Tables


def rack_of(shop: Tables, like: Tables | None = None) -> Rack:
    """Return the rack that a shop's tables tell of.

    Raises
    ------
    SceneError
        When they, or the scene that is to be followed, cannot be used.
    """
    tolerance = {name: value for name, value in (like or {}).get("target", {}).items() if name == "tolerance"}
    like = {
        name: table for name, table in (like or {}).items() if name not in ("title", "target", "finish", *MADE, *BLADES)
    }
    blades = shop.get("blades") or ([shop["blade"]] if "blade" in shop else [])
    if blades:
        if "saw" not in with_shop(like, shop):
            raise SceneError(
                f"{SHOP}, saw", "it is missing", 'write [saw] with a speed, for example speed = "4000 rpm"'
            )
        stock = {"stock": TRIED["stock"] | like.get("stock", {})}
        for data in on_each_saw(like | stock | {"target": TRIED["target"] | tolerance}, shop):
            try:
                tried = scene_from(with_shop(data, shop))
            except SceneError as wrong:
                told = of_the_shop(wrong, data, shop)
                told.inches = field_in_inches(with_its_saw(shop, data), wrong.field)
                raise told from None
        named = [table | {"name": name_of(blade)} for table, blade in zip(blades, tried.choice, strict=True)]
        return Rack(shop, tuple(named), tuple(blade.tool for blade in tried.choice), like, tolerance)
    return Rack(shop, (), (), like, tolerance)


def name_of(blade: Blade) -> str:
    """Return what a blade is called; one without a name by its size, and a cutter by its kind too."""
    if blade.name:
        return blade.name
    if blade.profile is not None:
        return f"shaped cutter, {2 * blade.tool.radius:g} x {blade.tool.kerf:g} mm"
    return f"{blade.size[0]:g} x {blade.size[1]:g} mm"


def jobs_of(profile: Profile, rack: Rack) -> tuple[Tables, ...]:
    """Return the job of a profile as a scene of its own: what the shop says in it, the rack as its `blades`.

    Of several saws there is one for each, unless the profile's scene tells its own. Set-up and passes are left out, to
    be worked out.
    """
    own = profile.tables if profile.tables is not None else _for_a_bare(profile, rack)
    if "target" not in own:  # what its own set-up cuts is wanted
        own = own | {"target": {"shape": "points", "points": _points(profile)}}
    left_out = (*MADE, *BLADES) if rack.blades else MADE
    own = {name: table for name, table in own.items() if name not in left_out}
    jobs = (with_shop(one, rack.shop) for one in on_each_saw(own, rack.shop))
    return tuple(_with_the_rack(job, rack) if rack.blades else job for job in jobs)


def _with_the_rack(job: Tables, rack: Rack) -> Tables:
    return {name: table for name, table in job.items() if name != "blade"} | {"blades": list(rack.blades)}


def with_blades(job: Tables, numbers: list[int]) -> Tables:
    """Return a job with some blades of its list alone, by their places, in this order."""
    return job | {"blades": [job["blades"][number] for number in numbers]} if "blades" in job else job


def text_of(job: Tables) -> str:
    """Return a job as text that is the same wherever it is written."""
    return json.dumps(job, sort_keys=True, ensure_ascii=True, default=str)


def _for_a_bare(profile: Profile, rack: Rack) -> Tables:
    """Return the scene of a profile that is points or a drawing: stock with as much wood about it as the limits ask."""
    inches = profile.inches
    table = rack.like.get("limits", {}) | rack.shop.get("limits", {})
    limits = Limits.model_validate(with_inch_defaults(Limits, table) if inches else table)
    wide, deep = map(float, np.ptp(profile.line, axis=0))
    width, thickness = wide, deep + limits.wood_above + ROOM[inches]
    if not profile.whole:
        width = max(wide + max(2 * limits.shoulder, limits.contact) + ROOM[inches], limits.stock_width)
        thickness = max(thickness, limits.stock_thickness)
        width = _rounded_up(width, inches)
    target: Tables = (
        rack.tolerance | {"shape": "points", "points": _points(profile)} | ({"whole": True} if profile.whole else {})
    )
    stock = {"length": LENGTH[inches]} | rack.like.get("stock", {})
    size = {"width": _written(width, inches), "thickness": _written(_rounded_up(thickness, inches), inches)}
    return rack.like | {"stock": stock | size, "target": target}


def _points(profile: Profile) -> list[list[float]]:
    return [[round(y, 5), round(max(z, 0.0), 5)] for y, z in profile.line.tolist()]


def _rounded_up(mm: float, inches: bool) -> float:
    step = MM_PER_INCH / 16 if inches else 1.0
    return math.ceil(mm / step - 1e-6) * step


def _written(mm: float, inches: bool) -> str:
    value: Any = mm / MM_PER_INCH if inches else mm
    return f"{round(value, 6):g} {'in' if inches else 'mm'}"
