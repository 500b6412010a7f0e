"""Cabinet woods: density, movement with moisture, and the constants of the cutting force by direction to the grain.

The woods themselves are in `wood_table.py`, each figure with its source. A wood is known by the names listed there
and by no others: a name that only sounds alike is another wood (Brazilian cherry is twice as heavy as black cherry).
Woods without force constants of their own take them in proportion to density, which is our own step: density
foretells cutting force only roughly.
"""

from __future__ import annotations

from dataclasses import dataclass

PER_DENSITY = (44.0, 15.0, 10.0)
"""N/mm^1.5 for each g/cm3: Ettelt's constants over the densities on the cards, 0.75 and 0.5 g/cm3."""

MOISTURE = (0.06, 0.14)
"""Moisture for which the constants are taken to hold: that of wood dried for indoors, about 12 %. Green oak cuts with
less force (Beljo-Lucic and others, *Influence of wood moisture content on circular rip-sawing*: summary read, which
has no figures)."""

SCATTER = 0.35
"""Share by which wood and edges of one species scatter: half the width of Ettelt's ranges for oak and pine."""


@dataclass(frozen=True)
class Wood:
    """One wood at about 12 % moisture.

    Parameters
    ----------
    name : str
    gravity : float
        Specific gravity at 12 %.
    source : str
        Of the specific gravity.
    constants : (float, float, float), N/mm^1.5
        Edge and motion across the grain; motion along it; edge along it.
    measured : bool
        Whether the constants are published for this wood, not taken from its density.
    movement : (float, float) or None
        Change of size for each per cent of moisture from 6 to 14 %, radial and tangential, of the size at hand
        (Wood Handbook, eq. 13-2 and table 13-5).
    shrinkage : (float, float) or None
        From green to oven-dry, per cent, radial and tangential (Wood Handbook, table 4-3).
    moved : str
        Source of both.
    aliases : tuple of str
        What else it is called.
    """

    name: str
    gravity: float
    source: str
    constants: tuple[float, float, float]
    measured: bool
    movement: tuple[float, float] | None = None
    shrinkage: tuple[float, float] | None = None
    moved: str = ""
    aliases: tuple[str, ...] = ()

    @property
    def density(self) -> float:
        """kg/m3 at 12 % moisture."""
        return 1120 * self.gravity


def by_density(gravity: float) -> tuple[float, float, float]:
    """Return force constants in proportion to density, N/mm^1.5."""
    across, along, lying = (k * 1.12 * gravity for k in PER_DENSITY)
    return across, along, lying
