"""Which wood the figures of force are for, in one sentence."""

from __future__ import annotations

from sweep.cut.wood_table import wood_of
from sweep.scene.model import Scene
from sweep.units import Units


def wood_sentence(scene: Scene, units: Units) -> str:
    """Return which wood and density the forces are for, or that they are not known and what to write to have them."""
    stock, wood = scene.stock, wood_of(scene.stock)
    if wood is None:
        return (
            f"No forces are known of '{stock.species}': power, push and bending of the plate are not checked. "
            "Write one of the README's woods, or its density (stock.density)."
        )
    if stock.density is not None:
        return f"Forces: for a wood of {units.density(wood.density)}, as given."
    return f"Forces: taken as {wood.name}, {units.density(wood.density)}."
