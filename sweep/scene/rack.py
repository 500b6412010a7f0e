"""The blades that a shop has, and how far its saw raises them."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated

from pydantic import Field, ValidationError

from sweep.errors import SceneError
from sweep.quantity import in_inches
from sweep.scene.complaint import in_one_sentence
from sweep.scene.fields import Height
from sweep.scene.keys import Blade, Section
from sweep.scene.model import Scene
from sweep.scene.shop import SHOP, shop_at
from sweep.units import Units


class BladeSet(Section):
    """BladeSet to choose from.

    Parameters
    ----------
    blades : tuple of Blade
        Each with a name of its own, unless there is but one.
    max_height : float or None, mm
        Most that the saw raises any of them, of several saws the one that raises them most.
    metric : bool
        Whether the first one's size is written in mm.
    """

    blades: Annotated[tuple[Blade, ...], Field(min_length=1, max_length=100)]
    max_height: Height | None = None
    metric: bool = True

    @property
    def units(self) -> Units:
        """The units in which the rack is written."""
        return Units("mm" if self.metric else "in")


def rack_beside(points: Path) -> BladeSet:
    """Return the blades of the shop beside a file, or else of the one in the current folder.

    Raises
    ------
    SceneError
        Where there is none, or it cannot be read.
    """
    for place in (points.parent / SHOP, Path(SHOP)):
        if place.is_file():
            return rack_in(place)
    raise SceneError(
        "--blade",
        f"no blade is given, and there is no {SHOP} beside the points or here",
        "give --blade SCENE, or --diameter and --kerf, or --shop FILE with the blades to try",
    )


def rack_in(path: Path) -> BladeSet:
    """Return the blades of a shop's file.

    Raises
    ------
    SceneError
        Naming the file, where it has none, or one cannot be used.
    """
    shop = shop_at(path)
    written = shop.get("blades") or [shop[name] for name in ("blade",) if name in shop]
    if not written:
        raise SceneError(f"{path.name}, blades", "it has no blade", "write [blade], or [[blades]], each with a name")
    saws = shop.get("saws") or [shop.get("saw", {})]
    held = [{"blades": written} | {key: saw[key] for key in ("max_height",) if key in saw} for saw in saws]
    try:
        rack = max(map(BladeSet.model_validate, held), key=lambda one: one.max_height or math.inf)
    except ValidationError as wrong:
        found = in_one_sentence(wrong.errors()[0], BladeSet)
        raise SceneError(f"{path.name}, {found.field}", found.problem, found.remedy) from None
    except SceneError as wrong:
        raise SceneError(f"{path.name}, {wrong.field}", wrong.problem, wrong.remedy) from None
    names = [blade.name for blade in rack.blades]
    if len(set(names)) < len(names) or (len(names) > 1 and not all(names)):
        raise SceneError(
            f"{path.name}, blades", "each needs a name of its own", 'write, for example, name = "thin kerf, 40 teeth"'
        )
    return rack.model_copy(update={"metric": not in_inches(written[0].get("diameter"))})


def rack_of(scene: Scene) -> BladeSet:
    """Return the blades of a scene that has several."""
    return BladeSet.model_construct(
        blades=scene.choice, max_height=scene.saw.max_height, metric=not scene.stock.in_inches
    )
