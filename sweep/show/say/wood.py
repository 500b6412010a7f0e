"""Which wood the figures of force are for, and what is not checked for want of it."""

from __future__ import annotations

from sweep.cut.wood_table import wood_of
from sweep.scene.model import Scene
from sweep.units import Units


def is_unchecked(scene: Scene) -> bool:
    """Return whether power, push and bending are not checked because nothing is known of the wood."""
    return wood_of(scene.stock) is None


def wood_sentence(scene: Scene, units: Units) -> str:
    """Return which wood and density the forces are for, or what is not checked, and what to write to have it."""
    stock, wood = scene.stock, wood_of(scene.stock)
    if wood is None:
        return (
            f"No forces are known of '{stock.species}': power, push and bending of the plate are not checked. "
            "Write one of the README's woods, or its density (stock.density)."
        )
    motor = "" if scene.saw.motor is not None else " The scene gives no motor (saw.motor): power is not checked."
    if stock.density is not None:
        return f"Forces: for a wood of {units.density(wood.density)}, as given.{motor}"
    return f"Forces: taken as {wood.name}, {units.density(wood.density)}.{motor}"
