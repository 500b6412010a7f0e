"""The settings that the page lets a maker move: each a slider with its range, and a field with its unit."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeAlias

from sweep.cut.settings import Setting
from sweep.plan.grid import height_grid
from sweep.scene.model import WholeScene
from sweep.scene.notation import text_in_inches
from sweep.scene.places import value_at
from sweep.scene.setups import CoveSetup, RabbetSetup, RipSetup
from sweep.shape.frame import highest_setting
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.units import MM_PER_INCH, Units, degrees

_LOWEST_BLADE = 0.5  # mm


Notation: TypeAlias = Callable[[str], Units]
"""From the path of a key to the units in which it is written."""


def all_settings(report: Report | SetupsReport, data: dict[str, Any], units: Units) -> list[dict[str, Any]]:
    """Return what can be moved of a job of one set-up or of several, as `settings_of` does."""
    if isinstance(report, Report):
        return settings_of(report.scene, data, units)
    rows: list[dict[str, Any]] = []
    notation = _notation(data, report.scene.units)
    for one in report.planned:
        rows += _of_setup(one.setting, data, notation) if one.setting.asked.part == 1 else []
        rows += _of_blade(one.scene, data, notation)
    alone = {row["key"]: row for row in rows}  # a blade may be in several set-ups
    return _as_written(list(alone.values()), data)


def settings_of(scene: WholeScene, data: dict[str, Any], units: Units) -> list[dict[str, Any]]:
    """Return the settings in the order in which they are shown, ready for JSON.

    Parameters
    ----------
    scene : WholeScene
        Complete.
    data : dict
        The tables it was read from, or none of them: what the user wrote is shown as it was written.
    units : Units
        In which it is told where there are no tables; or else a slider counts as its key is written, the scene as its
        stock: what is written stays in the maker's notation, whatever the page is shown in.

    Returns
    -------
    list of dict
        path of the key in the scene, label, text as written, unit, and least, most, step and value of the slider in
        that unit.
    """
    notation = _notation(data, scene.units) if data else lambda key: units
    rows = [
        *_of_cove("setup", scene, notation),
        *_of_blade(scene, data, notation),
        _feed("passes.feed_speed", "feed speed", scene.passes.feed_speed, notation),
    ]
    return _as_written(rows, data)


def _notation(data: dict[str, Any], usual: Units) -> Notation:
    """Return what tells the units in which a key is written; the usual ones where nothing is."""

    def units(key: str) -> Units:
        inches = text_in_inches(value_at(data, key))
        return usual if inches is None else Units("in" if inches else "mm")

    return units


def _as_written(rows: list[dict[str, Any]], data: dict[str, Any]) -> list[dict[str, Any]]:
    return [row | {"text": value_at(data, row["key"]) or row["text"]} for row in rows]


def _of_blade(scene: WholeScene, data: dict[str, Any], notation: Notation) -> list[dict[str, Any]]:
    if scene.blade.kerf is None:
        return []
    return [_length(_kerf(scene, data), "kerf", scene.blade.kerf, (1.0, 10.0), notation, 0.05)]


def _of_cove(at: str, scene: WholeScene, notation: Notation) -> list[dict[str, Any]]:
    """Return the settings of a cove, whose table stands at a path."""
    setup, stock = scene.setup, scene.stock
    return [
        _angle(f"{at}.fence_angle", "fence angle", setup.fence_angle, (1.0, 90.0)),
        _height(f"{at}.blade_height", scene, setup.blade_height, notation),
        _angle(f"{at}.blade_tilt", "blade tilt", setup.blade_tilt, (-45.0, 45.0)),
        _length(f"{at}.offset", "offset", setup.offset, (-stock.width / 2, stock.width / 2), notation, 0.5),
    ]


def _of_setup(setting: Setting, data: dict[str, Any], notation: Notation) -> list[dict[str, Any]]:
    """Return the settings of one of several set-ups; the stock is as large as it lies for it."""
    one, scene, at = setting.asked.setup, setting.whole, f"setups.{setting.asked.number - 1}"
    half = scene.stock.width / 2
    match one:
        case CoveSetup():
            rows = _of_cove(at, scene, notation)
        case RipSetup():
            rows = [_length(f"{at}.at", "at", one.at, (-half, half), notation, 0.5)]
            if one.blade_height is not None:
                rows.append(_height(f"{at}.blade_height", scene, one.blade_height, notation))
            rows.append(_angle(f"{at}.blade_tilt", "blade tilt", one.blade_tilt, (-45.0, 45.0)))
        case RabbetSetup():
            rows = [
                _length(f"{at}.width", "width", one.width, (_LOWEST_BLADE, half), notation, 0.1),
                _length(f"{at}.depth", "depth", one.depth, (_LOWEST_BLADE, scene.stock.thickness), notation, 0.1),
            ]
    if isinstance(value_at(data, f"{at}.passes"), dict):
        rows.append(_feed(f"{at}.passes.feed_speed", "feed speed", scene.passes.feed_speed, notation))
    return rows


def _height(key: str, scene: WholeScene, height: float, notation: Notation) -> dict[str, Any]:
    stock = scene.stock
    highest = min(highest_setting(scene.tool, scene.tilt), stock.thickness, scene.saw.max_height or stock.thickness)
    return _length(key, "blade height", height, (_LOWEST_BLADE, highest), notation, 0.1, height_grid(scene))


def _angle(key: str, label: str, value: float, span: tuple[float, float]) -> dict[str, Any]:
    return _row(key, label, "deg", round(degrees(value), 4), span, 0.1)


def _length(
    key: str, label: str, value: float, span: tuple[float, float], notation: Notation, step: float, grid: float = 0.0
) -> dict[str, Any]:
    """Return a row in mm, or in inches by 64ths; by a grid, mm, where there is one."""
    units = notation(key)
    if units.metric:
        row = _row(key, label, "mm", round(value, 4), span, grid or step)
    else:
        least, most = (end / MM_PER_INCH for end in span)
        row = _row(key, label, "in", round(value / MM_PER_INCH, 6), (least, most), grid / MM_PER_INCH or 1 / 64)
    return row | {"text": units.written(value)}


def _feed(key: str, label: str, value: float, notation: Notation) -> dict[str, Any]:
    units = notation(key)
    shown = units.feed(value)
    span, step = ((0.2, 12.0), 0.1) if units.metric else ((1.0, 40.0), 0.5)
    return _row(key, label, shown.unit, float(shown.figure), span, step)


def _row(key: str, label: str, unit: str, value: float, span: tuple[float, float], step: float) -> dict[str, Any]:
    """Return a row whose slider ends on whole steps."""
    least, most = (round(end / step) * step for end in span)
    return {
        "key": key,
        "label": label,
        "text": f"{value:g} {unit}",
        "unit": unit,
        "value": value,
        "least": round(least, 6),
        "most": round(max(most, value), 6),
        "step": step,
    }


def _kerf(scene: WholeScene, data: dict[str, Any]) -> str:
    """Return the path of the kerf of the blade that is set up."""
    names = [blade.get("name") for blade in data.get("blades", [])]
    return f"blades.{names.index(scene.setup.blade)}.kerf" if names else "blade.kerf"
