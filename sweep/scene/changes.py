"""Settings moved on the live page, laid over the scene they came from: text for text, nothing else touched."""

from __future__ import annotations

import copy
from typing import Any

from sweep.errors import SceneError
from sweep.quantity import read_quantity
from sweep.tolerance import SAME_HEIGHT
from sweep.units import LENGTH

Changes = dict[str, "str | list[str]"]
"""From a key of the scene (``"setup.fence_angle"``) to what is written there instead."""

CHANGEABLE = (
    "setup.fence_angle",
    "setup.blade_height",
    "setup.blade_tilt",
    "setup.offset",
    "blade.kerf",
    "passes.feed_speed",
    "passes.heights",
)
"""What may be changed on the page, and written back from it."""


def changed(data: dict[str, Any], changes: Changes) -> dict[str, Any]:
    """Return a scene's tables with some values replaced; the tables given are left as they were.

    Parameters
    ----------
    data : dict
        As TOML holds them, with `[setup]` and `[passes]`.
    changes : dict
        Values as a user would write them. A blade height other than that of the last pass keeps the passes that
        stay below it, and makes the last one at the new height.

    Raises
    ------
    SceneError
        For a key that may not be changed here. Values are checked when the scene is read.
    """
    data = copy.deepcopy(data)
    for key, value in changes.items():
        if key not in CHANGEABLE:
            raise SceneError(key, "it cannot be changed here", f"change one of {', '.join(CHANGEABLE)}")
        section, _, name = key.partition(".")
        place = _blade(data) if section == "blade" else data[section]
        place[name] = value
    heights = data["passes"]["heights"]
    if "setup.blade_height" in changes and heights and heights[-1] != changes["setup.blade_height"]:
        data["passes"]["heights"] = _up_to(heights, changes["setup.blade_height"])
        stop = data["passes"].get("stop")
        if isinstance(stop, list) and len(stop) > 1:
            kept = len(data["passes"]["heights"]) - 1
            data["passes"]["stop"] = [*stop[:kept], stop[-1]]
    return data


def _blade(data: dict[str, Any]) -> dict[str, Any]:
    """Return the table of the one blade, or of the blade that the set-up names."""
    blades: list[dict[str, Any]] = data.get("blades", [])
    chosen: dict[str, Any] | None = data.get("blade")
    return chosen or next(blade for blade in blades if blade["name"] == data["setup"]["blade"])


def _up_to(heights: list[Any], top: object) -> list[Any]:
    """Return the heights that stay below a new last one, and that one, as they are written."""
    try:
        highest = read_quantity(top, LENGTH)
        return [height for height in heights[:-1] if read_quantity(height, LENGTH) < highest - SAME_HEIGHT] + [top]
    except ValueError:
        return heights  # the sentence about a height comes when the scene is read
