"""Quantities as a maker would type them."""

from __future__ import annotations

from sweep.units import Kind


def show_quantity(value: float, kind: Kind, inches: bool = False) -> str:
    """Return a quantity as a user would write it: ``"16 mm"``, ``"28 deg"``, or as who writes inches would."""
    unit = kind.inches if inches and kind.inches else kind.shown
    return f"{value / kind.units[unit.casefold()]:.6g} {unit}"
