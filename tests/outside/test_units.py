"""Our table of units against pint's registry, which is not ours (its factors are those of NIST SP 811 and of SI)."""

from __future__ import annotations

import pytest

from sweep.units import ANGLE, AREA, DENSITY, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, TIME

PROGRAM = {
    LENGTH: "mm",
    ANGLE: "radian",
    SPEED: "mm/s",
    ROTATION: "radian/s",
    POWER: "watt",
    FORCE: "newton",
    DENSITY: "kg/m**3",
    SHARE: "dimensionless",
    TIME: "second",
    AREA: "mm**2",
}
THEIRS = {  # what pint spells another way
    '"': "inch",
    "'": "foot",
    "°": "degree",
    "%": "percent",
    "r/min": "rpm",
    "rev/min": "rpm",
    "min-1": "rpm",
    "fpm": "ft/min",
    "n": "newton",
    "kgf": "kilogram_force",
    "w": "watt",
    "kw": "kilowatt",
    "sec": "second",
    "mm2": "mm**2",
    "cm2": "cm**2",
    "in2": "inch**2",
    "kg/m3": "kg/m**3",
    "g/cm3": "g/cm**3",
    "lb/ft3": "lb/ft**3",
}


@pytest.fixture(scope="module")
def registry():
    """Their table; it takes a while to load, and only the worker that asks needs it."""
    import pint

    return pint.UnitRegistry()


@pytest.mark.parametrize("kind", PROGRAM, ids=lambda kind: kind.name)
def test_every_factor_is_that_of_an_independent_table(registry, kind):
    """A unit of a length is as many mm, and so on; pint refuses a unit of another kind."""
    for name, factor in kind.units.items():
        theirs = registry.Quantity(1.0, THEIRS.get(name, name)).to(PROGRAM[kind]).magnitude

        assert factor == pytest.approx(theirs, rel=1e-12), name
