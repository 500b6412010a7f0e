"""The settings that the page lets a maker move: each a slider with its range, and a field with its unit."""

from __future__ import annotations

from typing import Any

from sweep.scene.model import WholeScene
from sweep.scene.places import value_at
from sweep.shape.frame import highest_setting
from sweep.units import MM_PER_INCH, Units, degrees

_LOWEST_BLADE = 0.5  # mm


def settings_of(scene: WholeScene, data: dict[str, Any], units: Units) -> list[dict[str, Any]]:
    """Return the settings in the order in which they are shown, ready for JSON.

    Parameters
    ----------
    scene : WholeScene
        Complete.
    data : dict
        The tables it was read from, or none of them: what the user wrote is shown as it was written.
    units : Units
        In which the sliders count.

    Returns
    -------
    list of dict
        path of the key in the scene, label, text as written, unit, and least, most, step and value of the slider in
        that unit.
    """
    setup, stock = scene.setup, scene.stock
    highest = min(highest_setting(scene.tool, scene.tilt), stock.thickness, scene.saw.max_height or stock.thickness)
    rows = [
        _angle("setup.fence_angle", "fence angle", setup.fence_angle, (1.0, 90.0)),
        _length("setup.blade_height", "blade height", setup.blade_height, (_LOWEST_BLADE, highest), units, 0.1),
        _angle("setup.blade_tilt", "blade tilt", setup.blade_tilt, (-45.0, 45.0)),
        _length("setup.offset", "offset", setup.offset, (-stock.width / 2, stock.width / 2), units, 0.5),
    ]
    if scene.blade.kerf is not None:
        rows.append(_length(_kerf(scene, data), "kerf", scene.blade.kerf, (1.0, 10.0), units, 0.05))
    rows.append(_feed("passes.feed_speed", "feed speed", scene.passes.feed_speed, units))
    for row in rows:
        row["text"] = value_at(data, row["key"]) or row["text"]
    return rows


def _angle(key: str, label: str, value: float, span: tuple[float, float]) -> dict[str, Any]:
    return _row(key, label, "deg", round(degrees(value), 4), span, 0.1)


def _length(key: str, label: str, value: float, span: tuple[float, float], units: Units, step: float) -> dict[str, Any]:
    """Return a row in mm, or in inches by 64ths."""
    if units.metric:
        row = _row(key, label, "mm", round(value, 4), span, step)
    else:
        least, most = (end / MM_PER_INCH for end in span)
        row = _row(key, label, "in", round(value / MM_PER_INCH, 6), (least, most), 1 / 64)
    return row | {"text": units.written(value)}


def _feed(key: str, label: str, value: float, units: Units) -> dict[str, Any]:
    shown = units.feed(value)
    number, unit = shown.split(" ")
    span, step = ((0.2, 12.0), 0.1) if units.metric else ((1.0, 40.0), 0.5)
    return _row(key, label, unit, float(number), span, step)


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
